// record trash, undo
#include <fmt/format.h>

#include <algorithm>

#include "apps/cli/commands/record/record.hpp"
#include "formats/number.hpp"

namespace glidewright::record {
namespace {

ExitCode thrown_away(const std::string& what, const std::string& by) {
  return say(fmt::format(
      "{} is in the trash, and does not count. `record undo --by '{}'` takes it out again.", what, by));
}

ExitCode trash_attempt(Opened& opened, const Options& options) {
  const auto number = read_whole_number(options.attempt);
  const auto attempts = opened.records.attempts_of(opened.student.number);
  if (!attempts) return input_is_at_fault(attempts.error());
  if (!number || std::none_of(attempts->begin(), attempts->end(),
                              [&](const FiledAttempt& one) { return one.number == *number; }))
    return input_is_at_fault(
        {opened.student.name + " has no attempt " + options.attempt + "; record show lists them"});
  if (const auto failed = opened.records.throw_attempt_away(*number, stamp_of(options)))
    return input_is_at_fault(*failed);
  return thrown_away(fmt::format("Attempt {}", *number), options.by);
}

ExitCode trash_note(Opened& opened, const Options& options) {
  const auto number = read_whole_number(options.note);
  const auto notes = opened.records.notes_of(opened.student.number);
  if (!notes) return input_is_at_fault(notes.error());
  if (!number ||
      std::none_of(notes->begin(), notes->end(), [&](const Note& one) { return one.number == *number; }))
    return input_is_at_fault(
        {opened.student.name + " has no note " + options.note + "; record show lists them"});
  if (const auto failed = opened.records.throw_note_away(*number, stamp_of(options)))
    return input_is_at_fault(*failed);
  return thrown_away(fmt::format("Note {}", *number), options.by);
}

ExitCode trash(const Options& options) {
  auto opened = open_for_student(options);
  if (!opened) return input_is_at_fault(opened.error());
  if (!options.attempt.empty()) return trash_attempt(*opened, options);
  if (!options.note.empty()) return trash_note(*opened, options);
  if (const auto failed = opened->records.throw_student_away(opened->student.number, stamp_of(options)))
    return input_is_at_fault(*failed);
  return thrown_away(opened->student.name + ", with all attempts,", options.by);
}

ExitCode undo(const Options& options) {
  auto records = Records::open(options.records, Records::Opening::existing);
  if (!records) return input_is_at_fault(records.error());
  const Stamp stamp = stamp_of(options);
  const auto back = records->undo_last_throwing_away(stamp.by, stamp.unix_s);
  if (!back) return input_is_at_fault(back.error());
  return say("Out of the trash: " + *back + ".");
}

}  // namespace

void add_trash(const Command& record, const Shared& options) {
  const auto thrown = part(record, options, "trash", "throw a student, an attempt or a note away", trash);
  add_student_argument(thrown, options);
  thrown.add_option("--attempt", options->attempt, "only this one: its number, from record show")
      .type_name("N")
      .excludes(thrown.add_option("--note", options->note, "only this one: its number, from record show")
                    .type_name("N"));
  add_by(thrown, options);
  const auto undone = part(record, options, "undo", "take out of the trash what you threw away last", undo);
  add_by(undone, options);
}

}  // namespace glidewright::record
