#include "engine/batch/batch.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include "engine/batch/draws.hpp"
#include "engine/batch/instruction_sets.hpp"
#include "engine/batch/order.hpp"
#include "engine/technique/clock.hpp"
#include "engine/technique/pilot.hpp"

namespace glidewright {
namespace {

using FlyOrder = void (*)(const BatchOrder&);

FlyOrder code_for(InstructionSet set) {
#if defined(__x86_64__)
  if (set == InstructionSet::avx512) return fly_order_avx512;
  if (set == InstructionSet::avx2) return fly_order_avx2;
#endif
  assert(set == InstructionSet::baseline);
  return fly_order_baseline;
}

WindNumbers wind_numbers(const Conditions& conditions) {
  const WindProfile& profile = conditions.wind;
  WindNumbers wind;
  wind.at_10m_fps = to_feet_per_second(profile.at_10m.speed).value;
  wind.from_off_runway_rad =
      wrap_180_deg(profile.at_10m.from_true.value - conditions.runway_true_deg) * k_radians_per_degree;
  wind.exponent = wind.extra_exponent = profile.power_law_exponent;
  wind.mirror = conditions.traffic == Traffic::right ? -1.0 : 1.0;
  if (!profile.aloft) {
    wind.along_at_report_fps = -wind.at_10m_fps * std::cos(wind.from_off_runway_rad);
    wind.cross_at_report_fps = -wind.mirror * wind.at_10m_fps * std::sin(wind.from_off_runway_rad);
    return wind;
  }
  wind.aloft_fps = to_feet_per_second(profile.aloft->speed).value;
  wind.aloft_height_ft = profile.aloft_height.value;
  wind.veer_rad =
      wrap_180_deg(profile.aloft->from_true.value - profile.at_10m.from_true.value) * k_radians_per_degree;
  const bool hardly_any = profile.at_10m.speed.value < 1.0 || profile.aloft->speed.value < 1.0;
  wind.law = hardly_any ? WindNumbers::Law::linear_veering : WindNumbers::Law::power_veering;
  if (!hardly_any) {
    constexpr double report_ft = 10.0 / k_metres_per_foot;
    wind.exponent =
        std::log(profile.aloft->speed / profile.at_10m.speed) / std::log(wind.aloft_height_ft / report_ft);
  }
  return wind;
}

/// Flights with given deviations are flown in smooth air: nothing is left to luck in them.
double vertical_gust_sd_fps_of(const BatchRequest& request) {
  if (!request.deviations.empty()) return 0.0;
  return vertical_gust_sd_fps(request.conditions.wind, request.scatter.turbulence);
}

std::int64_t flights_of(const BatchRequest& request) {
  return request.deviations.empty() ? request.count : static_cast<std::int64_t>(request.deviations.size());
}

/// The cues and deviations stay where they are: sheet and request must outlive the order.
BatchOrder order_of(const BatchRequest& request, const TechniqueSheet& sheet) {
  const Airplane& airplane = *request.airplane;
  const Conditions& conditions = request.conditions;
  BatchOrder order;
  order.flap_count = static_cast<int>(airplane.polar.flaps.size());
  for (int i = 0; i < order.flap_count; ++i)
    order.flaps[i] = airplane.polar.flaps[static_cast<std::size_t>(i)];
  order.shape = airplane.polar.shape(conditions.weight_lb);
  order.wing_span_ft = airplane.wing_span_ft;
  order.wing_height_ft = airplane.wing_height_ft;
  order.calibrated_kt_per_fps = std::sqrt(conditions.density_ratio) / k_fps_per_knot;
  order.wind = wind_numbers(conditions);
  order.technique = sheet.numbers;
  order.scatter = request.scatter;
  order.wind_sd_kt = wind_sd_kt(request.scatter, conditions.wind.gust.value);
  order.cues_s = request.cues_s.empty() ? &sheet.numbers.base_turn_s_after_abeam : request.cues_s.data();
  order.cue_count = request.cues_s.empty() ? 1 : static_cast<std::int64_t>(request.cues_s.size());
  order.first = request.first;
  order.count = flights_of(request);
  if (!request.deviations.empty()) order.deviations = request.deviations.data();
  order.seed = request.seed;
  order.vertical_gust_sd_fps = vertical_gust_sd_fps_of(request);
  order.steps_between_ticks = static_cast<int>(std::ceil(k_decision_s / request.longest_step_s - 1e-6));
  return order;
}

FlownOnce kept(const Approach& flown) {
  FlownOnce once;
  once.touchdown_ft = flown.touchdown ? flown.touchdown->along_ft : k_never_down_ft;
  once.stable = flown.stable_at_gate;
  once.aligned = flown.touchdown && flown.end == ApproachEnd::touchdown;
  once.base_turn_height_ft = flown.base_turn.height_ft;
  once.mid_base_height_ft = flown.mid_base ? flown.mid_base->height_ft : 0.0;
  once.final_turn_height_ft = flown.final_turn ? flown.final_turn->height_ft : 0.0;
  once.half_mile_height_ft = flown.half_mile_final ? flown.half_mile_final->height_ft : 0.0;
  once.gate_along_ft = flown.gate ? flown.gate->along_ft : 0.0;
  return once;
}

}  // namespace

InstructionSet widest_instruction_set() {
  return instruction_sets_here().back();
}

std::vector<InstructionSet> instruction_sets_here() {
  std::vector<InstructionSet> sets = {InstructionSet::baseline};
#if defined(__x86_64__)
  if (__builtin_cpu_supports("avx2")) sets.push_back(InstructionSet::avx2);
  if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") &&
      __builtin_cpu_supports("avx512vl")) {
    sets.push_back(InstructionSet::avx512);
  }
#endif
  return sets;
}

