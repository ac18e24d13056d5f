// How far the model's approach ends from the reference flights' before and after a fit from the reference
// glide table: each power-off landing flown by the reference integrator with the decisions, wind and weight
// of its truth.

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <vector>

#include "bench/measurement.hpp"
#include "bench/reference_flights.hpp"
#include "engine/air/atmosphere.hpp"
#include "engine/calibration/fitted_profile.hpp"
#include "engine/calibration/glide_estimates.hpp"
#include "formats/glide_table.hpp"

namespace glidewright {
namespace {

/// Places of the log around a time of the truth, in the runway frame.
class FlownPath {
 public:
  explicit FlownPath(const ReferenceLog& reference)
      : log_(reference.request.log), frame_(*reference.request.runway, reference.request.touchdown_point) {}

  RunwayPoint at(double t_s) const {
    const double time = log_.fixes.front().time_unix_s + t_s;
    const auto later = std::find_if(log_.fixes.begin(), log_.fixes.end(),
                                    [&](const Fix& fix) { return fix.time_unix_s >= time; });
    return frame_.to_runway(later->place);
  }
  double height_ft(double t_s) const {
    const double time = log_.fixes.front().time_unix_s + t_s;
    const auto later = std::find_if(log_.fixes.begin(), log_.fixes.end(),
                                    [&](const Fix& fix) { return fix.time_unix_s >= time; });
    return *later->altitude_ft - frame_.point_elevation_ft();
  }

 private:
  const TrackLog& log_;
  RunwayFrame frame_;
};

/// The technique that the truth of one attempt shows.
Technique technique_of(const nlohmann::json& truth, const FlownPath& path) {
  const auto time = [&](const char* moment) { return truth[moment]["t_s"].get<double>(); };
  Technique technique;
  const double abeam_s = time("abeam");
  technique.pattern_height_ft = truth["abeam"]["height_agl_ft"];
  technique.spacing_ft = std::abs(truth["base_turn_start"]["cross_ft"].get<double>());
  technique.pattern_speed_kt = truth["abeam"]["ias_kt"];
  technique.idle_s_after_abeam = time("throttle_idle") - abeam_s;
  technique.base_turn_s_after_abeam = time("base_turn_start") - abeam_s;
  const auto& speeds = truth["target_glide_kias"];
  technique.downwind_speed_kt = speeds["downwind"];
  technique.base_speed_kt = speeds["base"];
  technique.final_speed_kt = speeds["final"];
  technique.short_final_speed_kt = speeds["short_final_below_150ft"];
  // The greatest bank of a turn lies a little above the one that was held.
  technique.base_turn_bank_deg = 0.92 * truth["max_bank_base_turn_deg"].get<double>();
  technique.final_turn_bank_deg = 0.92 * truth["max_bank_final_turn_deg"].get<double>();
  technique.final_turn_bank_limit_deg = truth["max_bank_final_turn_deg"];
  if (!truth["wings_level_base"].is_null()) {
    const auto begin = path.at(time("wings_level_base")), end = path.at(time("final_turn_start"));
    technique.base_course_deg =
        std::atan2(end.along_ft - begin.along_ft, std::abs(end.cross_ft - begin.cross_ft)) /
        k_radians_per_degree;
  }
  for (const auto& flap : truth["flaps"]) {
    technique.flaps.push_back(
        {flap["deg"], FlapStep::When::at_height, path.height_ft(flap["t_s"].get<double>()), false});
  }
  if (!truth["slip"].is_null()) {
    technique.slip = SlipStep{truth["slip"]["start_height_agl_ft"], truth["slip"]["end_height_agl_ft"]};
  }
  technique.landing_flap_deg = technique.flaps.empty() ? 0.0 : technique.flaps.back().setting_deg;
  technique.touchdown_speed_kt = truth["touchdown"]["ias_kt"];
  technique.go_around_when_unstable = false;
  return technique;
}

Conditions conditions_of(const nlohmann::json& flight, const nlohmann::json& attempt) {
  Conditions conditions;
  const auto& wind = flight["wind"];
  conditions.wind.at_10m = {Degrees{wind["at_10m"]["from_deg_true"]}, Knots{wind["at_10m"]["speed_kt"]}};
  conditions.wind.power_law_exponent = wind["power_law_exponent"];
  if (wind["veer_deg_33_to_1000ft"].get<double>() != 0.0) {
    conditions.wind.aloft =
        Wind{Degrees{wind["at_1000ft"]["from_deg_true"]}, Knots{wind["at_1000ft"]["speed_kt"]}};
  }
  const Hectopascals setting = to_hectopascals(InchesOfMercury{flight["atmosphere"]["qnh_inhg"]});
  conditions.density_ratio = density_ratio(pressure_altitude(Feet{flight["runway"]["elevation_ft"]}, setting),
                                           Celsius{flight["atmosphere"]["field_temperature_c"]});
  conditions.weight_lb = attempt["weight_lb"];
  conditions.runway_true_deg = flight["runway"]["true_heading_deg"];
  conditions.traffic = flight["traffic_side"] == "right" ? Traffic::right : Traffic::left;
  return conditions;
}

/// Flies it with the final turn rolled in where it was, along and across: the flown path is given, the glide
/// is what is judged. What is left of the path are overshoots of the centreline, which the model does not
/// fly.
Approach fly_as_flown(const Airplane& airplane, const nlohmann::json& flight, const nlohmann::json& attempt,
                      const FlownPath& path) {
  const Conditions conditions = conditions_of(flight, attempt);
  Technique technique = technique_of(attempt, path);
  const double room_ft = std::abs(attempt["final_turn_start"]["cross_ft"].get<double>());
  const double along_ft = path.at(attempt["final_turn_start"]["t_s"].get<double>()).along_ft;
  Approach approach = fly(airplane, conditions, technique);
  for (int round = 0; round < 2 && approach.final_turn; ++round) {
    technique.final_turn_cross_shift_ft += std::abs(approach.final_turn->cross_ft) - room_ft;
    technique.base_turn_s_after_abeam +=
        (approach.final_turn->along_ft - along_ft) / (k_fps_per_knot * approach.base_turn.groundspeed_kt);
    approach = fly(airplane, conditions, technique);
  }
  return approach;
}

struct Errors {
  std::vector<double> at_gate_ft, at_touchdown_ft;
};

Errors errors_of(const Airplane& airplane, const char* when) {
  Errors errors;
  for (const auto& flight : k_reference_flights) {
    const ReferenceLog reference = read_reference(flight, "csv");
    const FlownPath path(reference);
    for (const auto& attempt : reference.truth["attempts"]) {
      if (attempt["kind"] != "power-off-180" || attempt["outcome"] != "landed") continue;
      const Approach approach = fly_as_flown(airplane, reference.truth, attempt, path);
      if (!approach.gate || !approach.touchdown) continue;
      errors.at_gate_ft.push_back(approach.gate->along_ft - attempt["gate_200ft"]["along_ft"].get<double>());
      errors.at_touchdown_ft.push_back(approach.touchdown->along_ft -
                                       attempt["touchdown"]["along_ft"].get<double>());
      std::fprintf(stderr,
                   "%-6s %s attempt %d: %+6.0f ft at 200 ft, %+6.0f ft at the wheels, centreline overshot by "
                   "%.0f ft\n",
                   when, flight.c_str(), attempt["attempt"].get<int>(), errors.at_gate_ft.back(),
                   errors.at_touchdown_ft.back(), attempt["final_overshoot_ft"].get<double>());
    }
  }
  return errors;
}

int root_mean_square(const std::vector<double>& values) {
  double sum = 0.0;
  for (const double value : values) sum += value * value;
  return static_cast<int>(std::lround(std::sqrt(sum / static_cast<double>(values.size()))));
}

int median_size(std::vector<double> values) {
  for (double& value : values) value = std::abs(value);
  std::sort(values.begin(), values.end());
  return static_cast<int>(std::lround(0.5 * (values[(values.size() - 1) / 2] + values[values.size() / 2])));
}

int mean(const std::vector<double>& values) {
  double sum = 0.0;
  for (const double value : values) sum += value;
  return static_cast<int>(std::lround(sum / static_cast<double>(values.size())));
}

GlideLog read_glides(const std::string& file, const Airplane& airplane) {
  GlideLog log;
  log.file = file;
  const std::string path = std::string(GLIDEWRIGHT_TEST_DATA) + "/flights/" + file;
  log.glides = read_glide_table(*read_file(path), path, {airplane.handbook.maximum_weight_lb.value})->glides;
  std::erase_if(log.glides, [&](const LoggedGlide& glide) { return !why_not_used(airplane, glide).empty(); });
  return log;
}

}  // namespace
}  // namespace glidewright

