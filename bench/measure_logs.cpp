// How right the debrief of the reference flights is: positions alone, no wind and no airplane given.

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>

#include "bench/four_hours.hpp"
#include "bench/measurement.hpp"
#include "bench/reference_flights.hpp"
#include "bench/written_logs.hpp"
#include "formats/time.hpp"

namespace glidewright {
namespace {

double median(std::vector<double> values) {
  if (values.empty()) return 0.0;
  std::sort(values.begin(), values.end());
  const std::size_t half = values.size() / 2;
  return values.size() % 2 ? values[half] : 0.5 * (values[half - 1] + values[half]);
}

struct Errors {
  int attempts = 0, found = 0, false_ones = 0, kind_right = 0, outcome_right = 0, landings = 0, covered = 0;
  std::vector<double> touchdown_ft, width_ft, base_turn_s, gate_along_ft, wind_kt, wind_deg;
};

bool outcome_is(const nlohmann::json& truth, Outcome outcome) {
  if (truth["outcome"] == "go-around") return outcome == Outcome::go_around;
  return outcome == Outcome::landed || outcome == Outcome::touch_and_go || outcome == Outcome::stop_and_go;
}

void add_attempt(const nlohmann::json& truth, double log_t0, const AttemptDebrief& one,
                 const std::string& log, Errors& errors) {
  const bool power_off = truth["kind"] == "power-off-180";
  errors.kind_right += one.attempt.kind == (power_off ? AttemptKind::power_off : AttemptKind::power_assisted);
  errors.outcome_right += outcome_is(truth, one.attempt.outcome);
  if (one.attempt.base_turn) {
    errors.base_turn_s.push_back(std::abs(one.attempt.base_turn->time_unix_s - log_t0 -
                                          truth["base_turn_start"]["t_s"].get<double>()));
  }
  if (one.attempt.gate && truth["gate_200ft"].is_object()) {
    errors.gate_along_ft.push_back(
        std::abs(one.attempt.gate->place.along_ft - truth["gate_200ft"]["along_ft"].get<double>()));
  }
  if (!truth["touchdown"].is_object() || !one.touchdown) return;
  const double touched = truth["touchdown"]["along_ft"];
  const Touchdown& found = *one.touchdown;
  ++errors.landings;
  errors.covered += touched >= found.low95_ft && touched <= found.high95_ft;
  errors.touchdown_ft.push_back(std::abs(found.along_ft - touched));
  errors.width_ft.push_back(found.high95_ft - found.low95_ft);
  std::fprintf(stderr, "%-8s attempt %d  truth %+7.0f  found %+7.0f (%+.0f to %+.0f)  error %+5.0f%s\n",
               log.c_str(), one.attempt.index, touched, found.along_ft, found.low95_ft, found.high95_ft,
               found.along_ft - touched,
               touched < found.low95_ft || touched > found.high95_ft ? "  outside" : "");
}

void add_log(const ReferenceLog& reference, Errors& errors) {
  const auto answer = make_debrief(reference.request);
  const auto& truths = reference.truth["attempts"];
  errors.attempts += static_cast<int>(truths.size());
  if (!answer.debrief) return;
  const double log_t0 = *unix_seconds(reference.truth["log_t0_utc"].get<std::string>());
  std::vector<bool> taken(truths.size(), false);
  for (const auto& one : answer.debrief->attempts) {
    // An attempt is the one whose abeam lies within 20 s.
    std::size_t match = truths.size();
    for (std::size_t i = 0; i < truths.size(); ++i) {
      const double abeam = log_t0 + truths[i]["abeam"]["t_s"].get<double>();
      if (one.attempt.abeam && std::abs(one.attempt.abeam->time_unix_s - abeam) < 20.0) match = i;
    }
    if (match == truths.size() || taken[match]) {
      ++errors.false_ones;
      continue;
    }
    taken[match] = true;
    ++errors.found;
    add_attempt(truths[match], log_t0, one, reference.name, errors);
  }
  const auto& wind = reference.truth["wind"]["at_10m"];
  if (wind["speed_kt"].get<double>() > 5.0) {
    errors.wind_kt.push_back(std::abs(answer.debrief->wind.speed_kt - wind["speed_kt"].get<double>()));
    errors.wind_deg.push_back(
        std::abs(wrap_180_deg(answer.debrief->wind.from_true_deg - wind["from_deg_true"].get<double>())));
  }
}

/// Megabytes a second of one reader, best of three.
double reading_speed(const std::string& bytes) {
  double best_s = 1e9;
  for (int round = 0; round < 3; ++round) {
    const auto start = std::chrono::steady_clock::now();
    const auto log = read_track_log(bytes, "log");
    const double took_s = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    if (!log || log->fixes.size() != static_cast<std::size_t>(k_written_fixes)) {
      std::fprintf(stderr, "a written log was not read whole\n");
      return 0.0;
    }
    best_s = std::min(best_s, took_s);
  }
  return std::round(static_cast<double>(bytes.size()) / 1e6 / best_s);
}

double percent(int part, int whole) {
  return whole > 0 ? std::round(1000.0 * part / whole) / 10.0 : 0.0;
}

}  // namespace
}  // namespace glidewright

