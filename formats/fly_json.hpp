#pragma once
// One approach flown by the model as JSON: `glidewright.fly/1`, docs/schema/fly.json.

#include <string>
#include <vector>

#include "engine/technique/approach.hpp"
#include "formats/json_write.hpp"

namespace glidewright {

struct FlownApproach {
  Runway runway;
  Feet touchdown_point{1000.0};
  Airplane airplane;
  Conditions conditions;
  Technique technique;
  Approach approach;
  std::vector<std::string> assumed;
  std::vector<std::string> cautions;
};

Json moment_to_json(const Moment& moment);

/// One object; "trace" stands in it where the approach has one.
Json fly_to_json(const FlownApproach& flown);

}  // namespace glidewright
