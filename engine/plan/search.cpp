#include "engine/plan/search.hpp"

#include <algorithm>
#include <cmath>

#include "engine/plan/draws.hpp"

namespace glidewright {
namespace {

// Touchdown moves by less than 2 ft against the 0.02 s reference, far below the scatter that is averaged
// over.
constexpr IntegratorSettings k_many_flights{0.2, Trace::none};
constexpr double k_latest_cue_s = 60.0;
constexpr double k_most_short = 0.005;

double nominal_touchdown_ft(const PlanRequest& request, double cue_s) {
  Technique technique = request.technique;
  technique.base_turn_s_after_abeam = cue_s;
  technique.go_around_when_unstable = false;
  const Approach flown = fly(request.airplane, request.conditions, technique, {}, k_many_flights);
  return flown.touchdown && flown.end == ApproachEnd::touchdown ? flown.touchdown->along_ft : -1e6;
}

struct Scored {
  double cue_s;
  int in_box;
  double short_of_runway;
};

/// More in the box is better; among cues that keep the bound on landing short, and else the least short.
bool better(const Scored& a, const Scored& b) {
  const bool a_holds = a.short_of_runway <= k_most_short, b_holds = b.short_of_runway <= k_most_short;
  if (a_holds != b_holds) return a_holds;
  if (!a_holds && a.short_of_runway != b.short_of_runway) return a.short_of_runway < b.short_of_runway;
  if (a.in_box != b.in_box) return a.in_box > b.in_box;
  return a.cue_s < b.cue_s;  // early: what is too high can still be lost
}

Scored best_of(const PlanRequest& request, double from_s, double to_s, double step_s, int flights) {
  Scored best{from_s, -1, 2.0};
  for (double cue = std::max(0.0, from_s); cue <= to_s + 1e-9; cue += step_s) {
    const auto flown = fly_over_spread(request, cue, 0, flights);
    const Scored scored{cue, count_in_box(flown, request.box),
                        share_short(flown, request.threshold_along_ft)};
    if (best.in_box < 0 || better(scored, best)) best = scored;
  }
  return best;
}

}  // namespace

std::vector<FlownOnce> fly_over_spread(const PlanRequest& request, double cue_s, int first, int count) {
  Technique technique = request.technique;
  technique.base_turn_s_after_abeam = cue_s;
  technique.go_around_when_unstable = false;
  std::vector<FlownOnce> flights;
  flights.reserve(static_cast<std::size_t>(count));
  for (int i = first; i < first + count; ++i) {
    const Deviation deviation = draw_deviation(request.scatter, request.conditions.wind.gust.value,
                                               request.seed, static_cast<std::uint64_t>(i));
    const Approach flown = fly(request.airplane, request.conditions, technique, deviation, k_many_flights);
    FlownOnce once;
    once.touchdown_ft = flown.touchdown ? flown.touchdown->along_ft : -1e6;
    once.stable = flown.stable_at_gate;
    once.aligned = flown.end == ApproachEnd::touchdown;
    once.base_turn_height_ft = flown.base_turn.height_ft;
    once.mid_base_height_ft = flown.mid_base ? flown.mid_base->height_ft : 0.0;
    once.final_turn_height_ft = flown.final_turn ? flown.final_turn->height_ft : 0.0;
    once.half_mile_height_ft = flown.half_mile_final ? flown.half_mile_final->height_ft : 0.0;
    once.gate_along_ft = flown.gate ? flown.gate->along_ft : 0.0;
    flights.push_back(once);
  }
  return flights;
}

int count_in_box(const std::vector<FlownOnce>& flights, Box box) {
  return static_cast<int>(std::count_if(flights.begin(), flights.end(), [&](const FlownOnce& f) {
    return f.stable && f.aligned && f.touchdown_ft >= box.low_ft && f.touchdown_ft <= box.high_ft;
  }));
}

double share_short(const std::vector<FlownOnce>& flights, double threshold_along_ft) {
  // What is unstable at the gate goes around in earnest, but the bound holds with the go-around disabled.
  const auto n = std::count_if(flights.begin(), flights.end(), [&](const FlownOnce& f) {
    return !f.aligned || f.touchdown_ft < threshold_along_ft;
  });
  return static_cast<double>(n) / static_cast<double>(flights.size());
}

Approach fly_nominal(const PlanRequest& request, double cue_s, Trace trace) {
  Technique technique = request.technique;
  technique.base_turn_s_after_abeam = cue_s;
  technique.go_around_when_unstable = false;
  return fly(request.airplane, request.conditions, technique, {}, {0.02, trace});
}

CueFound search_cue(const PlanRequest& request) {
  // First without scatter: which cues bring the touchdown near the box at all?
  constexpr double scan_step_s = 1.0, near_ft = 500.0;
  const double middle_ft = 0.5 * (request.box.low_ft + request.box.high_ft);
  double first_near = -1.0, last_near = -1.0, longest = -1e9, shortest = 1e9;
  for (double cue = 0.0; cue <= k_latest_cue_s; cue += scan_step_s) {
    const double touchdown = nominal_touchdown_ft(request, cue);
    longest = std::max(longest, touchdown);
    shortest = std::min(shortest, touchdown);
    if (std::abs(touchdown - middle_ft) <= near_ft) {
      if (first_near < 0.0) first_near = cue;
      last_near = cue;
    }
    if (touchdown < request.box.low_ft - 3000.0) break;
  }
  CueFound found;
  if (first_near < 0.0) {
    found.always_short = longest < middle_ft;
    found.always_long = shortest > middle_ft;
    return found;
  }
  // Then over the spread, coarse to fine, with the same luck for every cue.
  const Scored coarse = best_of(request, first_near - 2.0, last_near + 2.0, 1.0, 100);
  const Scored fine = best_of(request, coarse.cue_s - 1.0, coarse.cue_s + 1.0, 0.5, 300);
  found.cue_s = fine.cue_s;
  found.found = fine.short_of_runway <= k_most_short && fine.in_box > 0;
  found.always_short = !found.found;
  return found;
}

}  // namespace glidewright
