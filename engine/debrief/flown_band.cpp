#include "engine/debrief/flown_band.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/debrief/airspeed.hpp"
#include "engine/reach/plan_band.hpp"

namespace glidewright {
namespace {

/// The longest stretch from abeam that is still one approach.
constexpr double k_longest_s = 400.0;

/// Heights of the places on the ground from which the box is in reach: from the corner of final up to base.
const std::vector<double> k_seen_from_above_ft = {400.0, 600.0, 800.0};

double end_of(const AttemptDebrief& one) {
  if (one.touchdown) return one.touchdown->time_unix_s;
  if (one.attempt.go_around) return one.attempt.go_around->time_unix_s;
  return one.attempt.end_time_unix_s;
}

double flap_marked_deg(const AttemptDebrief& one, double time_unix_s) {
  if (!one.marks || !one.marks->flaps) return 0.0;
  return flap_marked_deg(*one.marks->flaps, one.attempt, time_unix_s);
}

BandRequest band_request_of(const Debrief& debrief, const Airplane& airplane, const AttemptDebrief& one) {
  PlanRequest plan;
  plan.airplane = airplane;
  plan.conditions = {wind_profile(debrief.wind), debrief.day.density_ratio, debrief.day.weight_lb,
                     debrief.frame.runway().true_bearing.value, one.attempt.traffic};
  plan.technique = debrief.day.technique;
  plan.technique.spacing_ft = std::abs(one.attempt.abeam->place.cross_ft);
  plan.box = debrief.box;
  plan.obstacles = debrief.frame.obstacles();
  plan.scatter.wind_kt = std::max(debrief.wind.headwind_sd_kt, debrief.wind.crosswind_sd_kt);
  plan.scatter.glide_relative = airplane.glide_sd;
  return glidewright::band_request_of(plan);
}

bool has_band(const AttemptDebrief& one) {
  return one.attempt.abeam && one.attempt.kind != AttemptKind::power_assisted;
}

}  // namespace

double turn_rate_rad_s(const TrackState& state) {
  const double ground_squared =
      std::max(1.0, state.along_fps * state.along_fps + state.cross_fps * state.cross_fps);
  return (state.along_fps * state.cross_fps2 - state.cross_fps * state.along_fps2) / ground_squared;
}

Moment moment_of_track(const TrackState& state, const Debrief& debrief, const WindProfile& wind_aloft) {
  const Degrees landing = debrief.frame.runway().true_bearing;
  const WindComponents wind = components(wind_aloft.at(Feet{std::max(state.height_ft, 0.0)}), landing);
  const double air_along_fps = state.along_fps + to_feet_per_second(wind.headwind).value;
  const double air_cross_fps = state.cross_fps + to_feet_per_second(wind.crosswind_from_right).value;
  const double speed_fps = std::max(1.0, std::hypot(air_along_fps, air_cross_fps));
  Moment moment;
  moment.along_ft = state.along_ft;
  moment.cross_ft = state.cross_ft;
  moment.height_ft = state.height_ft;
  moment.true_airspeed_kt = speed_fps / k_fps_per_knot;
  moment.groundspeed_kt = state.groundspeed_kt();
  moment.heading_true_deg = landing.value + std::atan2(air_cross_fps, air_along_fps) / k_radians_per_degree;
  moment.bank_deg = std::atan(speed_fps * turn_rate_rad_s(state) / k_gravity_fps2) / k_radians_per_degree;
  return moment;
}

std::vector<Moment> flown_moments(const AttemptDebrief& one, const Debrief& debrief) {
  std::vector<Moment> moments;
  if (!one.attempt.abeam || debrief.track.states.empty()) return moments;
  const WindProfile profile = wind_profile(debrief.wind);
  const double abeam_s = one.attempt.abeam->time_unix_s;
  const double end_s = std::min(end_of(one), abeam_s + k_longest_s);
  for (double t = abeam_s; t <= end_s; t += 1.0) {
    Moment moment = moment_of_track(debrief.track.at(t), debrief, profile);
    moment.time_s = t - abeam_s;
    moment.flap_deg = flap_marked_deg(one, t);
    moments.push_back(moment);
  }
  return moments;
}

void add_bands(Debrief& debrief, const Airplane& airplane, const ShareOut& share_out) {
  for (const Traffic side : {Traffic::left, Traffic::right}) {
    const auto on_side = [&](const AttemptDebrief& one) {
      return has_band(one) && one.attempt.traffic == side;
    };
    // The widest pattern's region holds the others.
    const AttemptDebrief* widest = nullptr;
    for (const AttemptDebrief& one : debrief.attempts) {
      if (on_side(one) && (!widest || std::abs(one.attempt.abeam->place.cross_ft) >
                                          std::abs(widest->attempt.abeam->place.cross_ft))) {
        widest = &one;
      }
    }
    if (!widest) continue;
    const Band band = Band::over(band_request_of(debrief, airplane, *widest), Surety::nine_in_ten, share_out);
    const auto contours = reach_contours(band, k_seen_from_above_ft, Surety::nine_in_ten, share_out);
    for (AttemptDebrief& one : debrief.attempts) {
      if (!on_side(one)) continue;
      one.band = band_along(band, flown_moments(one, debrief));
      one.in_reach_from = contours;
    }
  }
}

}  // namespace glidewright
