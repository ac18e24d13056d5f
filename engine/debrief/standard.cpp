#include "engine/debrief/standard.hpp"

#include "engine/units/words.hpp"

namespace glidewright {
namespace {

constexpr double k_sure = 0.90;

std::string limits(const Box& box) {
  return signed_words(box.low_ft) + " to " + signed_words(box.high_ft) + " ft";
}

}  // namespace

Grade grade(const Standard& standard, const Attempt& attempt, const std::optional<Touchdown>& touchdown) {
  Grade result{standard, Verdict::not_graded, 0.0, ""};
  if (!standard.box) {
    // Why, in the words of the standard's own file: a limit that was not seen, or one that is not in feet.
    result.reason = "no limit in feet to grade against";
    if (!standard.source_state.empty()) result.reason += " (" + standard.source_state + ")";
    return result;
  }
  if (!standard.limit_seen) {
    result.reason =
        "the published text of " + limits(*standard.box) + " was not seen, so nothing is graded against it";
    return result;
  }
  if (standard.power_off && attempt.kind == AttemptKind::power_assisted) {
    result.reason = "flown with power; this standard asks for a power-off approach";
    return result;
  }
  if (attempt.outcome == Outcome::unfinished) {
    result.reason = "the log ends before the landing";
    return result;
  }
  if (attempt.outcome == Outcome::go_around) {
    result.verdict = Verdict::not_demonstrated;
    result.reason = "went around: not demonstrated, at the examiner's discretion";
    return result;
  }
  if (!touchdown) {
    result.verdict = Verdict::cannot_tell;
    result.reason = "landed, but this log does not show where";
    return result;
  }
  result.probability_met = touchdown->probability_between(standard.box->low_ft, standard.box->high_ft);
  if (result.probability_met >= k_sure) {
    result.verdict = Verdict::meets;
    result.reason = "touchdown within " + limits(*standard.box);
  } else if (result.probability_met <= 1.0 - k_sure) {
    result.verdict = Verdict::does_not_meet;
    result.reason = std::string("touchdown ") +
                    (touchdown->along_ft > standard.box->high_ft ? "beyond " : "short of ") +
                    limits(*standard.box);
    if (touchdown->along_ft >= standard.box->low_ft && touchdown->along_ft <= standard.box->high_ft) {
      result.reason = "touchdown most likely outside " + limits(*standard.box);
    }
  } else {
    result.verdict = Verdict::cannot_tell;
    result.reason = "the interval crosses the edge of " + limits(*standard.box);
  }
  if (attempt.kind == AttemptKind::unknown && standard.power_off) {
    result.reason += "; whether the power was off this log cannot tell";
  }
  return result;
}

}  // namespace glidewright
