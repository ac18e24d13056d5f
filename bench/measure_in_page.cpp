// The same engine as WebAssembly, one thread in node: how many approaches a second, and how long one band
// takes. Built by web/engine/CMakeLists.txt, run by ./measure, which puts the figures among the others.

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <functional>
#include <string_view>

#include "bench/random_approaches.hpp"
#include "engine/reach/plan_band.hpp"

namespace glidewright {
namespace {

double best_seconds_of_three(const std::function<void()>& work) {
  double best_s = 1e9;
  for (int again = 0; again < 3; ++again) {
    const auto start = std::chrono::steady_clock::now();
    work();
    best_s =
        std::min(best_s, std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());
  }
  return best_s;
}

/// Demonstration's plan over the spread, as in measure_engine.
double approaches_per_s() {
  constexpr std::int64_t count = 10000;
  const Airplane airplane = airplane_of_data("demo-trainer");
  const BatchRequest request = demonstration(airplane, count);
  return static_cast<double>(count) / best_seconds_of_three([&] { fly_batch(request); });
}

/// The corridor at the interactive grid, as a slider redraws it: nine edges.
double band_ms() {
  PlanRequest plan;
  plan.airplane = airplane_of_data("demo-trainer");
  plan.conditions.wind.at_10m = {Degrees{270.0}, Knots{10.0}};
  plan.conditions.runway_true_deg = 243.0;
  plan.conditions.weight_lb = plan.airplane.handbook.maximum_weight_lb.value;
  plan.technique = taught_technique(plan.airplane, plan.conditions.weight_lb, 0.0);
  const BandRequest request = band_request_of(plan, {});
  return 1000.0 * best_seconds_of_three([&] { Band::over(request, Surety::mean); });
}

}  // namespace
}  // namespace glidewright

int main(int count, char** arguments) {
  const std::string_view what = count == 2 ? arguments[1] : "";
  if (what == "engine") {
    std::printf("{\"wasm_approaches_per_s\": %.0f}\n", glidewright::approaches_per_s());
  } else if (what == "band") {
    std::printf("{\"wasm_ms\": %.1f}\n", glidewright::band_ms());
  } else {
    std::puts("usage: measure_in_page engine | band");
    return 2;
  }
  return 0;
}
