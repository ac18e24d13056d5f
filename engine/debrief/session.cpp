#include "engine/debrief/session.hpp"

#include <algorithm>
#include <cmath>

#include "engine/debrief/lesson.hpp"
#include "engine/units/words.hpp"

namespace glidewright {
namespace {

std::string signed_tens(double feet) {
  return signed_words(tens(feet));
}

double half_width_ft(const Cause& cause) {
  return 0.5 * (cause.high95_ft - cause.low95_ft);
}

const Cause* find(const AttemptDebrief& one, const std::string& cause) {
  const auto& causes = one.causes.causes;
  const auto at =
      std::find_if(causes.begin(), causes.end(), [&](const Cause& c) { return c.cause == cause; });
  return at == causes.end() ? nullptr : &*at;
}

/// Of what the pilot decides, that which cost most; none where nothing is decided.
const Cause* costliest(const AttemptDebrief& one) {
  const Cause* most = nullptr;
  for (const Cause& cause : one.causes.causes) {
    if (cause.undecided() || std::abs(cause.effect_ft) < k_worth_a_word_ft) continue;
    if (remedy_for(cause.cause, cause.effect_ft > 0.0).empty()) continue;
    if (most == nullptr || std::abs(cause.effect_ft) > std::abs(most->effect_ft)) most = &cause;
  }
  return most;
}

/// How what cost most was answered in the next attempt.
std::string answer_words(const Cause& then, const Cause& now) {
  const bool same_way = then.effect_ft * now.effect_ft > 0.0;
  if (now.undecided() || std::abs(now.effect_ft) < 0.5 * std::abs(then.effect_ft)) return "answered";
  return same_way ? "not answered yet" : "answered too far";
}

std::string change_between(const AttemptDebrief& first, const AttemptDebrief& later) {
  std::string text =
      words("Attempt %d to %d: %s to %s ft", first.attempt.index, later.attempt.index,
            signed_tens(first.touchdown->along_ft).c_str(), signed_tens(later.touchdown->along_ft).c_str());
  if (const Cause* then = costliest(first))
    if (const Cause* now = find(later, then->cause))
      text += words("; %s %s to %s ft, %s", then->cause.c_str(), signed_tens(then->effect_ft).c_str(),
                    signed_tens(now->effect_ft).c_str(), answer_words(*then, *now).c_str());
  return text + ".";
}

struct Lean {
  std::string cause;
  std::vector<double> effects_ft;
  double mean_ft = 0.0;
  double half_width_ft = 0.0;
};

std::vector<Lean> leans_of(const std::vector<const AttemptDebrief*>& attempts) {
  std::vector<Lean> leans;
  for (const Cause& cause : attempts.front()->causes.causes) {
    Lean lean{cause.cause, {}, 0.0, 0.0};
    double half_widths_ft = 0.0;
    for (const AttemptDebrief* one : attempts) {
      const Cause* found = find(*one, cause.cause);
      if (found == nullptr) continue;
      lean.effects_ft.push_back(found->effect_ft);
      lean.mean_ft += found->effect_ft;
      half_widths_ft += half_width_ft(*found);
    }
    const auto n = static_cast<double>(lean.effects_ft.size());
    if (n < 2.0) continue;
    lean.mean_ft /= n;
    lean.half_width_ft = half_widths_ft / n;
    leans.push_back(std::move(lean));
  }
  return leans;
}

/// The pilot's decision that leans most one way; none where none is surer than its error.
const Lean* to_practise(const std::vector<Lean>& leans) {
  const Lean* most = nullptr;
  for (const Lean& lean : leans) {
    if (remedy_for(lean.cause, lean.mean_ft > 0.0).empty()) continue;
    if (std::abs(lean.mean_ft) <= lean.half_width_ft || std::abs(lean.mean_ft) < k_worth_a_word_ft) continue;
    if (most == nullptr || std::abs(lean.mean_ft) > std::abs(most->mean_ft)) most = &lean;
  }
  return most;
}

std::string listed(const std::vector<double>& effects_ft) {
  std::string text;
  for (std::size_t i = 0; i < effects_ft.size(); ++i) {
    if (i > 0) text += i + 1 == effects_ft.size() ? " and " : ", ";
    text += signed_tens(effects_ft[i]);
  }
  return text;
}

std::string leans_no_way() {
  return "No decision cost the same way in all of these by more than its error. More attempts in such a wind "
         "will tell.";
}

}  // namespace

std::optional<Session> session_of(const std::vector<AttemptDebrief>& attempts) {
  std::vector<const AttemptDebrief*> explained;
  for (const AttemptDebrief& one : attempts)
    if (!one.causes.causes.empty() && one.touchdown) explained.push_back(&one);
  if (explained.size() < 2) return std::nullopt;
  std::optional<Session> session(std::in_place);
  session->attempts = static_cast<int>(explained.size());
  for (std::size_t i = 1; i < explained.size(); ++i)
    session->changes.push_back(change_between(*explained[i - 1], *explained[i]));
  const auto leans = leans_of(explained);
  const Lean* lean = to_practise(leans);
  if (lean == nullptr) {
    session->recommendation = leans_no_way();
    return session;
  }
  session->cause = lean->cause;
  session->mean_ft = lean->mean_ft;
  session->low95_ft = lean->mean_ft - lean->half_width_ft;
  session->high95_ft = lean->mean_ft + lean->half_width_ft;
  session->recommendation =
      words("One thing to practise: %s. %s here: %s ft, %s ± %.0f in the mean.",
            remedy_for(lean->cause, lean->mean_ft > 0.0).c_str(), capitalised(lean->cause).c_str(),
            listed(lean->effects_ft).c_str(), signed_tens(lean->mean_ft).c_str(), tens(lean->half_width_ft));
  return session;
}

}  // namespace glidewright
