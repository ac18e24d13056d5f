#include "engine/plan/dry_run.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/batch/draws.hpp"
#include "engine/units/normal.hpp"

namespace glidewright {
namespace {

constexpr int k_flights = 8000;
constexpr int k_fewest_that_fit = 40;  // of the 8000, in effect: below it the weighed mean is luck
constexpr double k_usual_power_ft =
    400.0;  // that a burst of power adds, exponential: common practice, no source
constexpr double k_too_unlikely = 0.001;   // density over that of the likeliest place, about: beyond 3.7 sd
constexpr double k_hardly_changed = 0.93;  // of the spread, and a third of it in the value

double normal_density(double z) {
  return std::exp(-0.5 * z * z) / std::sqrt(2.0 * std::numbers::pi);
}

/// Of landing `beyond_ft` farther than the unpowered flight, per ft.
double density_without_power(double beyond_ft, double sd_ft) {
  return normal_density(beyond_ft / sd_ft) / sd_ft;
}

/// The same with an exponential stretch added by power.
double density_with_power(double beyond_ft, double sd_ft) {
  const double rate = 1.0 / k_usual_power_ft;
  const double exponent = 0.5 * rate * rate * sd_ft * sd_ft - rate * beyond_ft;
  return rate * std::exp(std::min(exponent, 50.0)) * normal_below(beyond_ft / sd_ft - rate * sd_ft);
}

double density_of_landing(double beyond_ft, const DryRun& dry_run) {
  switch (dry_run.power) {
    case PowerUsed::none:
      return density_without_power(beyond_ft, dry_run.landed_sd_ft);
    case PowerUsed::assisted:
      return density_with_power(beyond_ft, dry_run.landed_sd_ft);
    case PowerUsed::unknown:
      break;
  }
  return 0.5 * density_without_power(beyond_ft, dry_run.landed_sd_ft) +
         0.5 * density_with_power(beyond_ft, dry_run.landed_sd_ft);
}

double density_of_wind(const WindComponents& reported, const Deviation& deviation, const DryRun& dry_run) {
  if (!dry_run.wind) return 1.0;
  const MeasuredWind& wind = *dry_run.wind;
  const double head =
      (reported.headwind.value + deviation.headwind_kt - wind.headwind_kt) / wind.headwind_sd_kt;
  const double cross =
      (reported.crosswind_from_right.value + deviation.crosswind_kt - wind.crosswind_from_right_kt) /
      wind.crosswind_sd_kt;
  return normal_density(head) * normal_density(cross);
}

/// Weighed mean and standard deviation of one number of the flights.
class Weighed {
 public:
  void add(double weight, double value) {
    weight_ += weight;
    sum_ += weight * value;
    squares_ += weight * value * value;
  }
  Belief belief() const {
    const double mean = sum_ / weight_;
    return {mean, std::sqrt(std::max(0.0, squares_ / weight_ - mean * mean))};
  }

