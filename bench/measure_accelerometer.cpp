// How well the touchdown is known with a phone's accelerometer, or with a time mark: simulated flights with
// known truth (tests/engine/debrief/simulated_feel.hpp), positions once a second.

#include <cstdio>

#include "bench/measurement.hpp"
#include "tests/engine/debrief/felt_landings.hpp"

int main(int count, char** arguments) {
  using namespace glidewright;
  using testing::ClockGiven;
  const int landings = count > 1 ? std::atoi(arguments[1]) : 500;
  nlohmann::ordered_json figures;
  const auto print = [&](const char* name, const testing::FeltScore& score, const std::string& key) {
    std::fprintf(
        stderr,
        "%-22s %4d landings  used %5.1f %%  median error %5.1f ft  rms %6.1f  inside %5.1f %%  median width "
        "%5.0f ft  (positions alone: %5.1f ft, %5.0f ft)  clock error %.2f s\n",
        name, score.landings, score.used_percent(), score.median_error_ft(), score.rms_error_ft(),
        score.inside_percent(), score.median_width_ft(), score.median_error_positions_ft(),
        score.median_width_positions_ft(), score.median_clock_error_s());
    for (const auto& [why, times] : score.left_out)
      std::fprintf(stderr, "    %d left out: %s\n", times, why.c_str());
    if (key.empty()) return;
    figures[key + "_used_percent"] = score.used_percent();
    figures[key + "_median_error_ft"] = score.median_error_ft();
    figures[key + "_coverage95_percent"] = score.inside_percent();
    if (score.inside_either > 0)
      figures[key + "_coverage95_left_out_counted_percent"] = score.inside_either_percent();
    figures[key + "_interval_width_ft"] = score.median_width_ft();
  };
  std::fprintf(
      stderr,
      "used: by what the phone felt; the rest is left to the positions and not in the figures beside it\n");
  for (const auto& [clock, name, key] : {std::tuple{ClockGiven::none, "clock found", "clock_found"},
                                         std::tuple{ClockGiven::same, "same clock", "same_clock"}}) {
    const auto scores = testing::score_felt(1.0, clock, 20261130, landings);
    for (const auto& [kind, score] : scores)
      print((std::string(name) + ", " + kind).c_str(), score, kind == "all" ? key : "");
  }
  print("time mark", testing::score_time_marks(1.0, 7, landings), "time_mark");
  print_measurement("accelerometer", figures);
}
