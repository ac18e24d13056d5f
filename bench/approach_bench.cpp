// One approach by the reference integrator, many by the batch, and a whole plan over the spread.

#include <benchmark/benchmark.h>

#include <algorithm>
#include <cmath>

#include "bench/random_approaches.hpp"
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

/// Flights over the spread: the first argument picks the instruction set, the second is the number of
/// flights, the third the step in milliseconds. `off_ft`: median distance of the touchdowns from the
/// reference.
void batch(benchmark::State& state) {
  const auto sets = instruction_sets_here();
  const auto set = static_cast<std::size_t>(state.range(0));
  if (set >= sets.size()) {
    state.SkipWithError("not on this machine");
    return;
  }
  const Airplane airplane = airplane_of_data("demo-trainer");
  BatchRequest request = demonstration(airplane, 200);
  request.longest_step_s = 0.001 * static_cast<double>(state.range(2));
  const auto flown = fly_batch(request, sets[set]);
  const auto reference = fly_batch_by_reference(request, {0.02, Trace::none, Watch::touchdown_only});
  std::vector<double> off_ft;
  for (std::size_t i = 0; i < flown.size(); ++i) {
    off_ft.push_back(std::abs(flown[i].touchdown_ft - reference[i].touchdown_ft));
  }
  std::sort(off_ft.begin(), off_ft.end());
  request.count = state.range(1);
  for (auto _ : state) benchmark::DoNotOptimize(fly_batch(request, sets[set]));
  state.SetLabel(name_of(sets[set]));
  state.counters["off_ft"] = off_ft[off_ft.size() / 2];
  state.counters["approaches_per_s"] =
      benchmark::Counter(static_cast<double>(request.count), benchmark::Counter::kIsIterationInvariantRate);
}
BENCHMARK(batch)
    ->ArgNames({"set", "flights", "step_ms"})
    ->ArgsProduct({{0, 1, 2}, {10000}, {200}})
    ->ArgsProduct({{1}, {1000, 100000}, {200}})
    ->ArgsProduct({{1}, {10000}, {100, 50, 20}})
    ->Unit(benchmark::kMillisecond);

void plan_over_the_spread(benchmark::State& state) {
  const PlanRequest request = demo_request();
  for (auto _ : state) benchmark::DoNotOptimize(make_plan(request));
}
BENCHMARK(plan_over_the_spread)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace glidewright
