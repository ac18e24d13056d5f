// record delete, due: what is kept how long, and removing a person for good
#include <fmt/format.h>

#include <algorithm>

#include "apps/cli/commands/record/record.hpp"
#include "apps/cli/terminal.hpp"
#include "apps/cli/words/brief_text.hpp"
#include "formats/file.hpp"
#include "formats/time.hpp"

namespace glidewright::record {
namespace {

/// An instructor keeps what he endorsed for at least so long. Source: 14 CFR 61.189(c).
constexpr double k_years_kept = 3.0;
constexpr double k_seconds_of_a_year = 365.25 * 86400.0;

double signed_unix_s(const SignOff& one) {
  constexpr double seconds_of_a_day = 86400.0;
  return seconds_of_a_day * static_cast<double>(read_date(one.signed_on).value_or(0));
}

/// The newest sign-off and the newest of everything.
struct Newest {
  double sign_off_unix_s = 0.0;
  double anything_unix_s = 0.0;
};

Newest newest_in(const StudentArchive& archive) {
  Newest newest{0.0, archive.student.added.unix_s};
  for (const SignOff& one : archive.sign_offs)
    newest.sign_off_unix_s = std::max(newest.sign_off_unix_s, signed_unix_s(one));
  for (const FiledAttempt& one : archive.attempts)
    newest.anything_unix_s = std::max(newest.anything_unix_s, one.time_unix_s);
  for (const Note& one : archive.notes)
    newest.anything_unix_s = std::max(newest.anything_unix_s, one.stamp.unix_s);
  newest.anything_unix_s = std::max(newest.anything_unix_s, newest.sign_off_unix_s);
  return newest;
}

std::string day_of(double unix_s) {
  return iso8601_utc(unix_s, 0).substr(0, 10);
}

std::string certificate(const Deletion& deletion, const Options& options, const Stamp& stamp,
                        bool within_retention) {
  std::string text = "Certificate of deletion\n\n";
  text += fmt::format("Person       {} (as the request named the person)\n", options.name);
  text += fmt::format("Known as     {} in records and archives; the number says nothing\n", deletion.uid);
  text += fmt::format("Deleted      {} by {}\n", iso8601_utc(stamp.unix_s, 0), stamp.by);
  if (!options.reason.empty()) text += fmt::format("Reason       {}\n", options.reason);
  text += fmt::format("\nWent, for good: the name; {}, {}, {}, {}, {}; {}.\n",
                      counted(deletion.attempts, "attempt"), counted(deletion.assessments, "assessment"),
                      counted(deletion.notes, "note"), counted(deletion.answers, "drill answer"),
                      counted(deletion.sign_offs, "sign-off"), counted(deletion.logs, "original log"));
  text +=
      "Stays: of each standard and year, how many attempts were counted and how many met it; that a "
      "student with this number was deleted, when and by whom; lines of the history, without names or "
      "text.\n";
  if (deletion.logs_kept > 0)
    text += fmt::format("Stays, too: {}, because another student's attempts are in it.\n",
                        counted(deletion.logs_kept, "log"));
  text += "Not reached: backups, archives and copies laid beside the records before this day.\n";
  if (within_retention)
    text +=
        "A sign-off younger than three years was among it (14 CFR 61.189 asks an instructor to keep "
        "what he signed for three years); the request said to delete it all the same.\n";
  return text;
}

ExitCode remove(const Options& options) {
  auto opened = open_for_student(options);
  if (!opened) return input_is_at_fault(opened.error());
  if (options.name != opened->student.name)
    return input_is_at_fault(
        {fmt::format("--confirm: the whole name of student {} was expected; this cannot "
                     "be taken back",
                     opened->student.number)});
  const auto archive = opened->records.archive_of(opened->student.number);
  if (!archive) return input_is_at_fault(archive.error());
  const Stamp stamp = stamp_of(options);
  const Newest newest = newest_in(*archive);
  const double kept_until = newest.sign_off_unix_s + k_years_kept * k_seconds_of_a_year;
  const bool within_retention = !archive->sign_offs.empty() && stamp.unix_s < kept_until;
  if (within_retention && !options.although_kept)
    return input_is_at_fault({fmt::format(
        "{} has a sign-off of {}, to be kept until {} (14 CFR 61.189, three years); export it first and add "
        "--although-kept to delete it all the same",
        opened->student.name, day_of(newest.sign_off_unix_s), day_of(kept_until))});
  // Before anything goes: a certificate that cannot be written must not be missed afterwards.
  if (read_file(options.certificate)) return input_is_at_fault({options.certificate + ": is there already"});
  const auto deletion = opened->records.delete_student(opened->student.number, stamp);
  if (!deletion) return input_is_at_fault(deletion.error());
  const std::string text = certificate(*deletion, options, stamp, within_retention);
  if (const auto failed = write_new_file_atomically(options.certificate, text)) {
    const Page page = standard_output_page();
    write_standard_output(printed(text, page));
    return input_is_at_fault({failed->sentence + "; the person is deleted, and the certificate stands here"});
  }
  return say(
      fmt::format("{} is deleted; {} says what went and what stays.", options.name, options.certificate));
}

ExitCode due(const Options& options) {
  if (const auto error = outside(options.years, {"--years", "", 0.1, 100.0}))
    return input_is_at_fault(*error);
  auto records = Records::open(options.records, Records::Opening::existing);
  if (!records) return input_is_at_fault(records.error());
  const auto students = records->students();
  if (!students) return input_is_at_fault(students.error());
  const double years = options.years.value_or(k_years_kept);
  const double before = stamp_of(options).unix_s - years * k_seconds_of_a_year;
  const Page page = standard_output_page();
  std::string text;
  for (const Student& one : *students) {
    const auto archive = records->archive_of(one.number);
    if (!archive) return input_is_at_fault(archive.error());
    const Newest newest = newest_in(*archive);
    if (newest.anything_unix_s < before)
      text += wrapped(fmt::format("student {}: {}, nothing since {}", one.number, one.name,
                                  day_of(newest.anything_unix_s)),
                      {0, 4}, page);
  }
  if (text.empty()) return say(fmt::format("Nobody's records are older than {:g} years.", years));
  write_standard_output(printed(
      text + wrapped("Nothing is deleted by itself: record delete does it, one person at a time.", {}, page),
      page));
  return ExitCode::done;
}

ExitCode remembered(const Options& options) {
  auto records = Records::open(options.records, Records::Opening::existing);
  if (!records) return input_is_at_fault(records.error());
  const auto kept = records->remembered();
  if (!kept) return input_is_at_fault(kept.error());
  if (kept->empty()) return say("Nobody was deleted, so nothing is remembered of anybody.");
  const Page page = standard_output_page();
  std::string text = wrapped("Of people who were deleted, together and without names:", {}, page);
  for (const Remembered& one : *kept)
    text += wrapped(fmt::format("{}, {}: {} counted, {:.1f} of them met it", one.year, one.standard_id,
                                counted(one.attempts, "attempt"), one.met),
                    {2, 4}, page);
  write_standard_output(printed(text, page));
  return ExitCode::done;
}

}  // namespace

void add_deletion(const Command& record, const Shared& options) {
  const auto removed =
      part(record, options, "delete", "remove a person for good; how often what was flown stays", remove);
  add_student_argument(removed, options);
  removed.add_option("--confirm", options->name, "the whole name: this cannot be taken back")
      .type_name("NAME")
      .required();
  removed.add_option("--certificate", options->certificate, "a file to say what went and what stays")
      .type_name("FILE")
      .required();
  removed.add_option("--reason", options->reason, "kept in the certificate").type_name("TEXT");
  removed.add_flag("--although-kept", options->although_kept,
                   "also where a sign-off is younger than three years");
  add_by(removed, options);
  part(record, options, "remembered", "what stays of deleted people: how many attempts met which standard",
       remembered);
  const auto listed = part(record, options, "due", "whose records are older than they need be kept", due);
  listed.add_option("--years", options->years, "so long since anything; else 3").type_name("N");
}

}  // namespace glidewright::record
