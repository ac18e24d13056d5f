#include "engine/debrief/standard.hpp"

#include <algorithm>
#include <cmath>

#include "engine/units/normal.hpp"
#include "engine/units/words.hpp"

namespace glidewright {
namespace {

constexpr double k_sure = 0.90;

std::string limits(const Box& box) {
  return signed_words(box.low_ft) + " to " + signed_words(box.high_ft) + " ft";
}

/// Known on which side it missed. That so narrow a box is unlikely to hold so unsure a place says nothing of
/// the landing.
bool surely_outside(const Box& box, const Touchdown& touchdown) {
  constexpr double k_far_ft = 1e6;
  return touchdown.probability_between(-k_far_ft, box.low_ft) >= k_sure ||
         touchdown.probability_between(box.high_ft, k_far_ft) >= k_sure;
}

std::string speed_limits(const Standard& standard) {
  std::string limits;
  if (standard.speed_over_kt) limits += words(" +%.0f", *standard.speed_over_kt);
  if (standard.speed_under_kt)
    limits += words(limits.empty() ? " −%.0f" : "/−%.0f", *standard.speed_under_kt);
  return limits;
}

SpeedGrade grade_speed(const Standard& standard, const SpeedOnFinal& speed) {
  SpeedGrade result;
  result.speed = speed;
  const double over_kt = speed.mean_kcas - speed.wanted_kcas;
  const double at_most =
      standard.speed_over_kt ? normal_below((*standard.speed_over_kt - over_kt) / speed.sd_kt) : 1.0;
  const double too_slow =
      standard.speed_under_kt ? normal_below((-*standard.speed_under_kt - over_kt) / speed.sd_kt) : 0.0;
  result.probability_met = std::max(0.0, at_most - too_slow);
  if (result.probability_met >= k_sure) result.verdict = Verdict::meets;
  if (result.probability_met <= 1.0 - k_sure) result.verdict = Verdict::does_not_meet;
  result.reason = words("%.0f ± %.0f kt in the mean %s; %.0f%s wanted", speed.mean_kcas, 2.0 * speed.sd_kt,
                        speed.from_panel ? "by the panel" : "from ground speed and wind", speed.wanted_kcas,
                        speed_limits(standard).c_str());
  return result;
}

}  // namespace

Grade grade(const Standard& standard, const Attempt& attempt, const std::optional<Touchdown>& touchdown,
            const std::optional<SpeedOnFinal>& speed) {
  Grade result{standard, Verdict::not_graded, 0.0, "", {}};
  const bool limits_speed = standard.limit_seen && (standard.speed_over_kt || standard.speed_under_kt);
  if (limits_speed && speed && landed(attempt.outcome)) result.speed = grade_speed(standard, *speed);
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
  } else if (surely_outside(*standard.box, *touchdown)) {
    result.verdict = Verdict::does_not_meet;
    result.reason = std::string("touchdown ") +
                    (touchdown->along_ft > standard.box->high_ft ? "beyond " : "short of ") +
                    limits(*standard.box);
  } else {
    result.verdict = Verdict::cannot_tell;
    const bool holds_all =
        touchdown->low95_ft < standard.box->low_ft && touchdown->high95_ft > standard.box->high_ft;
    result.reason = (holds_all ? "the interval holds all of " : "the interval crosses the edge of ") +
                    limits(*standard.box);
  }
  if (attempt.kind == AttemptKind::unknown && standard.power_off) {
    result.reason += "; whether the power was off this log cannot tell";
  }
  return result;
}

}  // namespace glidewright
