#pragma once
// What every measure_WHAT program prints: one object, the figures beside the machine that they hold for.

#include <cstdio>
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

/// Prints glidewright.measure/1 to standard output. `figures` is an object whose keys carry their units.
inline void print_measurement(std::string_view what, const nlohmann::ordered_json& figures) {
  const nlohmann::ordered_json measurement = {
      {"schema", "glidewright.measure/1"},
      {"what", what},
      {"machine", {{"cores", std::thread::hardware_concurrency()}, {"isa", machine_isa()}}},
      {"figures", figures}};
  std::puts(measurement.dump(2).c_str());
}

}  // namespace glidewright
