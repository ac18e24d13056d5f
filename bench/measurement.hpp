#pragma once
// What every measure_WHAT program prints: one object, the figures beside the machine that they hold for.

#include <cstdio>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <string_view>
#include <thread>

namespace glidewright {

/// The widest vector instructions that this machine runs, by name.
inline std::string_view machine_isa() {
#if defined(__x86_64__)
  if (__builtin_cpu_supports("avx512f")) return "avx512f";
  if (__builtin_cpu_supports("avx2")) return "avx2";
  if (__builtin_cpu_supports("avx")) return "avx";
  return "sse2";
#elif defined(__aarch64__)
  return "neon";
#else
  return "scalar";
#endif
}

/// The figures that ./measure found for the same code in the page, if it could.
inline nlohmann::ordered_json figures_in_page() {
  const char* text = std::getenv("GLIDEWRIGHT_FIGURES_IN_PAGE");
  const auto figures = nlohmann::ordered_json::parse(text ? text : "{}", nullptr, false);
  return figures.is_object() ? figures : nlohmann::ordered_json::object();
}

/// Prints glidewright.measure/1 to standard output. `figures` is an object whose keys carry their units.
inline void print_measurement(std::string_view what, nlohmann::ordered_json figures) {
  figures.update(figures_in_page());
  const nlohmann::ordered_json measurement = {
      {"schema", "glidewright.measure/1"},
      {"what", what},
      {"machine", {{"cores", std::thread::hardware_concurrency()}, {"isa", machine_isa()}}},
      {"figures", figures}};
  std::puts(measurement.dump(2).c_str());
}

}  // namespace glidewright
