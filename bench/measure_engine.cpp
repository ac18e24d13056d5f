// Approaches a second by the reference integrator, one core.

#include <chrono>

#include "bench/measurement.hpp"
#include "engine/batch/draws.hpp"
#include "engine/plan/taught.hpp"
#include "formats/airplane_json.hpp"
#include "formats/file.hpp"

int main() {
  using namespace glidewright;
  const std::string path = std::string(GLIDEWRIGHT_DATA) + "/airplanes/demo-trainer.json";
  const Airplane airplane = fit_airplane(*read_airplane_json(*read_file(path), path));
  Conditions conditions;
  conditions.wind.at_10m = {Degrees{270.0}, Knots{10.0}};
  conditions.runway_true_deg = 243.0;
  conditions.weight_lb = 2400.0;
  Technique technique = taught_technique(airplane, conditions.weight_lb, 0.0);
  technique.go_around_when_unstable = false;
  technique.base_turn_s_after_abeam = 14.0;
  constexpr int flights = 500;
  const auto start = std::chrono::steady_clock::now();
  for (std::uint64_t i = 0; i < flights; ++i) {
    fly(airplane, conditions, technique, draw_deviation({}, 0.0, 1, i));
  }
  const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  print_measurement("engine", {{"reference_approaches_per_s", static_cast<int>(flights / seconds)}});
}