 private:
  double weight_ = 0.0, sum_ = 0.0, squares_ = 0.0;
};

/// What of a day's error of the wind lasts, when error and gust were only seen together.
Belief lasting(const Belief& together, double day_sd_kt, double gust_sd_kt) {
  const double day_variance = day_sd_kt * day_sd_kt;
  const double share = day_variance / (day_variance + gust_sd_kt * gust_sd_kt);
  return {share * together.value,
          std::sqrt(share * share * together.sd * together.sd + day_variance * (1.0 - share))};
}

bool hardly_changed(const BeliefChange& change) {
  return change.after.sd > k_hardly_changed * change.before.sd &&
         std::abs(change.after.value - change.before.value) < change.before.sd / 3.0;
}

PlanRequest with_beliefs(const PlanRequest& request, const DryRunCorrection& found) {
  PlanRequest corrected = request;
  corrected.conditions.wind.at_10m =
      wind_with({Knots{found.headwind_kt.after.value}, Knots{found.crosswind_from_right_kt.after.value}},
                Degrees{request.conditions.runway_true_deg});
  corrected.scatter.wind_kt = std::sqrt(
      0.5 * (std::pow(found.headwind_kt.after.sd, 2) + std::pow(found.crosswind_from_right_kt.after.sd, 2)));
  corrected.airplane = with_drag_changed(request.airplane, found.drag_relative.after.value);
  corrected.scatter.glide_relative = found.drag_relative.after.sd;
  return corrected;
}

}  // namespace

Airplane with_drag_changed(const Airplane& airplane, double relative) {
  Airplane changed = airplane;
  for (auto& flap : changed.polar.flaps) {
    flap.parasite *= 1.0 + relative;
    flap.induced *= 1.0 + relative;
  }
  changed.polar.knee_gain *= 1.0 + relative;
  changed.polar.slip_parasite *= 1.0 + relative;
  return changed;
}

DryRunCorrection correct_by_dry_run(const PlanRequest& request, double planned_cue_s, const DryRun& dry_run) {
  return correct_by_dry_run(
      request, fly_over_spread(request, dry_run.base_turn_s.value_or(planned_cue_s), 0, k_flights), dry_run);
}

DryRunCorrection correct_by_dry_run(const PlanRequest& request, const std::vector<FlownOnce>& flights,
                                    const DryRun& dry_run) {
  const auto reported =
      components(request.conditions.wind.at_10m, Degrees{request.conditions.runway_true_deg});
  const double gust_kt = request.conditions.wind.gust.value;
  Weighed expected, head, cross, drag;
  double sum = 0.0, squares = 0.0, density_here = 0.0;
  std::uint64_t number = 0;
  for (const FlownOnce& flown : flights) {
    const Deviation deviation = draw_deviation(request.scatter, gust_kt, request.seed, number++);
    if (!flown.aligned) continue;
    expected.add(1.0, flown.touchdown_ft);
    const double as_landed = density_of_landing(dry_run.landed_ft - flown.touchdown_ft, dry_run);
    const double weight = as_landed * density_of_wind(reported, deviation, dry_run);
    density_here += as_landed;
    head.add(weight, deviation.headwind_kt);
    cross.add(weight, deviation.crosswind_kt);
    drag.add(weight, deviation.glide_relative);
    sum += weight;
    squares += weight * weight;
  }

  DryRunCorrection found;
  found.corrected = request;
  found.expected_touchdown_ft = expected.belief();
  const double wind_sd = request.scatter.wind_kt, glide_sd = request.scatter.glide_relative;
  found.headwind_kt.before = found.headwind_kt.after = {reported.headwind.value, wind_sd};
  found.crosswind_from_right_kt.before =
      found.crosswind_from_right_kt.after = {reported.crosswind_from_right.value, wind_sd};
  found.drag_relative.before = found.drag_relative.after = {0.0, glide_sd};
  const double flights_that_fit = squares > 0.0 ? sum * sum / squares : 0.0;
  density_here /= static_cast<double>(flights.size());
  if (flights_that_fit < k_fewest_that_fit ||
      density_here * found.expected_touchdown_ft.sd < k_too_unlikely) {
    found.told = DryRunTold::does_not_fit;
    return found;
  }
  const double gust_sd = gust_sd_kt(request.scatter, gust_kt);
  const Belief head_change = lasting(head.belief(), wind_sd, gust_sd);
  const Belief cross_change = lasting(cross.belief(), wind_sd, gust_sd);
  found.headwind_kt.after.value += head_change.value;
  found.headwind_kt.after.sd = head_change.sd;
  found.crosswind_from_right_kt.after.value += cross_change.value;
  found.crosswind_from_right_kt.after.sd = cross_change.sd;
  found.drag_relative.after = drag.belief();
  const bool nothing = hardly_changed(found.headwind_kt) && hardly_changed(found.crosswind_from_right_kt) &&
                       hardly_changed(found.drag_relative);
  found.told = nothing ? DryRunTold::little : DryRunTold::something;
  if (!nothing) found.corrected = with_beliefs(request, found);
  return found;
}

}  // namespace glidewright