const char* name_of(InstructionSet set) {
  switch (set) {
    case InstructionSet::baseline:
      break;
    case InstructionSet::avx2:
      return "avx2";
    case InstructionSet::avx512:
      return "avx512";
  }
#if defined(__x86_64__)
  return "sse2";
#else
  return "four lanes";
#endif
}

std::vector<FlownOnce> fly_batch(const BatchRequest& request) {
  return fly_batch(request, widest_instruction_set());
}

std::vector<FlownOnce> fly_batch(const BatchRequest& request, InstructionSet set) {
  if (request.airplane->polar.flaps.size() > k_most_flap_settings) {
    return fly_batch_by_reference(request, {request.longest_step_s, Trace::none, Watch::touchdown_only});
  }
  const TechniqueSheet sheet(request.technique, *request.airplane);
  BatchOrder order = order_of(request, sheet);
  std::vector<FlownOnce> flown(static_cast<std::size_t>(order.cue_count * order.count));
  order.flown = flown.data();
  if (!flown.empty()) code_for(set)(order);
  return flown;
}

std::vector<FlownOnce> fly_batch(const BatchRequest& request, const ShareOut& share_out) {
  const bool given = !request.deviations.empty();
  const std::int64_t count = flights_of(request);
  const auto cues = static_cast<std::int64_t>(std::max<std::size_t>(request.cues_s.size(), 1));
  constexpr std::int64_t flights_to_a_piece = 512;
  const auto pieces = static_cast<int>((count + flights_to_a_piece - 1) / flights_to_a_piece);
  std::vector<FlownOnce> flown(static_cast<std::size_t>(cues * count));
  share_out(pieces, [&](int piece) {
    const std::int64_t begin = piece * flights_to_a_piece, end = std::min(count, begin + flights_to_a_piece);
    BatchRequest part = request;
    part.first = request.first + begin;
    part.count = end - begin;
    if (given) part.deviations.assign(request.deviations.begin() + begin, request.deviations.begin() + end);
    const auto some = fly_batch(part);
    for (std::int64_t cue = 0; cue < cues; ++cue) {
      std::copy_n(some.begin() + cue * part.count, part.count, flown.begin() + cue * count + begin);
    }
  });
  return flown;
}

std::vector<FlownOnce> fly_batch_by_reference(const BatchRequest& request,
                                              const IntegratorSettings& settings) {
  Technique technique = request.technique;
  technique.go_around_when_unstable = false;
  std::vector<double> cues_s = request.cues_s;
  if (cues_s.empty()) cues_s.push_back(technique.base_turn_s_after_abeam);
  const std::int64_t count = flights_of(request);
  const double vertical_sd_fps = vertical_gust_sd_fps_of(request);
  std::vector<FlownOnce> flights;
  flights.reserve(cues_s.size() * static_cast<std::size_t>(count));
  for (const double cue_s : cues_s) {
    technique.base_turn_s_after_abeam = cue_s;
    for (std::int64_t i = 0; i < count; ++i) {
      const Deviation deviation =
          request.deviations.empty()
              ? draw_deviation(request.scatter, request.conditions.wind.gust.value, request.seed,
                               static_cast<std::uint64_t>(request.first + i))
              : request.deviations[static_cast<std::size_t>(i)];
      const TurbulentAir air{vertical_sd_fps, request.seed, static_cast<std::uint64_t>(request.first + i)};
      flights.push_back(
          kept(fly(*request.airplane, request.conditions, technique, deviation, settings, air)));
    }
  }
  return flights;
}

}  // namespace glidewright
