// One approach by the reference integrator, and a whole plan over the spread.

#include <benchmark/benchmark.h>

#include "engine/plan/plan.hpp"
#include "engine/plan/taught.hpp"
#include "formats/airplane_json.hpp"
#include "formats/file.hpp"

namespace glidewright {
namespace {

PlanRequest demo_request() {
  const std::string path = std::string(GLIDEWRIGHT_DATA) + "/airplanes/demo-trainer.json";
  PlanRequest request;
  request.airplane = fit_airplane(*read_airplane_json(*read_file(path), path));
  request.conditions.wind.at_10m = {Degrees{270.0}, Knots{10.0}};
  request.conditions.runway_true_deg = 243.0;
  request.conditions.weight_lb = request.airplane.handbook.maximum_weight_lb.value;
  request.technique = taught_technique(request.airplane, request.conditions.weight_lb, 0.0);
  return request;
}

void reference_approach(benchmark::State& state) {
  const PlanRequest request = demo_request();
  Technique technique = without_rules(request.technique);
  technique.base_turn_s_after_abeam = 14.0;
  double touchdown_ft = 0.0;
  for (auto _ : state) {
    const auto flown = fly(request.airplane, request.conditions, technique);
    touchdown_ft = flown.touchdown->along_ft;
    benchmark::ClobberMemory();
  }
  state.counters["touchdown_ft"] = touchdown_ft;
}
BENCHMARK(reference_approach)->Unit(benchmark::kMillisecond);

/// The step that the plan's many flights use; `off_ft` is its distance from the reference.
void coarse_approach(benchmark::State& state) {
  const PlanRequest request = demo_request();
  Technique technique = without_rules(request.technique);
  technique.base_turn_s_after_abeam = 14.0;
  const double reference_ft = fly(request.airplane, request.conditions, technique).touchdown->along_ft;
  double touchdown_ft = 0.0;
  for (auto _ : state) {
    const auto flown =
        fly(request.airplane, request.conditions, technique, {}, {0.2, Trace::none, Watch::touchdown_only});
    touchdown_ft = flown.touchdown->along_ft;
    benchmark::ClobberMemory();
  }
  state.counters["off_ft"] = touchdown_ft - reference_ft;
}
BENCHMARK(coarse_approach)->Unit(benchmark::kMillisecond);

void plan_over_the_spread(benchmark::State& state) {
  const PlanRequest request = demo_request();
  for (auto _ : state) benchmark::DoNotOptimize(make_plan(request));
}
BENCHMARK(plan_over_the_spread)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace glidewright
