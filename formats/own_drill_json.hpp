#pragma once
// A drill from somebody's own flights, `glidewright.own-drill/1` (docs/schema/own-drill.json).

#include <map>
#include <string>
#include <vector>

#include "engine/drill/own_flight.hpp"
#include "formats/drill_json.hpp"

namespace glidewright {

/// The runway that a picture lies on, in its frame.
struct OwnGround {
  std::string designator;
  double runway_true_deg = 0.0;
  Traffic traffic = Traffic::left;
  Box box;
  double threshold_along_ft = -1000.0;
  double runway_end_along_ft = 4000.0;
};
/// The same where a drill's picture asks for a plan: it has nothing else of one.
PlanRequest plan_of(const OwnGround& ground);

struct OwnAsked {
  long long attempt = 0;  ///< its number in the records
  double time_unix_s = 0.0;
  std::string log_name;
  int index = 0;        ///< in its log
  std::string setting;  ///< in words: runway, wind, airplane
  OwnGround ground;
  OwnMoment own;
};

struct OwnDrill {
  std::uint64_t seed = 1;
  std::vector<OwnAsked> asked;
  std::map<std::string, int> left_out;  ///< how many attempts for which reason
};

KeptAnswer kept_own_answer(const OwnAsked& asked, Energy said, Sureness sureness,
                           const std::optional<RunwayPoint>& mark, double time_unix_s);

/// With what was answered so far, and what that says of an eye as time goes by.
Json own_drill_to_json(const OwnDrill& drill, const std::vector<KeptAnswer>& answers);

}  // namespace glidewright
