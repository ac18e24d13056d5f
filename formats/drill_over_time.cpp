#include "formats/drill_over_time.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "formats/time.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

constexpr std::size_t k_in_a_period = 20;
constexpr std::size_t k_fewest_of_the_last = 10;

std::string day_of(double unix_s) {
  return iso8601_utc(unix_s, 0).substr(0, 10);
}

DrillPeriod period_of(const std::vector<KeptAnswer>& answers) {
  DrillPeriod period;
  period.first_unix_s = answers.front().time_unix_s;
  period.last_unix_s = answers.back().time_unix_s;
  period.score = score_of_kept(answers);
  // The score has the error of the mean.
  if (period.score.mean_ahead_sd_ft)
    period.ahead_spread_ft =
        *period.score.mean_ahead_sd_ft * std::sqrt(static_cast<double>(period.score.marks));
  return period;
}

std::string words_of(const DrillPeriod& period) {
  const DrillScore& score = period.score;
  const std::string first = day_of(period.first_unix_s), last = day_of(period.last_unix_s);
  std::string words =
      fmt::format("{}{}: {} of {} right; {} too low, {} too high", first, first == last ? "" : " to " + last,
                  score.all.right, score.all.of, score.said_too_low, score.said_too_high);
  if (score.mean_ahead_ft && period.ahead_spread_ft)
    words += fmt::format("; marks {} ft ahead on average, scattering by {} ft",
                         signed_feet(*score.mean_ahead_ft), feet(*period.ahead_spread_ft));
  return words + ".";
}

}  // namespace

std::vector<DrillPeriod> drill_periods(std::vector<KeptAnswer> answers) {
  std::stable_sort(answers.begin(), answers.end(),
                   [](const KeptAnswer& a, const KeptAnswer& b) { return a.time_unix_s < b.time_unix_s; });
  std::vector<DrillPeriod> periods;
  for (std::size_t from = 0; from < answers.size();) {
    std::size_t to = std::min(from + k_in_a_period, answers.size());
    if (answers.size() - to < k_fewest_of_the_last) to = answers.size();
    const auto at = [&](std::size_t i) { return answers.begin() + static_cast<std::ptrdiff_t>(i); };
    periods.push_back(period_of({at(from), at(to)}));
    from = to;
  }
  return periods;
}

Json drill_periods_to_json(const std::vector<DrillPeriod>& periods) {
  Json list = Json::array();
  for (const DrillPeriod& one : periods) {
    Json object{{"first", iso8601_utc(one.first_unix_s, 0)},
                {"last", iso8601_utc(one.last_unix_s, 0)},
                {"score", score_to_json(one.score)}};
    object["ahead_spread_ft"] = one.ahead_spread_ft ? number(*one.ahead_spread_ft, 0) : Json(nullptr);
    object["words"] = words_of(one);
    list.push_back(object);
  }
  return list;
}

std::vector<std::string> drill_period_words(const std::vector<DrillPeriod>& periods) {
  std::vector<std::string> words;
  if (periods.size() < 2) return words;
  for (const DrillPeriod& one : periods) words.push_back(words_of(one));
  return words;
}

}  // namespace glidewright
