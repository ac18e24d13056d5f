#pragma once
// The plan of the day as JSON: `glidewright.brief/1`, docs/schema/brief.json.

#include <optional>
#include <string>

#include "engine/plan/dry_run.hpp"
#include "engine/plan/plan.hpp"
#include "engine/reach/plan_band.hpp"
#include "formats/json_write.hpp"

namespace glidewright {

/// A landing flown before, and what it changed in the plan.
struct DryRunBrief {
  std::string source;  ///< "as told", or the file of the log and the attempt in it
  DryRun flown;
  DryRunCorrection correction;
  std::optional<double> cue_before_s;  ///< the plan's before it, where there was one; after it, see the plan
};

/// What was asked, in what air, and what came out.
struct Brief {
  Runway runway;
  Feet touchdown_point{1000.0};
  double temperature_c = 15.0;
  double altimeter_hpa = 1013.25;
  std::string standard_id;
  std::string standard_name;
  PlanRequest request;  ///< as corrected by the dry run
  PlanAnswer answer;
  std::optional<DryRunBrief> dry_run;
  std::optional<PlanBand> band;  ///< round the planned approach; none without a plan
};

/// The band's room at a place of the plan; none where nothing holds in nine of ten winds.
std::optional<Room> sure_room_at(const Brief& brief, const std::string& at);

/// One object. Without a plan cue, speeds and success are null, the lists are empty and "refusals" says why.
Json brief_to_json(const Brief& brief);

}  // namespace glidewright
