#include "formats/json_reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <numeric>

#include "formats/shown.hpp"

namespace glidewright {
namespace {

std::string_view kind_in_words(JsonNode::Kind kind) {
  switch (kind) {
    case JsonNode::Kind::null:
      return "null";
    case JsonNode::Kind::boolean:
      return "true or false";
    case JsonNode::Kind::number:
      return "a number";
    case JsonNode::Kind::text:
      return "text";
    case JsonNode::Kind::list:
      return "a list";
    case JsonNode::Kind::object:
      break;
  }
  return "an object";
}

struct SpokenField {
  std::string words;
  std::string unit;  // with a blank before it, or empty
};

/// "elevation_ft" is said as "elevation" and "ft".
SpokenField spoken(std::string_view name) {
  constexpr std::array<std::string_view, 9> k_units = {"deg", "ft",      "kt",  "kcas", "lb",
                                                       "s",   "percent", "fpm", "c"};
  const auto last = name.rfind('_');
  SpokenField field;
  if (last != std::string_view::npos) {
    const auto unit = std::find(k_units.begin(), k_units.end(), name.substr(last + 1));
    if (unit != k_units.end()) {
      field.unit = fmt::format(" {}", *unit);
      name = name.substr(0, last);
    }
  }
  field.words = std::string(name);
  std::replace(field.words.begin(), field.words.end(), '_', ' ');
  return field;
}

/// How many single letters must change to make one name of the other.
std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 0; i < a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i + 1;
    for (std::size_t j = 0; j < b.size(); ++j) {
      const auto replaced = diagonal + (a[i] == b[j] ? 0 : 1);
      diagonal = row[j + 1];
      row[j + 1] = std::min({replaced, row[j] + 1, diagonal + 1});
    }
  }
  return row.back();
}

std::string nearest(std::string_view name, const std::vector<std::string>& known) {
  constexpr std::size_t k_longest_name = 60;
  if (name.size() > k_longest_name) return {};
  const auto near = std::min_element(known.begin(), known.end(), [&](const auto& a, const auto& b) {
    return edit_distance(name, a) < edit_distance(name, b);
  });
  return near != known.end() && edit_distance(name, *near) <= 3 ? *near : std::string();
}

}  // namespace

void JsonProblems::add(std::size_t line, std::string_view sentence) {
  if (first.empty()) first = fmt::format("{}:{}: {}", file, line, sentence);
}

JsonFields::JsonFields(const JsonNode& node, JsonProblems& problems) : node_(&node), problems_(&problems) {
  if (node.kind != JsonNode::Kind::object) {
    problems.add(node.line, fmt::format("{} stands here; expected an object", kind_in_words(node.kind)));
  }
}

const JsonNode* JsonFields::find(std::string_view name) {
  asked_.emplace_back(name);
  for (const auto& [other, node] : node_->members) {
    if (other == name) return &node;
  }
  return nullptr;
}

const JsonNode* JsonFields::require(std::string_view name) {
  const auto* node = find(name);
  if (node == nullptr) problems_->add(node_->line, fmt::format("field '{}' is missing", name));
  return node;
}

bool JsonFields::has(std::string_view name) const {
  return std::any_of(node_->members.begin(), node_->members.end(),
                     [&](const auto& member) { return member.name == name; });
}

bool JsonFields::is_kind(const JsonNode& node, std::string_view name, JsonNode::Kind kind) {
  if (node.kind == kind) return true;
  problems_->add(node.line,
                 fmt::format("'{}' is {}; expected {}", name, kind_in_words(node.kind), kind_in_words(kind)));
  return false;
}

double JsonFields::checked(const JsonNode& node, std::string_view name, JsonRange range) {
  if (!is_kind(node, name, JsonNode::Kind::number)) return range.low;
  if (node.number >= range.low && node.number <= range.high) return node.number;
  const auto field = spoken(name);
  problems_->add(node.line, fmt::format("{} {:.10g}{}; expected {:.10g} to {:.10g}", field.words, node.number,
                                        field.unit, range.low, range.high));
  return range.low;
}

