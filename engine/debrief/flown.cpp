#include "engine/debrief/flown.hpp"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "engine/track/lever.hpp"

namespace glidewright {
namespace {

/// Speeds that the stretch is too short for are as planned, and as uncertain as a pilot's speed holding.
Read speed_or(const std::optional<MeanAirspeed>& flown, double planned, double wind_sd_kt) {
  constexpr double reading_sd_kt = 1.5, unknown_sd_kt = 4.0;
  if (!flown) return {planned, unknown_sd_kt};
  return {flown->calibrated_kt, flown->sd_kt(std::hypot(reading_sd_kt, wind_sd_kt))};
}

/// Flap lever moves from a recorded flap angle: where it begins to run to a new setting.
std::optional<std::vector<FlapStep>> flaps_from_panel(const TrackLog& log, const SmoothTrack& track,
                                                      double from_s, double to_s) {
  std::vector<FlapStep> steps;
  bool recorded = false;
  std::optional<double> before;
  std::optional<double> moving_since;
  constexpr double still_deg = 0.6;
  for (const auto& sample : log.panel) {
    if (!sample.flap_deg || sample.time_unix_s < from_s || sample.time_unix_s > to_s) continue;
    recorded = true;
    if (before && *sample.flap_deg > *before + still_deg && !moving_since)
      moving_since = sample.time_unix_s - 1.0;
    const bool settled = before && std::abs(*sample.flap_deg - *before) <= still_deg;
    if (moving_since && settled) {
      steps.push_back(
          {*sample.flap_deg, FlapStep::When::at_height, track.at(*moving_since).height_ft, false});
      moving_since.reset();
    }
    before = sample.flap_deg;
  }
  if (!recorded) return std::nullopt;
  return steps;
}

/// Sideslip from a recorded heading: the nose against where the air comes from, ground velocity less wind.
std::vector<std::pair<double, double>> sideslips_deg(const TrackLog& log, const SmoothTrack& track,
                                                     const AirOfTrack& air, double from_s, double to_s) {
  std::vector<std::pair<double, double>> all;
  const Degrees runway{air.runway_true_deg};
  for (const auto& sample : log.panel) {
    if (!sample.heading_true_deg || sample.time_unix_s < from_s || sample.time_unix_s > to_s) continue;
    const TrackState state = track.at(sample.time_unix_s);
    const auto [headwind, from_right] = components(air.wind.at(Feet{state.height_ft}), runway);
    const double along_fps = state.along_fps + headwind.value * k_fps_per_knot;
    const double cross_fps = state.cross_fps + from_right.value * k_fps_per_knot;
    const double through_air_deg =
        air.runway_true_deg + std::atan2(cross_fps, along_fps) / k_radians_per_degree;
    all.emplace_back(sample.time_unix_s, wrap_180_deg(*sample.heading_true_deg - through_air_deg));
  }
  return all;
}

/// The slip on final from a recorded heading, several as one; `known` where the heading was recorded all
/// along. The wind may be 3 kt off, which is 3 degrees, and a slip has ten or more: six are one, three are
/// none any longer.
void slip_from_panel(const std::vector<std::pair<double, double>>& sideslips_deg, const SmoothTrack& track,
                     double lasts_s, AttemptAsFlown& flown) {
  constexpr double in_deg = 6.0, out_deg = 3.0, shortest_s = 2.0, most_apart_s = 2.5;
  // The pedal takes some two seconds, and a reading a second comes half a second late: common practice, no
  // source.
  constexpr double since_pedal_s = 1.3;
  if (sideslips_deg.size() < 4 || lasts_s > most_apart_s * static_cast<double>(sideslips_deg.size())) return;
  flown.slip_known = true;
  std::vector<SlipSpan> slips;
  std::optional<double> since_s;
  const auto ends = [&](double time_s) {
    if (since_s && time_s - *since_s >= shortest_s)
      slips.push_back({*since_s - since_pedal_s, time_s - since_pedal_s});
    since_s.reset();
  };
  for (const auto& [time_s, sideslip_deg] : sideslips_deg) {
    if (!since_s && std::abs(sideslip_deg) >= in_deg) since_s = time_s;
    if (since_s && std::abs(sideslip_deg) < out_deg) ends(time_s);
  }
  ends(sideslips_deg.back().first);
  flown.slip = slips_as_one(slips, track);
}

/// Mean course on base, as a cut towards the threshold from square.
double base_cut_deg(const Attempt& attempt, const SmoothTrack& track) {
  if (!attempt.base || !attempt.final_turn) return 0.0;
  const auto a = track.at(attempt.base->time_unix_s);
  const auto b = track.at(attempt.final_turn->time_unix_s);
  const double across = std::abs(b.cross_ft - a.cross_ft);
  if (across < 200.0) return 0.0;
  return std::clamp(std::atan2(b.along_ft - a.along_ft, across) / k_radians_per_degree, -40.0, 40.0);
}

double usual_bank(const std::optional<BankEstimate>& estimate, double planned_deg) {
  if (!estimate) return planned_deg;
  // In a short turn only the greatest bank shows, a little above the one that was held.
  constexpr double held_share = 0.92;
  return std::clamp(estimate->held_deg.value_or(held_share * estimate->bank_deg), 15.0, 45.0);
}

}  // namespace

std::optional<AttemptAsFlown> read_flown(const Attempt& attempt, const std::optional<Touchdown>& touchdown,
                                         const SmoothTrack& track, const TrackLog& log, const AirOfTrack& air,
                                         const WindEstimate& wind, const Technique& planned,
                                         const AttemptMarks* marks) {
  const auto& on_final = attempt.gate ? attempt.gate : attempt.go_around;
  if (!attempt.abeam || !attempt.base_turn || !attempt.final_turn || !on_final) return std::nullopt;
  const double abeam_s = attempt.abeam->time_unix_s;
  AttemptAsFlown flown;
  flown.pattern_height_ft = attempt.abeam->height_ft;
  flown.spacing_ft = std::abs(attempt.base_turn->place.cross_ft);
  flown.pattern_speed_kt = mean_airspeed(track, air, abeam_s - 6.0, abeam_s)
                               .value_or(MeanAirspeed{planned.pattern_speed_kt})
                               .calibrated_kt;
  if (attempt.idle) {
    // The model closes its lever at once; a person says when it was closed, a log shows when it started back.
    const double closes_s = marks && marks->idle ? 0.0 : k_lever_closes_s;
    flown.idle_s =
        Read{attempt.idle->time_unix_s + closes_s - abeam_s, std::max(0.8, attempt.idle->time_sd_s)};
  }
  flown.base_turn_s = {attempt.base_turn->time_unix_s - abeam_s,
                       std::hypot(attempt.base_turn->time_sd_s, attempt.abeam->time_sd_s)};
  flown.base_turn_bank_deg = usual_bank(attempt.base_turn_bank, planned.base_turn_bank_deg);
  flown.final_turn_bank_deg = usual_bank(attempt.final_turn_bank, planned.final_turn_bank_deg);
  flown.base_course_deg = base_cut_deg(attempt, track);
  flown.final_turn_room_ft = std::abs(attempt.final_turn->place.cross_ft);

  const double base_from = attempt.base ? attempt.base->time_unix_s : attempt.base_turn->time_unix_s + 5.0;
  flown.base_speed_kt = speed_or(mean_airspeed(track, air, base_from, attempt.final_turn->time_unix_s),
                                 planned.base_speed_kt, wind.crosswind_sd_kt);
  const double final_from = attempt.final_leg ? attempt.final_leg->time_unix_s : on_final->time_unix_s - 6.0;
  const auto on_final_kt = mean_airspeed(track, air, final_from, on_final->time_unix_s);
  flown.airspeed_recorded = on_final_kt && on_final_kt->recorded;
  flown.final_speed_kt = speed_or(on_final_kt, planned.final_speed_kt, wind.headwind_sd_kt);
  const auto low = descends_through(track, 150.0, on_final->time_unix_s);
  const auto flare = descends_through(track, 50.0, on_final->time_unix_s);
  flown.short_final_speed_kt =
      speed_or(low && flare && attempt.gate ? mean_airspeed(track, air, *low, *flare) : std::nullopt,
               flown.final_speed_kt.value + planned.short_final_speed_kt - planned.final_speed_kt,
               wind.headwind_sd_kt);
  flown.touchdown_speed_kt = {planned.touchdown_speed_kt, 4.0};
  if (touchdown) {
    const double headwind_kt =
        components(air.wind.at(Feet{5.0}), Degrees{air.runway_true_deg}).headwind.value;
    constexpr double decelerating_kt_per_s = 1.9;
    flown.touchdown_speed_kt = {
        (touchdown->groundspeed_kt + headwind_kt) * std::sqrt(air.density_ratio),
        std::hypot(wind.headwind_sd_kt, decelerating_kt_per_s * touchdown->time_sd_s)};
  }
  flown.flaps = marks && marks->flaps
                    ? flaps_as_marked(*marks->flaps, attempt, track)
                    : flaps_from_panel(log, track, abeam_s - 5.0, on_final->time_unix_s + 30.0);
  if (marks && marks->slips) {
    flown.slip_known = true;
    flown.slip = slip_as_marked(*marks->slips, attempt, track);
  } else if (attempt.final_leg) {
    const double from_s = attempt.final_leg->time_unix_s;
    const double to_s = std::max(flare.value_or(on_final->time_unix_s), on_final->time_unix_s);
    slip_from_panel(sideslips_deg(log, track, air, from_s, to_s), track, to_s - from_s, flown);
  }
  flown.check_height_ft = on_final->height_ft;
  flown.check_along_ft = on_final->place.along_ft;
  return flown;
}

}  // namespace glidewright
