#include "formats/standard_json.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "formats/json_reader.hpp"

namespace glidewright {
namespace {

std::optional<Box> read_box(JsonFields& fields) {
  if (!fields.has("box")) {
    fields.add_problem(
        "box", "field 'box' is missing; expected low_ft and high_ft, or null where no limit was seen");
  }
  auto box_fields = fields.optional_object("box");
  if (!box_fields) return std::nullopt;
  Box box;
  box.low_ft = box_fields->number("low_ft", {-2000.0, 2000.0});
  box.high_ft = box_fields->number("high_ft", {-2000.0, 2000.0});
  if (box.high_ft <= box.low_ft) {
    box_fields->add_problem(
        "high_ft",
        fmt::format("box from {:.10g} to {:.10g} ft; expected the low end first", box.low_ft, box.high_ft));
  }
  box_fields->refuse_unknown_fields();
  return box;
}

/// A text that says something.
std::string said(JsonFields& fields, std::string_view name) {
  std::string text = fields.text(name);
  if (fields.has(name) && text.find_first_not_of(" \t\n") == std::string::npos)
    fields.add_problem(name, fmt::format("field '{}' is empty", name));
  return text;
}

/// A published standard has an edition; a house's own has a version and somebody who set it.
void read_whose(JsonFields& fields, Standard& standard) {
  const bool house = fields.has("set_by") || fields.has("version");
  if (!house) {
    standard.edition = said(fields, "edition");
    return;
  }
  standard.version = said(fields, "version");
  standard.set_by = said(fields, "set_by");
  if (fields.has("edition")) standard.edition = said(fields, "edition");
}

/// A limit that is known by hearsay says so; what was seen must stand there, in feet or in knots.
void read_limit_seen(JsonFields& fields, Standard& standard) {
  const bool stands_there = standard.box || standard.speed_over_kt || standard.speed_under_kt;
  if (!fields.has("limit_seen")) {
    standard.limit_seen = stands_there;
    return;
  }
  standard.limit_seen = fields.flag("limit_seen");
  if (standard.limit_seen && !stands_there)
    fields.add_problem(
        "limit_seen",
        "limit_seen is true, but box is null and no speed is limited; expected the limit, or false");
  if (!standard.limit_seen && standard.source_state == "read in source")
    fields.add_problem("limit_seen",
                       "limit_seen is false, but source_state says \"read in source\"; expected one of both");
}

Standard read_standard(JsonFields& fields) {
  Standard standard;
  fields.expect_schema("glidewright.standard/1");
  standard.name = said(fields, "name");
  standard.clause = said(fields, "clause");
  standard.source_state = said(fields, "source_state");
  read_whose(fields, standard);
  standard.box = read_box(fields);
  standard.speed_over_kt = fields.optional_number("speed_over_kt", {0.0, 50.0});
  standard.speed_under_kt = fields.optional_number("speed_under_kt", {0.0, 50.0});
  read_limit_seen(fields, standard);
  standard.power_off = fields.flag("power_off");
  standard.not_in_a_log = fields.texts("not_in_a_log");
  return standard;
}

}  // namespace

Result<Standard> read_standard_json(std::string_view bytes, std::string_view name) {
  auto standard = read_json_object(bytes, name, read_standard);
  if (standard) standard->id = file_stem(name);
  return standard;
}

std::string canonical_standard(std::string_view bytes) {
  return nlohmann::json::parse(bytes).dump();
}

}  // namespace glidewright
