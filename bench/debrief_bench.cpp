// The debrief of two hours at one position a second: the reference touch-and-goes, flown again and again.

#include <benchmark/benchmark.h>

#include "engine/debrief/debrief.hpp"
#include "formats/airplane_json.hpp"
#include "formats/file.hpp"
#include "formats/runway_json.hpp"
#include "formats/track_log.hpp"
#include "formats/wind_text.hpp"

namespace glidewright {
namespace {

const std::string k_flight = std::string(GLIDEWRIGHT_DATA) + "/demo/reference-flight/";

DebriefRequest two_hours() {
  DebriefRequest request;
  const std::string airplane = std::string(GLIDEWRIGHT_DATA) + "/airplanes/generic-trainer.json";
  request.airplane = fit_airplane(*read_airplane_json(*read_file(airplane), airplane));
  request.runway = *read_runway_json(*read_file(k_flight + "runway.json"), "runway.json");
  request.touchdown_point = Feet{600.0};
  request.reported_wind = *read_wind_text("210/9");
  const TrackLog once = *read_track_log(*read_file(k_flight + "touch-and-goes.gpx"), "touch-and-goes.gpx");
  request.log = once;
  const double span_s = once.fixes.back().time_unix_s - once.fixes.front().time_unix_s + 1.0;
  constexpr double two_hours_s = 7200.0;
  for (int again = 1; (again + 1) * span_s <= two_hours_s; ++again) {
    for (Fix fix : once.fixes) {
      fix.time_unix_s += again * span_s;
      request.log.fixes.push_back(fix);
    }
  }
  return request;
}

void debrief_two_hours(benchmark::State& state) {
  const DebriefRequest request = two_hours();
  std::size_t attempts = 0;
  for (auto _ : state) {
    const auto answer = make_debrief(request);
    attempts = answer.debrief->attempts.size();
    benchmark::DoNotOptimize(attempts);
  }
  state.counters["attempts"] = static_cast<double>(attempts);
  state.counters["fixes"] = static_cast<double>(request.log.fixes.size());
}
BENCHMARK(debrief_two_hours)->Unit(benchmark::kMillisecond);

void debrief_without_causes(benchmark::State& state) {
  DebriefRequest request = two_hours();
  request.reported_wind.reset();
  for (auto _ : state) benchmark::DoNotOptimize(make_debrief(request).debrief->attempts.size());
}
BENCHMARK(debrief_without_causes)->Unit(benchmark::kMillisecond);

void read_gpx_log(benchmark::State& state) {
  const std::string bytes = *read_file(k_flight + "touch-and-goes.gpx");
  for (auto _ : state) benchmark::DoNotOptimize(read_track_log(bytes, "touch-and-goes.gpx"));
  state.SetBytesProcessed(
      static_cast<std::int64_t>(state.iterations() * static_cast<std::int64_t>(bytes.size())));
}
BENCHMARK(read_gpx_log);

}  // namespace
}  // namespace glidewright
