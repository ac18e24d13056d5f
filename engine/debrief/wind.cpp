#include "engine/debrief/wind.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <vector>

#include "engine/track/wind_fit.hpp"

namespace glidewright {
namespace {

constexpr double k_lowest_ft = 100.0;  // below, shear and the flare rule the speed
constexpr double k_sample_s = 3.0;
constexpr double k_longest_circuit_s = 400.0;
constexpr double k_unknown_height_sd_ft = 500.0;
constexpr double k_pattern_height_ft = 700.0;  // taken where the log has no heights

/// How a pilot flies a circuit: each leg at a speed of its own, between them the speed is on its way and says
/// nothing.
enum class Leg { climb, level, glide, base, final_leg, changing };

// Common practice, no source: climb a little faster than the glide, level a quarter faster, final a little
// slower.
struct LegSpeed {
  double ratio_to_glide = 1.0;
  double sd_kt = 6.0;
};
constexpr LegSpeed k_climb{1.12, 8.0};
constexpr LegSpeed k_level{1.25, 12.0};
/// Than on the leg before: each leg of the glide is flown a little slower.
constexpr double k_base_slower_kt = 1.5, k_base_slower_sd_kt = 2.0;
constexpr double k_final_slower_kt = 2.5, k_final_slower_sd_kt = 3.5;
/// Of one recorded airspeed among forty that share their position error.
constexpr double k_recorded_sd_kt = 4.0;
constexpr double k_level_off_s = 18.0;  // from climb to pattern speed
constexpr double k_slow_down_s = 13.0;  // from pattern to glide speed at idle

/// When the airplane flew the circuit of one attempt, and when its legs began.
struct Circuit {
  double from_s = 0.0;
  double level_from_s = 0.0;
  double idle_s = 0.0;
  double base_from_s = 0.0;
  double final_from_s = 0.0;
  double to_s = 0.0;

