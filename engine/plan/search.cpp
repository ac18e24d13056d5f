#include "engine/plan/search.hpp"

#include <algorithm>
#include <cmath>

#include "engine/batch/batch.hpp"

namespace glidewright {
namespace {

// Touchdown moves by less than 2 ft against the 0.02 s reference, far below the scatter that is averaged
// over.
constexpr IntegratorSettings k_many_flights{0.2, Trace::none, Watch::touchdown_only};
constexpr double k_latest_cue_s = 60.0;
constexpr double k_scan_step_s = 1.0;

double nominal_touchdown_ft(const PlanRequest& request, double cue_s) {
  Technique technique = without_rules(request.technique);
  technique.base_turn_s_after_abeam = cue_s;
  const Approach flown = fly(request.airplane, request.conditions, technique, {}, k_many_flights);
  return flown.touchdown && flown.end == ApproachEnd::touchdown ? flown.touchdown->along_ft : -1e6;
}

/// The same at every second up to the latest cue, by the batch: within 3 ft of the reference, a twentieth of
/// its time. Where it does not touch down on the runway's line: far short.
std::vector<double> nominal_touchdowns_ft(const PlanRequest& request) {
  BatchRequest batch;
  batch.airplane = &request.airplane;
  batch.conditions = request.conditions;
  batch.technique = without_rules(request.technique);
  for (double cue_s = 0.0; cue_s <= k_latest_cue_s; cue_s += k_scan_step_s) batch.cues_s.push_back(cue_s);
  batch.scatter = {};
  batch.scatter.turbulence = 0.0;
  batch.deviations = {Deviation{}};
  batch.count = 1;
  std::vector<double> touchdowns;
  for (const FlownOnce& flown : fly_batch(batch))
    touchdowns.push_back(flown.aligned ? flown.touchdown_ft : k_never_down_ft);
  return touchdowns;
}

/// Cue between two neighbours of the scan, by halving where the touchdown passes the planned place between
/// them.
double refined(const PlanRequest& request, double early_s, double late_s, double planned_ft) {
  const bool early_is_long = nominal_touchdown_ft(request, early_s) > planned_ft;
  while (late_s - early_s > 0.05) {
    const double middle = 0.5 * (early_s + late_s);
    ((nominal_touchdown_ft(request, middle) > planned_ft) == early_is_long ? early_s : late_s) = middle;
  }
  return 0.5 * (early_s + late_s);
}

}  // namespace

std::vector<FlownOnce> fly_over_spread(const PlanRequest& request, double cue_s, int first, int count,
                                       const ShareOut& share_out) {
  BatchRequest batch;
  batch.airplane = &request.airplane;
  batch.conditions = request.conditions;
  batch.technique = request.technique;
  batch.cues_s = {cue_s};
  batch.scatter = request.scatter;
  batch.seed = request.seed;
  batch.first = first;
  batch.count = count;
  return fly_batch(batch, share_out);
}

bool in_box(const FlownOnce& flown, Box box) {
  return flown.stable && flown.aligned && flown.touchdown_ft >= box.low_ft &&
         flown.touchdown_ft <= box.high_ft;
}

int count_in_box(const std::vector<FlownOnce>& flights, Box box) {
  return static_cast<int>(
      std::count_if(flights.begin(), flights.end(), [&](const FlownOnce& f) { return in_box(f, box); }));
}

bool landed_short(const FlownOnce& flown, double threshold_along_ft) {
  return !flown.aligned || flown.touchdown_ft < threshold_along_ft;
}

double share_short(const std::vector<FlownOnce>& flights, double threshold_along_ft) {
  const auto n = std::count_if(flights.begin(), flights.end(),
                               [&](const FlownOnce& f) { return landed_short(f, threshold_along_ft); });
  return static_cast<double>(n) / static_cast<double>(flights.size());
}

Approach fly_nominal(const PlanRequest& request, double cue_s, Trace trace) {
  Technique technique = without_rules(request.technique);
  technique.base_turn_s_after_abeam = cue_s;
  return fly(request.airplane, request.conditions, technique, {}, {request.nominal_step_s, trace});
}

Approach fly_nominal_with_rules(const PlanRequest& request, double cue_s, Trace trace) {
  Technique technique = request.technique;
  technique.go_around_when_unstable = false;
  technique.base_turn_s_after_abeam = cue_s;
  return fly(request.airplane, request.conditions, technique, {}, {request.nominal_step_s, trace});
}

CueFound search_cue(const PlanRequest& request) {
  const double planned_ft = request.technique.planned_touchdown_ft;
  const std::vector<double> touchdowns = nominal_touchdowns_ft(request);
  std::vector<double> candidates;
  CueFound found;
  found.always_short = touchdowns.front() < planned_ft;
  found.always_long = touchdowns.front() >= planned_ft;
  for (std::size_t i = 1; i < touchdowns.size(); ++i) {
    const double before = touchdowns[i - 1], after = touchdowns[i];
    if ((before > planned_ft) == (after > planned_ft) || std::abs(before - after) >= 1000.0) continue;
    const double cue_s = k_scan_step_s * static_cast<double>(i);
    candidates.push_back(refined(request, cue_s - k_scan_step_s, cue_s, planned_ft));
  }
  constexpr int flights_to_choose = 200;
  int most = -1;
  for (const double cue : candidates) {
    const int in_box = candidates.size() == 1
                           ? 0
                           : count_in_box(fly_over_spread(request, cue, 0, flights_to_choose), request.box);
    if (in_box > most) {
      most = in_box;
      found = {cue, true, false, false};
    }
  }
  return found;
}

}  // namespace glidewright