double JsonFields::number(std::string_view name, JsonRange range) {
  const auto* node = require(name);
  return node == nullptr ? range.low : checked(*node, name, range);
}

std::optional<double> JsonFields::optional_number(std::string_view name, JsonRange range) {
  const auto* node = find(name);
  if (node == nullptr || node->kind == JsonNode::Kind::null) return std::nullopt;
  return checked(*node, name, range);
}

void JsonFields::replace_number(std::string_view name, JsonRange range, double& value) {
  if (const auto* node = find(name)) value = checked(*node, name, range);
}

void JsonFields::replace_flag(std::string_view name, bool& value) {
  const auto* node = find(name);
  if (node != nullptr && is_kind(*node, name, JsonNode::Kind::boolean)) value = node->boolean;
}

bool JsonFields::flag(std::string_view name) {
  const auto* node = require(name);
  return node != nullptr && is_kind(*node, name, JsonNode::Kind::boolean) && node->boolean;
}

std::string JsonFields::text(std::string_view name) {
  const auto* node = require(name);
  if (node == nullptr || !is_kind(*node, name, JsonNode::Kind::text)) return {};
  if (node->text.empty()) problems_->add(node->line, fmt::format("'{}' is empty; expected text", name));
  return node->text;
}

void JsonFields::replace_text(std::string_view name, std::string& value) {
  const auto* node = find(name);
  if (node != nullptr && is_kind(*node, name, JsonNode::Kind::text)) value = node->text;
}

std::vector<std::string> JsonFields::texts(std::string_view name) {
  std::vector<std::string> texts;
  const auto* node = require(name);
  if (node == nullptr || !is_kind(*node, name, JsonNode::Kind::list)) return texts;
  for (const auto& element : node->elements) {
    if (is_kind(element, name, JsonNode::Kind::text)) texts.push_back(element.text);
  }
  return texts;
}

std::optional<JsonFields> JsonFields::optional_object(std::string_view name) {
  const auto* node = find(name);
  if (node == nullptr || node->kind == JsonNode::Kind::null) return std::nullopt;
  if (!is_kind(*node, name, JsonNode::Kind::object)) return std::nullopt;
  return JsonFields(*node, *problems_);
}

std::optional<JsonFields> JsonFields::object(std::string_view name) {
  const auto* node = require(name);
  if (node == nullptr || !is_kind(*node, name, JsonNode::Kind::object)) return std::nullopt;
  return JsonFields(*node, *problems_);
}

std::vector<JsonFields> JsonFields::objects(std::string_view name) {
  std::vector<JsonFields> objects;
  const auto* node = require(name);
  if (node == nullptr || !is_kind(*node, name, JsonNode::Kind::list)) return objects;
  for (const auto& element : node->elements) objects.emplace_back(element, *problems_);
  return objects;
}

void JsonFields::expect_schema(std::string_view schema) {
  const auto* node = find("schema");
  if (node == nullptr || !is_kind(*node, "schema", JsonNode::Kind::text) || node->text == schema) return;
  problems_->add(node->line, fmt::format("schema '{}'; expected '{}'", shown(node->text), schema));
}

void JsonFields::refuse_unknown_fields() {
  for (const auto& [name, node] : node_->members) {
    if (std::find(asked_.begin(), asked_.end(), name) != asked_.end()) continue;
    const auto near = nearest(name, asked_);
    problems_->add(node.line, fmt::format("unknown field '{}'{}", shown(name),
                                          near.empty() ? "" : fmt::format("; did you mean '{}'?", near)));
  }
}

void JsonFields::add_problem(std::string_view name, std::string_view sentence) {
  const auto* node = find(name);
  problems_->add(node == nullptr ? node_->line : node->line, sentence);
}

std::string file_stem(std::string_view path) {
  path = path.substr(path.rfind('/') + 1);  // npos + 1 is 0
  return std::string(path.substr(0, path.rfind('.')));
}

}  // namespace glidewright
