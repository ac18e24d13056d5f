#pragma once
// A lesson day of four hours, ten positions a second: a reference flight again and again, between its fixes a
// straight line. And what the program takes for it, as a user would see it.

#include <fmt/format.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <vector>

#include "bench/reference_flights.hpp"
#include "formats/time.hpp"

namespace glidewright {

inline std::string four_hours_at_ten_hertz(const TrackLog& flight) {
  constexpr double all_s = 4.0 * 3600.0, pause_s = 60.0, step_s = 0.1;
  const auto& fixes = flight.fixes;
  const double begins_s = fixes.front().time_unix_s, lasts_s = fixes.back().time_unix_s - begins_s;
  std::string text = "time_utc,lat_deg,lon_deg,alt_gnss_ft\n";
  for (double again_s = 0.0; again_s < all_s; again_s += lasts_s + pause_s) {
    std::size_t i = 0;
    for (double t = 0.0; t < lasts_s && again_s + t < all_s; t += step_s) {
      while (i + 2 < fixes.size() && fixes[i + 1].time_unix_s - begins_s <= t) ++i;
      const Fix &a = fixes[i], &b = fixes[i + 1];
      const double share = (begins_s + t - a.time_unix_s) / (b.time_unix_s - a.time_unix_s);
      const auto mix = [&](double from, double to) { return from + share * (to - from); };
      text +=
          fmt::format("{},{:.8f},{:.8f},{:.1f}\n", iso8601_utc(begins_s + again_s + t, 1),
                      mix(a.place.latitude_deg, b.place.latitude_deg),
                      mix(a.place.longitude_deg, b.place.longitude_deg), mix(*a.altitude_ft, *b.altitude_ft));
    }
  }
  return text;
}

struct ProgramRun {
  double seconds = 0.0;
  double peak_mb = 0.0;
  bool worked = false;
};

/// The program with these arguments, its output thrown away.
inline ProgramRun run_program(const std::vector<std::string>& arguments) {
  const auto start = std::chrono::steady_clock::now();
  const pid_t child = fork();
  if (child == 0) {
    std::vector<char*> argv = {const_cast<char*>(GLIDEWRIGHT_PROGRAM)};
    for (const auto& one : arguments) argv.push_back(const_cast<char*>(one.c_str()));
    argv.push_back(nullptr);
    if (!std::freopen("/dev/null", "w", stdout)) _exit(127);
    execv(GLIDEWRIGHT_PROGRAM, argv.data());
    _exit(127);
  }
  int status = 1;
  rusage used{};
  wait4(child, &status, 0, &used);
  ProgramRun run;
  run.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  run.peak_mb = static_cast<double>(used.ru_maxrss) / 1024.0;
  run.worked = WIFEXITED(status) && WEXITSTATUS(status) == 0;
  return run;
}

/// `debrief` of that day, with the reported wind or without (then no causes are sought).
inline ProgramRun debrief_four_hours(bool with_wind) {
  const ReferenceLog reference = read_reference("F22", "csv");
  const auto file = std::filesystem::temp_directory_path() / fmt::format("four-hours-{}.csv", getpid());
  const auto failed = write_file_atomically(file.string(), four_hours_at_ten_hertz(reference.request.log));
  if (failed) return {};
  const Runway& runway = *reference.request.runway;
  const std::string place = fmt::format("{:.8f},{:.8f},{:.3f},{:.1f},{:.0f}", runway.threshold.latitude_deg,
                                        runway.threshold.longitude_deg, runway.true_bearing.value,
                                        runway.elevation.value, runway.length.value);
  std::vector<std::string> arguments = {
      "debrief", file.string(),          "--runway",
      place,     "--touchdown-point-ft", fmt::format("{:.0f}", reference.request.touchdown_point.value),
      "--json"};
  if (with_wind) arguments.insert(arguments.end(), {"--wind", "210/9"});
  const ProgramRun run = run_program(arguments);
  std::filesystem::remove(file);
  return run;
}

}  // namespace glidewright