int main() {
  using namespace glidewright;
  const std::string name = std::string(GLIDEWRIGHT_DATA) + "/airplanes/demo-trainer.json";
  const Handbook handbook = *read_airplane_json(*read_file(name), name);
  const Airplane before = fit_airplane(handbook);
  const GlideBelief belief = belief_from_handbook(handbook);
  const auto airplane_from = [&](const std::vector<GlideLog>& logs) {
    return fit_airplane(fitted_profile(handbook, fit_glides(belief, logs), logs));
  };
  const GlideLog straight = read_glides("glide.csv", before), turns = read_glides("turn.csv", before);
  const Airplane after = airplane_from({straight}), after_both = airplane_from({straight, turns});

  const Errors first = errors_of(before, "before"), then = errors_of(after, "after"),
               both = errors_of(after_both, "turns");
  print_measurement("fit",
                    {{"glides", static_cast<int>(straight.glides.size())},
                     {"turns", static_cast<int>(turns.glides.size())},
                     {"landings", static_cast<int>(first.at_gate_ft.size())},
                     {"along_rms_at_200ft_before_ft", root_mean_square(first.at_gate_ft)},
                     {"along_rms_at_200ft_after_ft", root_mean_square(then.at_gate_ft)},
                     {"along_rms_at_200ft_after_turns_too_ft", root_mean_square(both.at_gate_ft)},
                     {"along_median_at_200ft_before_ft", median_size(first.at_gate_ft)},
                     {"along_median_at_200ft_after_ft", median_size(then.at_gate_ft)},
                     {"along_median_at_200ft_after_turns_too_ft", median_size(both.at_gate_ft)},
                     {"along_mean_at_200ft_before_ft", mean(first.at_gate_ft)},
                     {"along_mean_at_200ft_after_ft", mean(then.at_gate_ft)},
                     {"along_mean_at_200ft_after_turns_too_ft", mean(both.at_gate_ft)},
                     {"along_median_touchdown_before_ft", median_size(first.at_touchdown_ft)},
                     {"along_median_touchdown_after_ft", median_size(then.at_touchdown_ft)},
                     {"along_median_touchdown_after_turns_too_ft", median_size(both.at_touchdown_ft)},
                     {"along_rms_touchdown_before_ft", root_mean_square(first.at_touchdown_ft)},
                     {"along_rms_touchdown_after_ft", root_mean_square(then.at_touchdown_ft)},
                     {"along_rms_touchdown_after_turns_too_ft", root_mean_square(both.at_touchdown_ft)}});
}
