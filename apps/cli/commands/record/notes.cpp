// record note, sign-off, history
#include <fmt/format.h>

#include "apps/cli/commands/record/record.hpp"
#include "apps/cli/terminal.hpp"
#include "formats/number.hpp"
#include "formats/time.hpp"
#include "store/record_json.hpp"

namespace glidewright::record {
namespace {

ExitCode note(const Options& options) {
  std::optional<long long> attempt;
  if (!options.attempt.empty()) {
    attempt = read_whole_number(options.attempt);
    if (!attempt) return input_is_at_fault({"--attempt: a number from record show was expected"});
  }
  auto opened = open_for_student(options);
  if (!opened) return input_is_at_fault(opened.error());
  const auto kept =
      opened->records.add_note(opened->student.number, attempt, options.text, stamp_of(options));
  if (!kept) return input_is_at_fault(kept.error());
  return say(fmt::format("Note {} is kept for {}.", kept->number, opened->student.name));
}

/// The uid of the sign-off with that number, which still stands.
Result<SignOff> sign_off_to_withdraw(const std::vector<SignOff>& all, const std::string& number) {
  for (const SignOff& one : all)
    if (std::to_string(one.number) == number && one.withdraws.empty()) return one;
  return Error{"--withdraw: no sign-off has the number " + number + "; record show lists them"};
}

ExitCode sign_off(const Options& options) {
  if (options.text.empty() == options.withdraw.empty()) {
    write_error("record sign-off: either --for, what is signed off, or --withdraw was expected");
    return ExitCode::wrong_usage;
  }
  if (!read_date(options.signed_on))
    return input_is_at_fault({"--on: a day such as 2026-05-14 was expected"});
  auto opened = open_for_student(options);
  if (!opened) return input_is_at_fault(opened.error());
  SignOff next;
  next.what = options.text;
  next.signed_by = options.signed_by;
  next.signed_on = options.signed_on;
  if (!options.withdraw.empty()) {
    const auto all = opened->records.sign_offs_of(opened->student.number);
    if (!all) return input_is_at_fault(all.error());
    const auto earlier = sign_off_to_withdraw(*all, options.withdraw);
    if (!earlier) return input_is_at_fault(earlier.error());
    next.what = earlier->what;
    next.withdraws = earlier->uid;
  }
  const auto kept = opened->records.add_sign_off(opened->student.number, next, stamp_of(options));
  if (!kept) return input_is_at_fault(kept.error());
  return say(fmt::format("Kept: {}, {} {} on {}, for {}.", next.what,
                         next.withdraws.empty() ? "signed by" : "withdrawn by", next.signed_by,
                         next.signed_on, opened->student.name));
}

ExitCode history(const Options& options) {
  auto opened = open_for_student(options);
  if (!opened) return input_is_at_fault(opened.error());
  const auto changes = opened->records.changes_of(opened->student.number);
  if (!changes) return input_is_at_fault(changes.error());
  if (options.json) {
    write_json(history_to_json(*changes));
    return ExitCode::done;
  }
  if (changes->empty()) return say("Nothing was written down before these records kept a history.");
  const Page page = standard_output_page();
  std::string text;
  for (const Change& one : *changes)
    text += wrapped(fmt::format("{}  {} {} {}, by {}", iso8601_utc(one.stamp.unix_s, 0), one.kind, one.number,
                                one.what, one.stamp.by),
                    {0, 4}, page);
  write_standard_output(printed(text, page));
  return ExitCode::done;
}

}  // namespace

void add_notes(const Command& record, const Shared& options) {
  const auto noted = part(record, options, "note", "keep a note of a student or of one attempt", note);
  add_student_argument(noted, options);
  noted.add_option("TEXT", options->text, "what to keep").required();
  noted.add_option("--attempt", options->attempt, "the one it is about: its number, from record show")
      .type_name("N");
  add_by(noted, options);

  const auto signed_off = part(record, options, "sign-off",
                               "keep that a person signed the student off, or took it back", sign_off);
  add_student_argument(signed_off, options);
  signed_off.add_option("--for", options->text, "what is signed off").type_name("TEXT");
  signed_off.add_option("--signed-by", options->signed_by, "the person who answers for it")
      .type_name("NAME")
      .required();
  signed_off.add_option("--on", options->signed_on, "the day of the signature, 2026-05-14")
      .type_name("DAY")
      .required();
  signed_off.add_option("--withdraw", options->withdraw, "takes one back: its number, from record show")
      .type_name("N");
  add_by(signed_off, options);

  const auto told =
      part(record, options, "history", "what was done with a student's records, by whom", history);
  add_student_argument(told, options);
  add_json_flag(told, options->json);
}

}  // namespace glidewright::record
