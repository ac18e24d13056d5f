#include "apps/cli/words/readiness_text.hpp"

#include <fmt/format.h>

#include <cmath>

#include "apps/cli/words/brief_text.hpp"
#include "formats/flown_by.hpp"
#include "formats/time.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

constexpr int k_enough_for_a_rate = 5;

std::string short_words(FlownBy flown_by) {
  switch (flown_by) {
    case FlownBy::student:
      return "alone";
    case FlownBy::student_prompted:
      return "with prompts";
    case FlownBy::instructor:
      return "by the instructor";
    case FlownBy::controls_taken:
      return "with the controls taken";
    case FlownBy::not_alone:
      return "with nothing said of who flew";
  }
  return "";
}

/// Rounded down: a lower bound must not be said larger than it is.
std::string at_least_in_20(double probability) {
  return fmt::format("{:.0f} in 20", std::floor(20.0 * probability + 1e-9));
}

std::string share_words(const Share& share) {
  const bool sure = std::abs(share.made - std::round(share.made)) < 0.005;
  return fmt::format("{} of {}", sure ? whole(share.made) : "about " + decimal(share.made, 1), share.of);
}

/// " (2 with prompts, 1 by the instructor)"; empty where none is.
std::string by_whom(const Readiness& found) {
  std::string words;
  for (const auto& [flown_by, count] : found.not_alone_by)
    words += fmt::format("{}{} {}", words.empty() ? " (" : ", ", count, short_words(flown_by));
  return words.empty() ? words : words + ")";
}

std::string attempts_text(const ReadinessOfLogs& result) {
  std::string text = heading("Attempts");
  for (const CountedAttempt& one : result.attempts) {
    const RatedAttempt& rated = one.rated;
    std::string outcome = rated.end == RatedAttempt::End::went_around ? "went around"
                          : rated.probability_met >= 0.9              ? "met"
                          : rated.probability_met <= 0.1
                              ? "not met"
                              : chance_in_20(rated.probability_met) + " for the box";
    if (rated.forced) outcome += ", forced: not counted";
    if (!rated.student_alone()) outcome += ", " + flown_by_words(rated.flown_by) + ": not counted";
    text += fmt::format("  {} {}  {}{}\n", iso8601_utc(one.time_unix_s, 0).substr(0, 10),
                        time_of_day(one.time_unix_s).substr(0, 5), outcome,
                        rated.first_of_day ? "; first of the day" : "");
  }
  return text;
}

}  // namespace

std::string readiness_text(const ReadinessOfLogs& result, const Page& page) {
  const Readiness& found = result.readiness;
  std::string text = labelled("Standard", result.standard_name, page);
  text += labelled("Counted",
                   fmt::format("the last {} power-off attempts flown alone, go-arounds among them: {}",
                               result.rules.window, found.met.of),
                   page);
  if (!result.attempts.empty()) text += attempts_text(result);
  text += heading("What that proves");
  if (found.met.of == 0) {
    return text + wrapped("No attempt counts yet, so nothing is proved.", {2, 2}, page);
  }
  const bool something = found.at_least >= 1.0 / 20.0;
  text += wrapped((something ? "At least " + at_least_in_20(found.at_least) + ", nine in ten sure: "
                             : std::string("Nothing yet: ")) +
                      share_words(found.met) + " met the standard.",
                  {2, 2}, page);
  if (found.met.of < k_enough_for_a_rate) {
    text += wrapped("Fewer than five attempts: no rate and no trend can be read from them.", {2, 2}, page);
  } else {
    text += wrapped(
        fmt::format("The next attempt: {} ({} to {}).", chance_in_20(found.next_mean),
                    whole(std::round(20.0 * found.next_low90)), whole(std::round(20.0 * found.next_high90))),
        {2, 2}, page);
  }
  std::string apart = fmt::format("In the box: {} landings.", share_words(found.in_box_of_landed));
  if (found.go_around_decisions.of > 0)
    apart +=
        fmt::format(" Go-arounds that the approach called for: {}.", share_words(found.go_around_decisions));
  apart +=
      fmt::format(" First of a day, the one cold try that a test is: {}.", share_words(found.first_of_days));
  text += wrapped(apart, {2, 2}, page);
  if (found.left_out_not_alone + found.left_out_forced > 0) {
    text += wrapped(fmt::format("Left out: {} not flown alone{}, {} gone around for traffic or a call.",
                                found.left_out_not_alone, by_whom(found), found.left_out_forced),
                    {2, 2}, page);
  }
  text += found.more_without_a_miss == 0
              ? wrapped(fmt::format("That is the {} asked for.", at_least_in_20(result.rules.wanted)), {2, 2},
                        page)
              : wrapped(fmt::format(
                            "{} more without a miss would prove {}. The window is fixed beforehand: stopping "
                            "when a run looks good proves nothing.",
                            found.more_without_a_miss, at_least_in_20(result.rules.wanted)),
                        {2, 2}, page);
  return text + wrapped("A human signs a student off, never a number.", {2, 2}, page);
}

}  // namespace glidewright
