#pragma once
// The plan of the day as JSON: `glidewright.brief/1`, docs/schema/brief.json.

#include <string>

#include "engine/plan/plan.hpp"
#include "formats/json_write.hpp"

namespace glidewright {

/// What was asked, in what air, and what came out.
struct Brief {
  Runway runway;
  Feet touchdown_point{1000.0};
  double temperature_c = 15.0;
  double altimeter_hpa = 1013.25;
  std::string standard_id;
  std::string standard_name;
  PlanRequest request;
  PlanAnswer answer;
};

/// One object. Without a plan cue, speeds and success are null, the lists are empty and "refusals" says why.
Json brief_to_json(const Brief& brief);

}  // namespace glidewright
