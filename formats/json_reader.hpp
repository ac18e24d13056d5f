#pragma once
// JSON files with sentences that name the line and the field.

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "formats/result.hpp"

namespace glidewright {

struct JsonMember;

/// One JSON value and the line on which it stands.
struct JsonNode {
  enum class Kind { null, boolean, number, text, list, object };

  Kind kind = Kind::null;
  std::size_t line = 1;
  bool boolean = false;
  double number = 0.0;
  std::string text;
  std::vector<JsonNode> elements;
  std::vector<JsonMember> members;  ///< in written order, names unique
};

struct JsonMember {
  std::string name;
  JsonNode node;
};

/// Parses a whole document: one value, nested at most 64 deep, no name twice in an object.
Result<JsonNode> parse_json(std::string_view bytes, std::string_view name);

/// What a number may be; both ends allowed.
struct JsonRange {
  double low;
  double high;
};

/// Where the sentences of one document go; the first is kept.
struct JsonProblems {
  std::string file;
  std::string first;

  void add(std::size_t line, std::string_view sentence);
};

/// The fields of one object, asked for by name.
///
/// What is missing, of a wrong kind or out of range goes to the problems, and the default comes back; so a
/// reader asks for everything and looks at the problems once. Fields nobody asked for are unknown fields.
/// Units at the end of a name ("_ft", "_kt") are said as units: "elevation 99999 ft; expected -1500 to
/// 20000".
class JsonFields {
 public:
  JsonFields(const JsonNode& node, JsonProblems& problems);

  double number(std::string_view name, JsonRange range);
  std::optional<double> optional_number(std::string_view name, JsonRange range);
  /// Leaves `value` alone where the field is missing.
  void replace_number(std::string_view name, JsonRange range, double& value);
  void replace_flag(std::string_view name, bool& value);
  bool flag(std::string_view name);
  std::string text(std::string_view name);
  void replace_text(std::string_view name, std::string& value);
  std::vector<std::string> texts(std::string_view name);

  /// Fields of an object inside; none where it is missing or null.
  std::optional<JsonFields> optional_object(std::string_view name);
  /// The same, and a problem where it is missing or null.
  std::optional<JsonFields> object(std::string_view name);
  /// One each of a list of objects.
  std::vector<JsonFields> objects(std::string_view name);
  bool has(std::string_view name) const;

  /// "schema" may be left out; where it stands it must be this.
  void expect_schema(std::string_view schema);
  /// Call last: a field that was not asked for becomes a problem, with the nearest known name.
  void refuse_unknown_fields();
  void add_problem(std::string_view name, std::string_view sentence);

 private:
  const JsonNode* find(std::string_view name);
  const JsonNode* require(std::string_view name);
  bool is_kind(const JsonNode& node, std::string_view name, JsonNode::Kind kind);
  double checked(const JsonNode& node, std::string_view name, JsonRange range);

  const JsonNode* node_;
  JsonProblems* problems_;
  std::vector<std::string> asked_;
};

/// Parses a document whose root is an object and hands its fields to `read`, which returns the value.
template <class Read>
auto read_json_object(std::string_view bytes, std::string_view name, Read read)
    -> Result<decltype(read(std::declval<JsonFields&>()))> {
  const auto document = parse_json(bytes, name);
  if (!document) return document.error();
  JsonProblems problems{std::string(name), {}};
  JsonFields fields(*document, problems);
  auto value = read(fields);
  fields.refuse_unknown_fields();
  if (!problems.first.empty()) return Error{problems.first};
  return value;
}

/// File name without folder and ending: "data/airplanes/demo-trainer.json" is "demo-trainer".
std::string file_stem(std::string_view path);

}  // namespace glidewright
