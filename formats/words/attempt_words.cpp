#include "formats/words/attempt_words.hpp"

#include <fmt/format.h>

#include "formats/debrief_json.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {

std::string attempt_words(const Attempt& attempt) {
  const std::string kind = attempt.kind == AttemptKind::unknown ? "power off or not, this log cannot tell"
                                                                : kind_name(attempt.kind);
  return fmt::format("{} UTC, {}-hand traffic, {}, {}", time_of_day(attempt.zero_unix_s()),
                     attempt.traffic == Traffic::left ? "left" : "right", kind,
                     outcome_name(attempt.outcome));
}

std::vector<NamedKeyPoint> named_key_points(const Attempt& attempt) {
  std::vector<NamedKeyPoint> points;
  const auto add = [&](const char* name, const std::optional<KeyPoint>& point) {
    if (point) points.push_back({name, &*point});
  };
  add("Abeam", attempt.abeam);
  add("Idle", attempt.idle);
  add("Base turn", attempt.base_turn);
  add("Base", attempt.base);
  add("Final turn", attempt.final_turn);
  add("Final", attempt.final_leg);
  add("Gate", attempt.gate);
  add("Go-around", attempt.go_around);
  return points;
}

}  // namespace glidewright
