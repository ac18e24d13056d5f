// record show, correct
#include <fmt/format.h>

#include <algorithm>

#include "apps/cli/commands/record/record.hpp"
#include "apps/cli/inputs/standards.hpp"
#include "apps/cli/terminal.hpp"
#include "apps/cli/words/brief_text.hpp"
#include "apps/cli/words/readiness_text.hpp"
#include "formats/drill_json.hpp"
#include "formats/drill_over_time.hpp"
#include "formats/flown_by.hpp"
#include "formats/readiness_json.hpp"
#include "formats/time.hpp"
#include "formats/words/drill_words.hpp"
#include "formats/words/numbers.hpp"
#include "store/correction.hpp"
#include "store/record_json.hpp"

namespace glidewright::record {
namespace {

std::string day_of(double unix_s) {
  return iso8601_utc(unix_s, 0).substr(0, 10);
}

std::string touchdown_words(const Circumstances& how) {
  if (!how.along_ft || !how.along_low95_ft || !how.along_high95_ft) return {};
  return ", touchdown " + feet_with_interval(*how.along_ft, *how.along_low95_ft, *how.along_high95_ft) +
         " ft";
}

std::string cause_words(const Circumstances& how) {
  if (how.largest_cause.empty() || !how.largest_cause_ft) return {};
  return fmt::format(", largest cause {} {} ft", how.largest_cause, signed_feet(*how.largest_cause_ft));
}

std::string heights_words(const Circumstances& how) {
  if (how.height_unit.empty()) return {};
  return how.height_unit == "ft" ? ", heights taken in feet" : ", heights taken in metres";
}

/// By number, because a correction names it; who assessed it last, and why.
std::string filed_text(const std::vector<FiledAttempt>& attempts, const StandardInForce& standard,
                       const Page& page) {
  if (attempts.empty()) return {};
  std::string text = heading("Filed");
  int by_other_standards = 0;
  for (const FiledAttempt& one : attempts) {
    const Assessment* now = newest_by(one, standard);
    if (now == nullptr) {
      by_other_standards += newest_by(one, standard.standard.id) == nullptr;
      continue;
    }
    std::string line =
        fmt::format("attempt {}: {}, {} of {}{}{}{}, by {}", one.number, iso8601_utc(one.time_unix_s, 0),
                    one.index, one.log_name, heights_words(now->circumstances),
                    touchdown_words(now->circumstances), cause_words(now->circumstances), now->stamp.by);
    if (!now->circumstances.marks.empty()) line += ", with marks";
    if (!now->rated.student_alone()) line += ", " + flown_by_words(now->rated.flown_by);
    if (one.assessments.size() > 1 && !now->reason.empty())
      line += fmt::format(", version {}: {}", one.assessments.size(), now->reason);
    if (one.in_trash) line += " (in the trash)";
    text += wrapped(line, {2, 4}, page);
  }
  if (by_other_standards > 0)
    text +=
        wrapped(fmt::format("{} judged by another standard only; --standard shows {}.",
                            counted(by_other_standards, "attempt"), by_other_standards == 1 ? "it" : "them"),
                {2, 4}, page);
  if (const int others = judged_by_other_limits(attempts, standard); others > 0)
    text +=
        wrapped(fmt::format("{} judged by an earlier version of this standard, with other limits, and not "
                            "counted; record file judges {} anew.",
                            counted(others, "attempt"), others == 1 ? "its log" : "their logs"),
                {2, 4}, page);
  return text;
}

std::string notes_text(const StudentArchive& archive, const Page& page) {
  std::string text;
  for (const Note& note : archive.notes) {
    if (note.in_trash) continue;
    const std::string about = note.attempt ? fmt::format(", of attempt {}", *note.attempt) : std::string();
    text += wrapped(fmt::format("note {}, {}, {}{}: {}", note.number, day_of(note.stamp.unix_s),
                                note.stamp.by, about, note.text),
                    {2, 4}, page);
  }
  return text.empty() ? text : heading("Notes") + text;
}

std::string sign_offs_text(const StudentArchive& archive, const Page& page) {
  std::string text;
  for (const SignOff& one : archive.sign_offs) {
    if (!one.withdraws.empty()) continue;
    std::string line =
        fmt::format("sign-off {}, {}: {}, signed by {}", one.number, one.signed_on, one.what, one.signed_by);
    for (const SignOff& other : archive.sign_offs)
      if (other.withdraws == one.uid)
        line += fmt::format("; withdrawn {} by {}", other.signed_on, other.signed_by);
    text += wrapped(line, {2, 4}, page);
  }
  return text.empty() ? text : heading("Signed off") + text;
}

std::string groups_text(const std::vector<GroupShare>& groups, const Page& page) {
  std::string words;
  for (const GroupShare& one : groups)
    words += fmt::format("{}{}: {} of {} ({:.0f} to {:.0f} in 20)", words.empty() ? "" : "; ", one.group,
                         decimal(one.met.made, 1), one.met.of, 20.0 * one.low90, 20.0 * one.high90);
  return words.empty() ? words : wrapped(words + ".", {2, 4}, page);
}

std::string learning_words(const LearningCurve& curve) {
  const std::string halves =
      fmt::format("Earlier half {} of {}, later half {} of {}: ", decimal(curve.earlier.made, 1),
                  curve.earlier.of, decimal(curve.later.made, 1), curve.later.of);
  constexpr double k_sure = 0.9;
  if (curve.probability_better > k_sure) return halves + "better, nine in ten sure.";
  if (curve.probability_better < 1.0 - k_sure) return halves + "worse, nine in ten sure.";
  return halves + "no trend can be read from that.";
}

std::string progress_text(const StudentProgress& progress, const Page& page) {
  std::string text;
  for (const CauseOverTime& one : progress.causes)
    text += wrapped(fmt::format("{}: {} ft on average ({} to {}), differing by {} ft; {} attempts", one.cause,
                                signed_feet(one.mean_ft), signed_feet(one.low90_ft),
                                signed_feet(one.high90_ft), feet(one.spread_ft), one.attempts),
                    {2, 4}, page);
  if (!text.empty()) text = heading("What moves the landing") + text;
  std::string whether;
  if (progress.learning) whether += wrapped(learning_words(*progress.learning), {2, 4}, page);
  for (const auto* groups : {&progress.by_wind, &progress.by_airplane, &progress.by_instructor})
    whether += groups_text(*groups, page);
  if (!whether.empty()) text += heading("The standard met") + whether;
  std::string next;
  for (const Practice& one : progress.practise) next += wrapped(one.what + ". " + one.reason, {2, 4}, page);
  return next.empty() ? text : text + heading("Practise next") + next;
}

std::string drills_text(const StudentArchive& archive, const Page& page) {
  std::string text;
  for (const std::string& sentence : drill_score_words(score_of_kept(archive.answers)))
    text += wrapped(sentence, {2, 4}, page);
  for (const std::string& sentence : drill_period_words(drill_periods(archive.answers)))
    text += wrapped(sentence, {2, 4}, page);
  return text.empty() ? text : heading("Drills") + text;
}

/// Which version of a house standard is counted by.
std::string version_text(const Standard& standard, const Page& page) {
  if (standard.version.empty()) return {};
  std::string words = fmt::format("{} of {}, set by {}", standard.version, standard.id, standard.set_by);
  if (standard.box) words += ": " + box_words(*standard.box) + " past the point";
  return labelled("Version", words, page);
}

ExitCode show(const Options& options) {
  auto opened = open_for_student(options);
  if (!opened) return input_is_at_fault(opened.error());
  const auto standard = standard_to_count_by(opened->records, options.standard);
  if (!standard) return input_is_at_fault(standard.error());
  const auto archive = opened->records.archive_of(opened->student.number);
  if (!archive) return input_is_at_fault(archive.error());
  if (options.json) {
    write_json(record_to_json(*archive, *standard));
    return ExitCode::done;
  }
  const ReadinessOfLogs result = readiness_from(archive->attempts, *standard);
  const StudentProgress progress = progress_from(archive->attempts, result, *standard);
  const Page page = standard_output_page();
  write_standard_output(
      printed(labelled("Student", opened->student.name, page) + version_text(standard->standard, page) +
                  readiness_text(result, page) + progress_text(progress, page) +
                  filed_text(archive->attempts, *standard, page) + drills_text(*archive, page) +
                  notes_text(*archive, page) + sign_offs_text(*archive, page),
              page));
  return ExitCode::done;
}

std::optional<bool> yes_or_no(const std::string& given) {
  return given.empty() ? std::nullopt : std::optional<bool>(given == "yes");
}

std::string judged_otherwise_words(const FiledAttempt& attempt, const Standard& standard) {
  if (newest_by(attempt, standard.id) != nullptr)
    return fmt::format(
        "attempt {} was judged by another version of {}; record file with its log judges it by this one",
        attempt.number, standard.id);
  return fmt::format("attempt {} was judged by {}, not by {}; --standard names it", attempt.number,
                     attempt.assessments.back().standard_id, standard.id);
}

ExitCode correct(const Options& options) {
  if (options.flown_by.empty() && options.forced.empty() && options.met.empty() && options.in_box.empty()) {
    write_error(
        "record correct: --flown-by, --forced, --met or --in-box was expected, to say what is corrected");
    return ExitCode::wrong_usage;
  }
  auto opened = open_for_student(options);
  if (!opened) return input_is_at_fault(opened.error());
  const auto standard = standard_to_count_by(opened->records, options.standard);
  if (!standard) return input_is_at_fault(standard.error());
  const auto attempts = opened->records.attempts_of(opened->student.number);
  if (!attempts) return input_is_at_fault(attempts.error());
  const auto found = std::find_if(attempts->begin(), attempts->end(), [&](const FiledAttempt& one) {
    return std::to_string(one.number) == options.attempt;
  });
  if (found == attempts->end())
    return input_is_at_fault(
        {opened->student.name + " has no attempt " + options.attempt + "; record show lists them"});
  const Assessment* now = newest_by(*found, *standard);
  if (now == nullptr) return input_is_at_fault({judged_otherwise_words(*found, standard->standard)});
  const Said said{flown_by_said(options.flown_by), yes_or_no(options.forced), yes_or_no(options.met),
                  yes_or_no(options.in_box)};
  const auto next = corrected(found->number, *now, said, options.reason, stamp_of(options));
  if (!next) return input_is_at_fault(next.error());
  if (const auto failed = opened->records.assess_again(found->number, *next))
    return input_is_at_fault(*failed);
  return say(fmt::format("Attempt {} has version {} now; the earlier ones stay.", found->number,
                         found->assessments.size() + 1));
}

}  // namespace

void add_attempts(const Command& record, const Shared& options) {
  const auto shown = part(record, options, "show", "a student's attempts and what they prove", show);
  add_student_argument(shown, options);
  add_standard(shown, options);
  add_json_flag(shown, options->json);
  const auto command =
      part(record, options, "correct", "assess an attempt again; what was said before stays", correct);
  add_student_argument(command, options);
  command.add_option("ATTEMPT", options->attempt, "its number, from record show").required();
  command.add_option("--reason", options->reason, "why").type_name("TEXT").required();
  const std::vector<std::string> yes_no{"yes", "no"};
  command.add_option("--flown-by", options->flown_by, "who flew; only the student alone counts")
      .type_name("WHO")
      .one_of(flown_by_choices());
  command.add_option("--forced", options->forced, "gone around for traffic or a call: yes, no")
      .one_of(yes_no);
  command.add_option("--met", options->met, "the standard, as somebody saw it: yes, no").one_of(yes_no);
  command.add_option("--in-box", options->in_box, "touched down in the box, as somebody saw it: yes, no")
      .one_of(yes_no);
  add_standard(command, options);
  add_by(command, options);
}

}  // namespace glidewright::record
