#include "engine/debrief/marks.hpp"

#include <algorithm>
#include <cmath>

#include "engine/units/normal.hpp"
#include "engine/units/words.hpp"

namespace glidewright {
namespace {

std::vector<WeightedPlace> normal_places(double mean_ft, double sd_ft) {
  constexpr int cells = 120;
  constexpr double reach = 4.0;
  std::vector<WeightedPlace> places;
  for (int i = 0; i < cells; ++i) {
    const double from = reach * (2.0 * i / cells - 1.0), to = reach * (2.0 * (i + 1) / cells - 1.0);
    const double weight = (normal_below(to) - normal_below(from)) / (2.0 * normal_below(reach) - 1.0);
    places.push_back({mean_ft + sd_ft * 0.5 * (from + to), weight});
  }
  return places;
}

}  // namespace

const AttemptMarks* marks_of(const std::vector<AttemptMarks>& marks, int attempt) {
  const auto found = std::find_if(marks.begin(), marks.end(),
                                  [&](const AttemptMarks& one) { return one.attempt == attempt; });
  return found == marks.end() ? nullptr : &*found;
}

std::optional<double> time_of(const MarkedMoment& moment, const Attempt& attempt) {
  if (moment.time_unix_s) return moment.time_unix_s;
  if (!attempt.abeam) return std::nullopt;
  return attempt.abeam->time_unix_s + moment.after_abeam_s;
}

Touchdown touchdown_seen(const SeenPlace& seen, const Touchdown& from_log, const SmoothTrack& track) {
  constexpr double two_sided_95 = 1.96;
  Touchdown touchdown = from_log;
  const double speed_fps = std::max(30.0, from_log.groundspeed_kt * k_fps_per_knot);
  touchdown.along_ft = seen.along_ft;
  touchdown.low95_ft = seen.along_ft - two_sided_95 * seen.sd_ft;
  touchdown.high95_ft = seen.along_ft + two_sided_95 * seen.sd_ft;
  touchdown.time_unix_s += (seen.along_ft - from_log.along_ft) / speed_fps;
  // What the log's own doubt had put into its place and speed, the seen place takes out: the track tells when
  // it was passed. Only nearby; a place that the track does not pass soon is a disagreement, which is said
  // elsewhere.
  double passed_s = touchdown.time_unix_s;
  for (int round = 0; round < 3; ++round) {
    const TrackState state = track.at(passed_s);
    passed_s += (seen.along_ft - state.along_ft) / std::max(30.0, state.along_fps);
  }
  const TrackState there = track.at(passed_s);
  constexpr double nearby_s = 4.0, nearby_ft = 5.0;
  if (std::abs(passed_s - touchdown.time_unix_s) <= nearby_s &&
      std::abs(there.along_ft - seen.along_ft) <= nearby_ft && there.along_fps > 30.0) {
    touchdown.time_unix_s = passed_s;
    touchdown.groundspeed_kt = there.along_fps / k_fps_per_knot;
  }
  touchdown.time_sd_s = std::min(from_log.time_sd_s, seen.sd_ft / speed_fps);
  touchdown.distribution = normal_places(seen.along_ft, seen.sd_ft);
  touchdown.basis = words("Seen, within %.0f ft.", two_sided_95 * seen.sd_ft);
  return touchdown;
}

std::string disagreement(const SeenPlace& seen, const Touchdown& from_log) {
  constexpr double not_by_chance = 3.3;  // one in a thousand, two-sided
  const double together_ft = std::hypot(seen.sd_ft, from_log.along_sd_ft());
  if (std::abs(seen.along_ft - from_log.along_ft) <= not_by_chance * together_ft) return {};
  return words(
      "Seen at %+.0f ft, but the log has it between %+.0f and %+.0f ft: is it this attempt, and this mark on "
      "the "
      "runway?",
      seen.along_ft, from_log.low95_ft, from_log.high95_ft);
}

std::vector<FlapStep> flaps_as_marked(const std::vector<MarkedFlap>& flaps, const Attempt& attempt,
                                      const SmoothTrack& track) {
  std::vector<FlapStep> steps;
  for (const MarkedFlap& flap : flaps) {
    const auto time = time_of(flap.at, attempt);
    if (!time) continue;
    steps.push_back({flap.setting_deg, FlapStep::When::at_height, track.at(*time).height_ft, false});
  }
  return steps;
}

double flap_marked_deg(const std::vector<MarkedFlap>& flaps, const Attempt& attempt, double time_unix_s) {
  double flap_deg = 0.0;
  for (const MarkedFlap& flap : flaps) {
    const auto moved = time_of(flap.at, attempt);
    if (moved && *moved <= time_unix_s) flap_deg = flap.setting_deg;
  }
  return flap_deg;
}

std::optional<SlipStep> slips_as_one(const std::vector<SlipSpan>& slips, const SmoothTrack& track) {
  std::optional<SlipStep> all;
  for (const SlipSpan& slip : slips) {
    const double in_ft = track.at(slip.from_unix_s).height_ft;
    if (!all) all = SlipStep{in_ft, in_ft};
    all->out_height_ft -= std::max(0.0, in_ft - track.at(slip.to_unix_s).height_ft);
  }
  return all;
}

std::optional<SlipStep> slip_as_marked(const std::vector<MarkedSlip>& slips, const Attempt& attempt,
                                       const SmoothTrack& track) {
  std::vector<SlipSpan> spans;
  for (const MarkedSlip& slip : slips) {
    const auto in_s = time_of(slip.in, attempt), out_s = time_of(slip.out, attempt);
    if (in_s && out_s && *out_s > *in_s) spans.push_back({*in_s, *out_s});
  }
  return slips_as_one(spans, track);
}

Runway moved_by_what_was_seen(const RunwayFrame& frame, const SeenPlace& seen, const Touchdown& from_log) {
  Runway runway = frame.runway();
  const double prior = runway.position_sd.value * runway.position_sd.value;
  // The log's interval has the runway's own place in it.
  const double log_sd = from_log.along_sd_ft();
  const double seeing = seen.sd_ft * seen.sd_ft + std::max(log_sd * log_sd - prior, 25.0);
  const double share = prior / (prior + seeing);
  const double shift_ft = share * (from_log.along_ft - seen.along_ft);
  runway.threshold = frame.to_geodetic({frame.threshold_along_ft() + shift_ft, 0.0});
  runway.position_sd = Feet{std::sqrt(prior * (1.0 - share))};
  return runway;
}

}  // namespace glidewright
