#pragma once
// The band as JSON: `glidewright.band/1`, docs/schema/band.json, and the part of it that a debrief holds.

#include "engine/reach/plan_band.hpp"
#include "formats/brief_json.hpp"
#include "formats/json_write.hpp"

namespace glidewright {

/// The band round the planned approach, or round the one with the technique's own cue where none is offered.
struct BandOfPlan {
  Brief brief;  ///< what was asked; its answer may be empty
  PlanBand band;
  double cue_s = 0.0;
  bool planned = true;  ///< false: no plan is offered, the technique's cue was flown
};
Json band_to_json(const BandOfPlan& asked);

/// The heights that limit what is in reach at one place.
Json edges_to_json(const Room& room);

/// Places and last chances, "time_s" counted from abeam.
Json band_along_to_json(const BandAlong& along, double every_s);

}  // namespace glidewright
