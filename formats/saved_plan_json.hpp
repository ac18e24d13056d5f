#pragma once
// A plan that was saved (`glidewright.brief/1`), as far as a debrief measures against it.

#include <optional>
#include <string>
#include <string_view>

#include "engine/debrief/debrief.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// The plan, and what it was made for: a debrief takes from it what nobody says otherwise.
struct SavedPlanFile {
  SavedPlan plan;
  Runway runway;
  double touchdown_point_ft = 1000.0;
  std::string airplane_id;
  double weight_lb = 0.0;
  double temperature_c = 15.0;
  double altimeter_hpa = 1013.25;
  std::string standard_id;
};

/// What is wrong otherwise: no brief, one without a cue, or of an older program that kept no technique.
Result<SavedPlanFile> read_saved_plan_json(std::string_view bytes, std::string_view name);

}  // namespace glidewright
