#include "apps/cli/words/summary_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "formats/words/numbers.hpp"
#include "formats/words/sentences.hpp"

namespace glidewright {
namespace {

constexpr int k_file_width = 26;

std::string count_words(std::size_t count, const std::string& one, const std::string& more) {
  return whole(static_cast<double>(count)) + " " + (count == 1 ? one : more);
}

/// The end of a name tells logs apart, where it must be shortened.
std::string file_words(const std::string& file) {
  const std::string name(file_name_of(file));
  constexpr std::size_t k_longest = k_file_width - 2;
  return name.size() <= k_longest ? name : ".." + name.substr(name.size() - k_longest + 2);
}

std::string spaced(std::string words) {
  std::replace(words.begin(), words.end(), '_', ' ');
  return words;
}

std::string row_text(const std::string& file, const SummaryAttempt& attempt, const std::string& grade) {
  std::string time = attempt.time.substr(0, 16);
  std::replace(time.begin(), time.end(), 'T', ' ');
  const std::string touchdown =
      attempt.touchdown
          ? fmt::format("{}{}", padded_left(signed_feet(attempt.touchdown->along_ft), 7),
                        padded_left(fmt::format("{} to {}", signed_feet(attempt.touchdown->low95_ft),
                                                signed_feet(attempt.touchdown->high95_ft)),
                                    17))
          : padded_left(spaced(attempt.outcome), 24);
  return fmt::format("{}{}  {}  {}  {}\n", padded_right(file, k_file_width), time, touchdown,
                     padded_right(spaced(attempt.verdict), 16), grade);
}

std::string totals_text(const Summary& summary, const Page& page) {
  const auto totals = totals_of(summary);
  std::string text = fmt::format("{} debriefed: {}, {}.", count_words(totals.debriefed, "log", "logs"),
                                 count_words(totals.attempts, "attempt", "attempts"),
                                 count_words(totals.touchdowns, "touchdown", "touchdowns"));
  std::string standard;
  for (const auto& row : summary.rows) standard = standard.empty() ? row.standard : standard;
  if (!standard.empty())
    text += fmt::format(" Against {}: {} meet it, {} do not, of {} the log cannot tell.", standard,
                        totals.meets, totals.does_not_meet, totals.cannot_tell);
  return wrapped(text, {}, page);
}

}  // namespace

std::string progress_words(std::size_t done, std::size_t files, std::size_t refused) {
  constexpr std::size_t k_cells = 20;
  const std::size_t full = files == 0 ? k_cells : k_cells * done / files;
  std::string words = "[" + std::string(full, '#') + std::string(k_cells - full, '.') + "] " +
                      whole(static_cast<double>(done)) + " of " + count_words(files, "file", "files");
  if (refused > 0) words += fmt::format(", {} not debriefed", whole(static_cast<double>(refused)));
  return words;
}

std::string summary_text(const Summary& summary, const Page& page) {
  std::string text;
  if (totals_of(summary).debriefed > 0) {
    text += fmt::format("{}{}  {}  {}  {}\n", padded_right("file", k_file_width), padded_right("UTC", 16),
                        padded_left("ft past the point, 95 %", 24), padded_right("standard", 16), "log");
  }
  for (const auto& row : summary.rows) {
    const auto file = file_words(row.file);
    if (!row.not_debriefed_because.empty()) continue;
    if (row.attempts.empty()) text += padded_right(file, k_file_width) + "no attempt in it\n";
    for (const auto& attempt : row.attempts) text += row_text(file, attempt, row.grade);
  }
  text += (text.empty() ? "" : "\n") + totals_text(summary, page);
  std::string refused;
  for (const auto& row : summary.rows) {
    if (!row.not_debriefed_because.empty())
      refused += wrapped("- " + row.not_debriefed_because, {2, 4}, page);
  }
  if (!refused.empty()) text += "\nNot debriefed:\n" + refused;
  return text;
}

}  // namespace glidewright
