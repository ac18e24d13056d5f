#include "formats/saved_plan_json.hpp"

#include <fmt/format.h>

#include <cmath>

#include "formats/json_reader.hpp"
#include "formats/runway_json.hpp"
#include "formats/technique_json.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

// Fields that a debrief does not need are left alone: it is read by this program, not by hand.

void read_runway(JsonFields& fields, SavedPlanFile& file) {
  auto inside = fields.object("runway");
  if (!inside) return;
  if (inside->has("airfield")) inside->replace_text("airfield", file.runway.airfield);
  if (inside->has("designator")) inside->replace_text("designator", file.runway.designator);
  file.runway.threshold = {inside->number("threshold_latitude_deg", {-90.0, 90.0}),
                           inside->number("threshold_longitude_deg", {-180.0, 180.0})};
  file.runway.true_bearing = Degrees{inside->number("true_bearing_deg", {0.0, 360.0})};
  file.runway.elevation = Feet{inside->number("elevation_ft", {-1500.0, 20000.0})};
  file.runway.length = Feet{inside->number("length_ft", {200.0, 30000.0})};
  file.touchdown_point_ft = inside->number("touchdown_point_ft", {0.0, 10000.0});
  double position_sd_ft = file.runway.position_sd.value;
  inside->replace_number("position_sd_ft", {0.0, 5000.0}, position_sd_ft);
  file.runway.position_sd = Feet{position_sd_ft};
  file.runway.obstacles = read_obstacles(*inside);
}

void read_air(JsonFields& fields, SavedPlanFile& file) {
  if (auto wind = fields.object("wind")) {
    file.plan.wind.at_10m = {Degrees{wind->number("from_true_deg", {0.0, 360.0})},
                             Knots{wind->number("speed_kt", {0.0, 100.0})}};
    file.plan.wind.gust = Knots{wind->number("gust_kt", {0.0, 100.0})};
  }
  if (auto air = fields.object("air")) {
    file.temperature_c = air->number("temperature_c", {-60.0, 60.0});
    file.altimeter_hpa = air->number("altimeter_hpa", {800.0, 1100.0});
  }
}

std::string words_of(const SavedPlan& plan) {
  return fmt::format("base turn {:.0f} s past abeam in {}, from {} ft at {:.2f} NM", plan.cue_s,
                     wind_words(plan.wind), feet(plan.technique.pattern_height_ft),
                     to_nautical_miles(Feet{plan.technique.spacing_ft}).value);
}

}  // namespace

Result<SavedPlanFile> read_saved_plan_json(std::string_view bytes, std::string_view name) {
  const auto document = parse_json(bytes, name);
  if (!document) return document.error();
  JsonProblems problems{std::string(name), {}};
  JsonFields fields(*document, problems);
  if (!fields.has("schema") || fields.text("schema") != "glidewright.brief/1")
    return Error{fmt::format("{}: no saved plan; expected what brief --json prints", name)};
  SavedPlanFile file;
  auto technique = fields.optional_object("technique");
  if (!technique) {
    return Error{fmt::format("{}: {}", name,
                             fields.optional_object("cue")
                                 ? "an older program made this plan and kept no technique; make it again"
                                 : "this plan offers no cue, so nothing can be measured against it")};
  }
  file.plan.technique = read_technique(*technique);
  file.plan.cue_s = file.plan.technique.base_turn_s_after_abeam;
  read_runway(fields, file);
  read_air(fields, file);
  if (auto airplane = fields.object("airplane")) {
    file.airplane_id = airplane->text("id");
    file.weight_lb = airplane->number("weight_lb", {400.0, 12500.0});
  }
  file.standard_id = fields.text("standard");
  if (!problems.first.empty()) return Error{problems.first};
  file.plan.words = words_of(file.plan);
  return file;
}

}  // namespace glidewright
