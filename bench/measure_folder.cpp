// A season: a thousand logs in one folder, debriefed by the program as a user would run it; stopped half way
// and gone on with; a file among them that is no log.

#include <fmt/format.h>
#include <signal.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <thread>

#include "bench/four_hours.hpp"
#include "bench/measurement.hpp"
#include "formats/track_writers.hpp"

namespace glidewright {
namespace {

constexpr int k_logs = 1000;

/// The reference flights in turn, each on another day and by another receiver's height, as GPX or CSV.
void write_season(const std::filesystem::path& folder) {
  std::vector<TrackLog> flights;
  for (const auto& flight : k_reference_flights) flights.push_back(read_reference(flight, "gpx").request.log);
  for (int i = 0; i < k_logs; ++i) {
    TrackLog log = flights[static_cast<std::size_t>(i) % flights.size()];
    for (Fix& fix : log.fixes) {
      fix.time_unix_s += 86400.0 * (i / 10);
      if (fix.altitude_ft) *fix.altitude_ft += 0.5 * (i % 60) - 15.0;
    }
    const bool gpx = i % 2 == 0;
    const auto file = folder / fmt::format("{:04}.{}", i, gpx ? "gpx" : "csv");
    if (write_file_atomically(file.string(), gpx ? write_gpx(log) : write_csv(log)))
      throw std::runtime_error("the logs cannot be written");
  }
  if (write_file_atomically((folder / "shopping.txt").string(), "milk, bread\n"))
    throw std::runtime_error("the file that is no log cannot be written");
}

std::size_t lines_of(const std::filesystem::path& journal) {
  const auto text = read_file(journal.string());
  return text ? static_cast<std::size_t>(std::count(text->begin(), text->end(), '\n')) : 0;
}

pid_t begin_debrief(const std::vector<std::string>& arguments) {
  const pid_t child = fork();
  if (child != 0) return child;
  std::vector<char*> argv = {const_cast<char*>(GLIDEWRIGHT_PROGRAM)};
  for (const auto& one : arguments) argv.push_back(const_cast<char*>(one.c_str()));
  argv.push_back(nullptr);
  if (!std::freopen("/dev/null", "w", stdout) || !std::freopen("/dev/null", "w", stderr)) _exit(127);
  execv(GLIDEWRIGHT_PROGRAM, argv.data());
  _exit(127);
}

/// Killed, not asked to stop, once half of the rows are there; then the same command again.
nlohmann::ordered_json killed_half_way(const std::vector<std::string>& arguments,
                                       const std::filesystem::path& journal) {
  const pid_t child = begin_debrief(arguments);
  while (lines_of(journal) < k_logs / 2 && waitpid(child, nullptr, WNOHANG) == 0)
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
  kill(child, SIGKILL);
  waitpid(child, nullptr, 0);
  const std::size_t before = lines_of(journal);
  const ProgramRun again = run_program(arguments);
  return {{"rows_before_kill", before},
          {"seconds_to_go_on", std::round(10.0 * again.seconds) / 10.0},
          {"rows_after", lines_of(journal)}};
}

}  // namespace
}  // namespace glidewright

int main() {
  using namespace glidewright;
  const auto place = std::filesystem::temp_directory_path() / fmt::format("glidewright-season-{}", getpid());
  const auto folder = place / "logs";
  std::filesystem::create_directories(folder);
  write_season(folder);
  const auto journal = place / "journal.jsonl", second = place / "second.jsonl";
  const ProgramRun whole = run_program({"debrief", folder.string(), "--journal", journal.string(), "--json"});
  const ProgramRun known = run_program({"debrief", folder.string(), "--journal", journal.string(), "--json"});
  const auto rounded = [](double value) { return std::round(10.0 * value) / 10.0; };
  print_measurement(
      "folder",
      {{"logs", k_logs},
       {"files_that_are_no_log", 1},
       {"seconds", rounded(whole.seconds)},
       {"logs_per_s", rounded(k_logs / whole.seconds)},
       {"peak_mb", rounded(whole.peak_mb)},
       {"rows", lines_of(journal)},
       {"all_but_the_bad_one_debriefed", whole.worked},
       {"seconds_when_all_are_known", rounded(known.seconds)},
       {"killed_half_way",
        killed_half_way({"debrief", folder.string(), "--journal", second.string(), "--json"}, second)}});
  std::filesystem::remove_all(place);
}
