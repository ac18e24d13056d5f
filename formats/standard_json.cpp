#include "formats/standard_json.hpp"

#include <fmt/format.h>

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

Standard read_standard(JsonFields& fields) {
  Standard standard;
  fields.expect_schema("glidewright.standard/1");
  standard.name = fields.text("name");
  standard.edition = fields.text("edition");
  standard.clause = fields.text("clause");
  standard.source_state = fields.text("source_state");
  standard.box = read_box(fields);
  standard.speed_over_kt = fields.optional_number("speed_over_kt", {0.0, 50.0});
  standard.speed_under_kt = fields.optional_number("speed_under_kt", {0.0, 50.0});
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

}  // namespace glidewright
