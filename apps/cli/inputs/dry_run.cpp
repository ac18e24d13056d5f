#include "apps/cli/inputs/dry_run.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "apps/cli/inputs/log_file.hpp"
#include "engine/debrief/debrief.hpp"

namespace glidewright {
namespace {

constexpr OptionRange k_landed_range{"--dry-run-ft", " ft", -3000.0, 6000.0};
constexpr OptionRange k_base_turn_range{"--dry-run-base-turn-s", " s", -30.0, 120.0};

PowerUsed power_named(const std::string& name) {
  if (name == "none") return PowerUsed::none;
  return name == "assisted" ? PowerUsed::assisted : PowerUsed::unknown;
}

PowerUsed power_of(AttemptKind kind) {
  switch (kind) {
    case AttemptKind::power_off:
      return PowerUsed::none;
    case AttemptKind::power_assisted:
      return PowerUsed::assisted;
    case AttemptKind::unknown:
      break;
  }
  return PowerUsed::unknown;
}

DebriefRequest debrief_request(TrackLog log, const Setting& setting) {
  DebriefRequest request;
  request.log = std::move(log);
  request.runway = setting.runway;
  request.touchdown_point = setting.touchdown_point;
  request.airplane = setting.airplane;
  request.weight_lb = setting.conditions.weight_lb;
  request.temperature_c = setting.temperature_c;
  request.altimeter_hpa = setting.altimeter_hpa;
  return request;
}

/// The attempt that was asked for, else the last one that touched down.
Result<const AttemptDebrief*> choose(const Debrief& debrief, const DryRunOptions& options) {
  const AttemptDebrief* chosen = nullptr;
  for (const auto& one : debrief.attempts) {
    const bool wanted =
        !options.attempt || one.attempt.index == static_cast<int>(std::lround(*options.attempt));
    if (wanted && one.touchdown) chosen = &one;
  }
  if (chosen) return chosen;
  if (options.attempt) {
    return Error{fmt::format("{}: attempt {:.0f} is not there, or did not touch down; attempts found: {}",
                             options.log, *options.attempt, debrief.attempts.size())};
  }
  return Error{options.log + ": no attempt in it touched down, so it tells nothing as a dry run"};
}

Result<DryRunRead> read_from_log(const DryRunOptions& options, const Setting& setting) {
  auto log = read_log({options.log, {}, {}, options.height_unit});
  if (!log) return log.error();
  const auto answer = make_debrief(debrief_request(std::move(*log), setting));
  if (!answer.debrief) return Error{options.log + ": " + answer.reason};
  const auto chosen = choose(*answer.debrief, options);
  if (!chosen) return chosen.error();
  const AttemptDebrief& one = **chosen;
  const WindEstimate& wind = answer.debrief->wind;
  DryRunRead read;
  read.source = fmt::format("{}, attempt {}", options.log, one.attempt.index);
  read.flown.landed_ft = one.touchdown->along_ft;
  read.flown.landed_sd_ft = one.touchdown->along_sd_ft();
  read.flown.power = power_of(one.attempt.kind);
  if (one.attempt.base_turn && one.attempt.abeam) {
    read.flown.base_turn_s = one.attempt.base_turn->time_unix_s - one.attempt.abeam->time_unix_s;
  }
  read.flown.wind = MeasuredWind{wind.headwind_kt, std::max(wind.headwind_sd_kt, 0.5),
                                 wind.crosswind_from_right_kt, std::max(wind.crosswind_sd_kt, 0.5)};
  return read;
}

}  // namespace

Result<DryRunRead> read_dry_run(const DryRunOptions& options, const Setting& setting) {
  if (auto error = outside(options.landed_ft, k_landed_range)) return *error;
  if (auto error = outside(options.base_turn_s, k_base_turn_range)) return *error;
  DryRunRead read;
  read.source = "as told";
  if (!options.log.empty()) {
    auto from_log = read_from_log(options, setting);
    if (!from_log) return from_log.error();
    read = std::move(*from_log);
  }
  if (options.landed_ft) {
    read.flown.landed_ft = *options.landed_ft;
    read.flown.landed_sd_ft = DryRun{}.landed_sd_ft;
  }
  if (!options.power.empty()) read.flown.power = power_named(options.power);
  if (options.base_turn_s) read.flown.base_turn_s = options.base_turn_s;
  return read;
}

}  // namespace glidewright
