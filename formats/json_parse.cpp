// JSON bytes to nodes that know their line.

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <nlohmann/json.hpp>

#include "formats/json_reader.hpp"
#include "formats/lines.hpp"
#include "formats/shown.hpp"

namespace glidewright {
namespace {

constexpr std::size_t k_depth_limit = 64;
constexpr std::size_t k_fields_allowed = 1000;

/// Walks over the bytes and tells how far the parser has read: the library's events carry no place.
class CountingIterator {
 public:
  using iterator_category = std::input_iterator_tag;
  using value_type = char;
  using difference_type = std::ptrdiff_t;
  using pointer = const char*;
  using reference = const char&;

  CountingIterator(const char* at, const char** furthest) : at_(at), furthest_(furthest) {}
  reference operator*() const { return *at_; }
  CountingIterator& operator++() {
    ++at_;
    *furthest_ = at_;
    return *this;
  }
  CountingIterator operator++(int) {
    auto before = *this;
    ++*this;
    return before;
  }
  friend bool operator==(const CountingIterator& a, const CountingIterator& b) { return a.at_ == b.at_; }

 private:
  const char* at_;
  const char** furthest_;
};

/// Builds the nodes from the library's events.
class NodeBuilder : public nlohmann::json_sax<nlohmann::json> {
 public:
  NodeBuilder(std::string_view bytes, const char** furthest) : bytes_(bytes), furthest_(furthest) {}

  bool null() override { return add(JsonNode::Kind::null) != nullptr; }
  bool boolean(bool value) override {
    auto* node = add(JsonNode::Kind::boolean);
    node->boolean = value;
    return true;
  }
  bool number_integer(number_integer_t value) override { return add_number(static_cast<double>(value)); }
  bool number_unsigned(number_unsigned_t value) override { return add_number(static_cast<double>(value)); }
  bool number_float(number_float_t value, const string_t&) override { return add_number(value); }
  bool string(string_t& value) override {
    add(JsonNode::Kind::text)->text = std::move(value);
    return true;
  }
  bool binary(binary_t&) override { return false; }

  bool start_object(std::size_t) override { return open(JsonNode::Kind::object); }
  bool start_array(std::size_t) override { return open(JsonNode::Kind::list); }
  bool end_object() override { return close(); }
  bool end_array() override { return close(); }
  bool key(string_t& name) override {
    // The search for a twin is linear; no file of ours has more fields than one can read.
    if (open_.back()->members.size() >= k_fields_allowed) {
      return fail(fmt::format("more than {} fields in one object", k_fields_allowed));
    }
    for (const auto& [other, node] : open_.back()->members) {
      if (other == name) return fail(fmt::format("field '{}' stands twice", shown(name)));
    }
    name_ = std::move(name);
    return true;
  }
  bool parse_error(std::size_t, const std::string& last_token, const nlohmann::detail::exception&) override {
    const bool at_end = *furthest_ == bytes_.data() + bytes_.size() && !bytes_.empty();
    if (bytes_.empty()) return fail("the file is empty; expected JSON");
    return fail(at_end && open_.size() > 0 ? std::string("the file ends inside the JSON")
                                           : fmt::format("not valid JSON at '{}'", shown(last_token)));
  }

  JsonNode take_root() { return std::move(root_); }
  const std::string& problem() const { return problem_; }
  std::size_t problem_line() const { return problem_line_; }

 private:
  /// The parser may have read one byte past a number, and that may be the line end.
  std::size_t line() {
    const auto read = static_cast<std::size_t>(*furthest_ - bytes_.data());
    const auto offset = read == 0 ? 0 : read - 1;
    line_ += line_at(bytes_.substr(line_offset_), offset - line_offset_) - 1;
    line_offset_ = offset;
    return line_;
  }

  bool fail(std::string sentence) {
    if (problem_.empty()) {
      problem_ = std::move(sentence);
      problem_line_ = line();
    }
    return false;
  }

  JsonNode* add(JsonNode::Kind kind) {
    JsonNode node;
    node.kind = kind;
    node.line = line();
    if (open_.empty()) {
      root_ = std::move(node);
      return &root_;
    }
    auto& parent = *open_.back();
    if (parent.kind == JsonNode::Kind::object) {
      parent.members.push_back({std::move(name_), std::move(node)});
      return &parent.members.back().node;
    }
    parent.elements.push_back(std::move(node));
    return &parent.elements.back();
  }

  bool add_number(double value) {
    add(JsonNode::Kind::number)->number = value;
    return true;
  }

  // An open node is the last child of its parent, and the parent does not grow before it closes: the pointers
  // hold.
  bool open(JsonNode::Kind kind) {
    if (open_.size() >= k_depth_limit) return fail(fmt::format("nested deeper than {}", k_depth_limit));
    open_.push_back(add(kind));
    return true;
  }

  bool close() {
    open_.pop_back();
    return true;
  }

  std::string_view bytes_;
  const char** furthest_;
  JsonNode root_;
  std::vector<JsonNode*> open_;
  std::string name_;
  std::size_t line_ = 1;
  std::size_t line_offset_ = 0;
  std::string problem_;
  std::size_t problem_line_ = 1;
};

}  // namespace

Result<JsonNode> parse_json(std::string_view bytes, std::string_view name) {
  const char* furthest = bytes.data();
  NodeBuilder builder(bytes, &furthest);
  const CountingIterator first(bytes.data(), &furthest);
  const CountingIterator last(bytes.data() + bytes.size(), &furthest);
  if (nlohmann::json::sax_parse(first, last, &builder)) return builder.take_root();
  return Error{fmt::format("{}:{}: {}", name, builder.problem_line(), builder.problem())};
}

}  // namespace glidewright
