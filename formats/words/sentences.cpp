#include "formats/words/sentences.hpp"

#include <fmt/format.h>

#include <cmath>
#include <vector>

#include "engine/technique/technique_numbers.hpp"
#include "formats/flown_by.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {
std::string safety_sentence() {
  return "An aid for planning on the ground, never guidance in flight. The handbook, local procedures, the "
         "pilot in "
         "command and the supervising instructor prevail. Learn it before take-off; outside first. Below 200 "
         "ft and "
         "not stable: go around.";
}

std::string gate_conditions(const Plan& plan) {
  return fmt::format(
      "Landing flap set 5 s, {:.0f}–{:.0f} kt (+10/−5), bank ≤ 15°, lined up, spot still; slip out by 100 "
      "ft.",
      plan.speeds.final_kcas - 5.0, plan.speeds.final_kcas + 10.0);
}

std::string slip_rule(const PlanRequest& request) {
  if (!request.technique.slip_when_high) return {};
  const double limit_deg = request.airplane.handbook.slip_flap_limit_deg;
  return fmt::format("wings level on final, while you would land beyond {:+.0f} ft; out by 100 ft{}",
                     request.technique.planned_touchdown_ft + k_slip_when_beyond_ft,
                     limit_deg < request.technique.landing_flap_deg
                         ? fmt::format("; not with more than {:.0f}° of flap", limit_deg)
                         : "");
}

std::string crab_words(const Cue& cue) {
  const double crab = std::round(std::abs(cue.crab_deg));
  return crab > 0.0 ? fmt::format("crab {:.0f}° allowed for", crab) : "no crab to allow for";
}

std::string debrief_safety_sentence() {
  return "A teaching aid, never guidance in flight. The handbook, local procedures, the pilot in command and "
         "the "
         "supervising instructor prevail.";
}

std::string verdict_words(Verdict verdict) {
  switch (verdict) {
    case Verdict::meets:
      return "meets";
    case Verdict::does_not_meet:
      return "does not meet";
    case Verdict::cannot_tell:
      return "this log cannot tell";
    case Verdict::not_demonstrated:
      return "not demonstrated";
    case Verdict::not_graded:
      return "not graded";
  }
  return "";
}

std::string standard_words(const Standard& standard) {
  if (standard.set_by.empty()) return standard.name;
  return standard.name + ", version " + standard.version + ", set by " + standard.set_by;
}

std::string speed_sentence(const Grade& grade) {
  if (!grade.speed) return {};
  const std::string verdict = grade.speed->verdict == Verdict::cannot_tell
                                  ? ": this log cannot tell; "
                                  : " " + verdict_words(grade.speed->verdict) + ": ";
  return "Speed on final" + verdict + grade.speed->reason + ".";
}

std::vector<std::string> other_verdicts(const std::vector<Grade>& grades, const Grade& first) {
  std::vector<std::string> lines;
  std::vector<const Grade*> not_graded;
  int same = 0;
  for (const Grade& grade : grades) {
    if (&grade == &first) continue;
    if (grade.verdict == Verdict::not_graded) {
      not_graded.push_back(&grade);
    } else if (grade.verdict == first.verdict) {
      ++same;
    } else {
      lines.push_back(grade.standard.name + ": " + verdict_words(grade.verdict) + ".");
    }
  }
  // A landing in the box at another speed than the standard allows is not quietly "the same".
  for (const Grade& grade : grades)
    if (&grade != &first && grade.speed && grade.speed->verdict == Verdict::does_not_meet)
      lines.push_back(grade.standard.name + ": " + speed_sentence(grade));
  if (same > 0) lines.push_back(fmt::format("{} other {}: the same.", same, same == 1 ? "limit" : "limits"));
  if (not_graded.size() == 1) {
    lines.push_back(not_graded.front()->standard.name + ": not graded; " + not_graded.front()->reason + ".");
  } else if (!not_graded.empty()) {
    lines.push_back(fmt::format("{} others are not graded: no limit in feet, or for another kind of landing.",
                                not_graded.size()));
  }
  return lines;
}

std::string marks_sentence(const AttemptMarks& marks) {
  std::vector<std::string> said;
  if (marks.flown_by) said.push_back(flown_by_words(*marks.flown_by));
  if (marks.go_around_forced) said.emplace_back("the go-around was forced from outside and does not count");
  if (!marks.note.empty()) said.push_back(marks.note);
  if (!marks.marked_by.empty()) said.push_back("by " + marks.marked_by);
  std::string sentence;
  for (const auto& part : said) sentence += (sentence.empty() ? "" : "; ") + part;
  return sentence;
}

std::string checklist_words(const Checklist& checklist) {
  std::string words;
  for (std::size_t i = 0; i < k_checklist.size(); ++i) {
    if (!checklist[i]) continue;
    words +=
        (words.empty() ? "" : ", ") + std::string(*checklist[i] ? k_checklist[i].yes : k_checklist[i].no);
  }
  return words;
}

std::vector<std::string> left_to_tick(const Checklist& checklist) {
  std::vector<std::string> questions;
  for (std::size_t i = 0; i < k_checklist.size(); ++i)
    if (!checklist[i]) questions.emplace_back(k_checklist[i].asked);
  return questions;
}

std::string_view file_name_of(std::string_view path) {
  return path.substr(path.rfind('/') + 1);  // npos + 1 is 0
}

bool missed(const AttemptDebrief& one, Box box) {
  if (!one.touchdown) return one.attempt.go_around.has_value();
  return one.touchdown->along_ft < box.low_ft || one.touchdown->along_ft > box.high_ft;
}

std::string last_chances_sentence(const AttemptDebrief& one, Box box) {
  if (!one.band || !missed(one, box)) return {};
  const auto when = [&](LastChance::Mean mean) -> std::string {
    for (const LastChance& chance : one.band->last_chances) {
      if (chance.mean == mean) {
        return fmt::format("{:.0f} s past abeam ({} ft)", chance.time_s, feet(chance.height_ft));
      }
    }
    return {};
  };
  using Mean = LastChance::Mean;
  const std::string low = when(Mean::shortest_way);
  const bool short_of = one.touchdown && one.touchdown->along_ft < box.low_ft;
  if (short_of || (!one.touchdown && !low.empty())) {
    if (low.empty()) return {};
    return "From " + low + " on it was too low for the shortest way in, nothing more spent.";
  }
  const std::string path = when(Mean::path), flaps = when(Mean::flaps), slip = when(Mean::slip);
  if (path.empty()) return {};
  std::string sentence = "From " + path + " on the path alone could not lose the height";
  if (!flaps.empty()) sentence += ", from " + flaps + " not flaps either";
  if (!slip.empty()) return sentence + ", from " + slip + " not even a slip.";
  return sentence + (flaps.empty() ? "; flaps as taught still could." : "; a slip still could, to the gate.");
}

}  // namespace glidewright
