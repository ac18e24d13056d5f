#include "engine/calibration/fitted_profile.hpp"

#include <algorithm>
#include <cmath>

#include "engine/airplane/class_defaults.hpp"
#include "engine/calibration/glide_estimates.hpp"

namespace glidewright {
namespace {

/// A number whose spread the glides narrowed by less than this keeps its source.
constexpr double k_told_something = 0.05;
constexpr double k_least_correlation = 0.01;

std::string source_of(const std::vector<FittedFrom::Log>& logs) {
  int glides = 0;
  for (const auto& log : logs) glides += log.glides;
  const std::string from =
      "fitted from " + std::to_string(glides) + (glides == 1 ? " glide of " : " glides of ");
  if (logs.size() == 1) return from + logs.front().file;
  return from + std::to_string(logs.size()) + " logs, " + logs.front().file + " the first";
}

/// The numbers as the handbook had them, also those that it had for flaps up.
std::vector<FittedFrom::Original> originals(const Handbook& given, const GlideBelief& belief) {
  if (given.fitted) return given.fitted->handbook;
  std::vector<FittedFrom::Original> all;
  Handbook complete = belief.handbook;
  for (const auto& number : belief.numbers) {
    if (const auto* original = glide_number(complete, number.field)) all.push_back({number.field, *original});
  }
  if (given.flaps.front().glide_ratio)
    all.push_back({"flaps[0].glide_ratio", *given.flaps.front().glide_ratio});
  return all;
}

std::vector<FittedFrom::Correlation> correlations(const GlideBelief& belief) {
  std::vector<FittedFrom::Correlation> all;
  const auto& numbers = belief.numbers;
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    for (std::size_t j = i + 1; j < numbers.size(); ++j) {
      const double value = belief.covariance(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j)) /
                           (numbers[i].sd * numbers[j].sd);
      if (std::abs(value) >= k_least_correlation) all.push_back({numbers[i].field, numbers[j].field, value});
    }
  }
  return all;
}

}  // namespace

Handbook fitted_profile(const Handbook& given, const GlideFit& fit, const std::vector<GlideLog>& logs) {
  FittedFrom from;
  if (given.fitted) from.logs = given.fitted->logs;
  for (const auto& log : logs)
    from.logs.push_back({log.file, log.sha256, static_cast<int>(log.glides.size())});
  from.handbook = originals(given, fit.before);
  from.drag_sd = std::max(k_least_drag_sd, drag_sd(fit.after));
  from.polar_misfit = fit.after.polar_misfit;

  const GlideBelief before = with_propeller_idling(fit.before);
  const GlideBelief after = with_propeller_idling(fit.after);
  from.correlations = correlations(after);
  Handbook profile = after.handbook;
  for (std::size_t i = 0; i < after.numbers.size(); ++i) {
    SourcedNumber& number = *glide_number(profile, after.numbers[i].field);
    number.value = after.numbers[i].value;
    number.sd = after.numbers[i].sd;
    const bool told = number.sd < (1.0 - k_told_something) * before.numbers[i].sd;
    if (told) number.source = source_of(from.logs);
  }
  // Flaps up is the best glide; a second number for it could only disagree.
  profile.flaps.front().glide_ratio.reset();
  profile.flaps.front().glide_speed_kcas.reset();
  profile.fitted = std::move(from);
  return profile;
}

}  // namespace glidewright