  Leg leg_at(double time_s) const {
    if (time_s < level_from_s) return Leg::climb;
    if (time_s < level_from_s + k_level_off_s) return Leg::changing;
    if (time_s < idle_s) return Leg::level;
    if (time_s < idle_s + k_slow_down_s) return Leg::changing;
    if (time_s >= final_from_s) return Leg::final_leg;
    return time_s < base_from_s ? Leg::glide : Leg::base;
  }
};

/// First state not before a time.
std::vector<TrackState>::const_iterator first_from(const SmoothTrack& track, double time_unix_s) {
  return std::lower_bound(track.states.begin(), track.states.end(), time_unix_s,
                          [](const TrackState& s, double t) { return s.time_unix_s < t; });
}

/// Where the climb ended: the last time before that the airplane was well below where it was at idle.
double level_from_s(const SmoothTrack& track, const Circuit& c) {
  const TrackState idle = track.at(c.idle_s);
  if (idle.height_sd_ft > k_unknown_height_sd_ft) return c.from_s;
  double below_s = c.from_s;
  for (auto s = first_from(track, c.from_s); s != track.states.end() && s->time_unix_s <= c.idle_s; ++s) {
    if (s->height_ft < 0.9 * idle.height_ft) below_s = s->time_unix_s;
  }
  return below_s;
}

Circuit circuit_of(const SmoothTrack& track, const Attempt& a, double not_before_s) {
  Circuit c;
  c.from_s = std::max(not_before_s, a.end_time_unix_s - k_longest_circuit_s);
  c.to_s = a.end_time_unix_s;
  if (a.landing_time_unix_s) c.to_s = *a.landing_time_unix_s;
  if (a.go_around) c.to_s = a.go_around->time_unix_s;
  c.idle_s = c.from_s - k_slow_down_s;
  if (a.abeam) c.idle_s = a.abeam->time_unix_s;
  if (a.idle) c.idle_s = a.idle->time_unix_s;
  c.base_from_s = a.base_turn ? a.base_turn->time_unix_s : c.to_s;
  c.final_from_s = a.final_leg ? a.final_leg->time_unix_s : c.to_s;
  c.level_from_s = a.abeam ? level_from_s(track, c) : c.from_s - k_level_off_s;
  return c;
}

void begin_leg(CircuitVelocity& v, Leg leg, Leg before, const WindPrior& prior) {
  const double usual_fps = prior.usual_airspeed_kt * k_fps_per_knot;
  const auto expect = [&v, usual_fps](LegSpeed speed) {
    v.new_airspeed_fps = speed.ratio_to_glide * usual_fps;
    v.new_airspeed_sd_fps = speed.sd_kt * k_fps_per_knot;
  };
  if (leg == Leg::climb) expect(k_climb);
  if (leg == Leg::level) expect(k_level);
  const auto slower = [&v](double by_kt, double sd_kt) {
    v.change_fps = -by_kt * k_fps_per_knot;
    v.change_sd_fps = sd_kt * k_fps_per_knot;
  };
  const bool gliding = before == Leg::glide || before == Leg::base;
  const bool begins_glide = leg == Leg::glide || leg == Leg::base || leg == Leg::final_leg;
  if (begins_glide && !gliding) expect({1.0, prior.usual_airspeed_sd_kt});
  if (leg == Leg::base && gliding) slower(k_base_slower_kt, k_base_slower_sd_kt);
  if (leg == Leg::final_leg && gliding) slower(k_final_slower_kt, k_final_slower_sd_kt);
}

/// The panel's airspeed in place of what a pilot usually flies.
void take_recorded_airspeed(CircuitVelocity& v, const WindPrior& prior) {
  const auto recorded = prior.recorded.mean_kt(v.time_s - 1.5, v.time_s + 1.5);
  if (!recorded) return;
  v.new_airspeed_fps = *recorded * prior.true_over_calibrated * k_fps_per_knot;
  v.new_airspeed_sd_fps = k_recorded_sd_kt * k_fps_per_knot;
}

void add_circuit(std::vector<CircuitVelocity>& velocities, const SmoothTrack& track, const Circuit& circuit,
                 const WindPrior& prior) {
  double last_s = -1e300;
  Leg before = Leg::changing;
  for (auto next = first_from(track, circuit.from_s); next != track.states.end(); ++next) {
    const TrackState& s = *next;
    if (s.time_unix_s > circuit.to_s) break;
    const Leg leg = circuit.leg_at(s.time_unix_s);
    if (leg == Leg::changing || s.time_unix_s - last_s < k_sample_s || s.groundspeed_kt() < 30.0) continue;
    const bool height_known = s.height_sd_ft < k_unknown_height_sd_ft;
    if (height_known && s.height_ft < k_lowest_ft) continue;
    last_s = s.time_unix_s;
    velocities.push_back({.time_s = s.time_unix_s,
                          .along_fps = s.along_fps,
                          .cross_fps = s.cross_fps,
                          .height_ft = height_known ? s.height_ft : k_pattern_height_ft,
                          .speed_sd_fps = s.speed_sd_fps});
    if (leg != before) begin_leg(velocities.back(), leg, before, prior);
    take_recorded_airspeed(velocities.back(), prior);
    before = leg;
  }
}

WindBelief belief_from(const WindPrior& prior, Degrees runway_bearing) {
  WindBelief belief;
  belief.sd_fps = 10.0 * k_fps_per_knot;
  if (prior.reported) {
    const auto [headwind, from_right] = components(prior.reported->at_10m, runway_bearing);
    belief.mean.along_fps = -headwind.value * k_fps_per_knot;
    belief.mean.cross_fps = -from_right.value * k_fps_per_knot;
    belief.sd_fps = 3.0 * k_fps_per_knot;
  }
  return belief;
}

WindEstimate estimate_from(const WindFit& fit, Degrees runway_bearing) {
  WindEstimate out;
  const double along_kt = fit.wind.along_fps / k_fps_per_knot, cross_kt = fit.wind.cross_fps / k_fps_per_knot;
  out.headwind_kt = -along_kt;
  out.crosswind_from_right_kt = -cross_kt;
  out.headwind_sd_kt = std::sqrt(fit.covariance(0, 0)) / k_fps_per_knot;
  out.crosswind_sd_kt = std::sqrt(fit.covariance(1, 1)) / k_fps_per_knot;
  const Wind wind = wind_with({Knots{out.headwind_kt}, Knots{out.crosswind_from_right_kt}}, runway_bearing);
  out.speed_kt = wind.speed.value;
  out.from_true_deg = wind.from_true.value;
  out.exponent = fit.wind.exponent;
  // Spread along the wind and square to it.
  const Eigen::Matrix2d spread = fit.covariance.topLeftCorner<2, 2>() / (k_fps_per_knot * k_fps_per_knot);
  const Eigen::Vector2d down = Eigen::Vector2d(along_kt, cross_kt) / std::max(out.speed_kt, 1e-9);
  const Eigen::Vector2d square(-down.y(), down.x());
  const bool calm = out.speed_kt < 1e-6;
  out.speed_sd_kt =
      calm ? std::max(out.headwind_sd_kt, out.crosswind_sd_kt) : std::sqrt(down.dot(spread * down));
  const double square_kt = calm ? 1.0 : std::sqrt(square.dot(spread * square));
  // A direction's deviation cannot exceed that of a direction anywhere, 180 / sqrt(3).
  out.from_sd_deg =
      std::min(std::atan2(square_kt, out.speed_kt) / k_radians_per_degree, 180.0 / std::numbers::sqrt3);
  return out;
}

}  // namespace

WindEstimate estimate_wind(const SmoothTrack& track, const std::vector<Attempt>& attempts,
                           const RunwayFrame& frame, const WindPrior& prior) {
  std::vector<CircuitVelocity> velocities;
  double not_before_s = -1e300;
  for (const Attempt& a : attempts) {
    const Circuit circuit = circuit_of(track, a, not_before_s);
    add_circuit(velocities, track, circuit, prior);
    not_before_s = a.end_time_unix_s;
  }
  const WindFit fit = fit_wind(velocities, {}, belief_from(prior, frame.runway().true_bearing));
  return estimate_from(fit, frame.runway().true_bearing);
}

}  // namespace glidewright