int main() {
  using namespace glidewright;
  Errors by_rate[2];
  int logs = 0;
  double seconds = 0.0;
  for (int rate = 0; rate < 2; ++rate) {
    for (const auto& flight : k_reference_flights) {
      const ReferenceLog reference = read_reference(flight, rate == 0 ? "gpx" : "csv");
      const auto start = std::chrono::steady_clock::now();
      add_log(reference, by_rate[rate]);
      seconds += std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
      ++logs;
    }
  }
  Errors with_panel;
  for (const auto& flight : k_reference_flights)
    if (has_panel(flight)) add_log(read_reference(flight, "gpx+panel"), with_panel);
  const ProgramRun day = debrief_four_hours(false), day_with_causes = debrief_four_hours(true);
  if (!day.worked || !day_with_causes.worked)
    std::fprintf(stderr, "the day of four hours was not debriefed\n");
  const Errors &slow = by_rate[0], &fast = by_rate[1];
  const auto both = [&](std::vector<double> Errors::*values) {
    auto all = slow.*values;
    all.insert(all.end(), (fast.*values).begin(), (fast.*values).end());
    return median(all);
  };
  const auto sum = [&](int Errors::*count) { return slow.*count + fast.*count; };
  print_measurement("logs",
                    {{"attempts_found_percent", percent(sum(&Errors::found), sum(&Errors::attempts))},
                     {"false_attempts", sum(&Errors::false_ones)},
                     {"kind_right_percent", percent(sum(&Errors::kind_right), sum(&Errors::found))},
                     {"outcome_right_percent", percent(sum(&Errors::outcome_right), sum(&Errors::found))},
                     {"touchdown_median_error_1hz_ft", std::round(median(slow.touchdown_ft))},
                     {"touchdown_median_error_5hz_ft", std::round(median(fast.touchdown_ft))},
                     {"touchdown_median_error_avionics_ft", std::round(median(with_panel.touchdown_ft))},
                     {"coverage95_percent", percent(sum(&Errors::covered), sum(&Errors::landings))},
                     {"interval_width_1hz_ft", std::round(median(slow.width_ft))},
                     {"interval_width_5hz_ft", std::round(median(fast.width_ft))},
                     {"interval_width_avionics_ft", std::round(median(with_panel.width_ft))},
                     {"base_turn_median_error_s", std::round(100.0 * both(&Errors::base_turn_s)) / 100.0},
                     {"gate_along_median_error_ft", std::round(both(&Errors::gate_along_ft))},
                     {"wind_median_error_kt", std::round(10.0 * both(&Errors::wind_kt)) / 10.0},
                     {"wind_direction_median_error_deg", std::round(both(&Errors::wind_deg))},
                     {"logs_per_s", std::round(logs / seconds)},
                     {"gpx_mb_per_s", reading_speed(written_gpx())},
                     {"igc_mb_per_s", reading_speed(written_igc())},
                     {"nmea_mb_per_s", reading_speed(written_nmea())},
                     {"csv_mb_per_s", reading_speed(written_csv())},
                     {"debrief_4h_10hz_s", std::round(100.0 * day.seconds) / 100.0},
                     {"debrief_4h_10hz_with_causes_s", std::round(100.0 * day_with_causes.seconds) / 100.0},
                     {"peak_mb", std::round(std::max(day.peak_mb, day_with_causes.peak_mb))}});
}
