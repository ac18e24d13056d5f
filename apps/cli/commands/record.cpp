#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <chrono>
#include <memory>

#include "apps/cli/commands/brief.hpp"
#include "apps/cli/commands/commands.hpp"
#include "apps/cli/commands/debrief.hpp"
#include "apps/cli/inputs/data_folder.hpp"
#include "apps/cli/terminal.hpp"
#include "apps/cli/words/brief_text.hpp"
#include "apps/cli/words/readiness_text.hpp"
#include "formats/file.hpp"
#include "formats/time.hpp"
#include "store/records.hpp"

namespace glidewright {
namespace {

struct RecordOptions {
  std::string records;
  std::string by;
  std::string student;
  std::string attempt;
  std::string reason;
  std::string alone, forced, met;  ///< yes or no; empty as it was
  std::string backup;
  std::string standard;
  bool add_student = false;
  bool json = false;
  DebriefOptions debrief;
};

using Shared = std::shared_ptr<RecordOptions>;

Stamp stamp_of(const RecordOptions& options) {
  const auto now = std::chrono::system_clock::now().time_since_epoch();
  return {options.by, std::chrono::duration<double>(now).count()};
}

ExitCode say(const std::string& sentence) {
  const Page page = standard_output_page();
  write_standard_output(printed(wrapped(sentence, {}, page), page));
  return ExitCode::done;
}

/// Marks of what was seen lie beside a log, its name with ".marks.json" after it.
std::string marks_beside(const std::string& log) {
  return read_file(log + ".marks.json") ? log + ".marks.json" : std::string();
}

Result<NewFlight> flight_of(const std::string& file, const RecordOptions& options,
                            const std::string& standard_id) {
  auto bytes = read_file(file);
  if (!bytes) return bytes.error();
  const Progress progress("debriefing " + file);
  DebriefOptions one = options.debrief;
  one.marks = marks_beside(file);
  one.standards = {options.standard.empty() ? std::string(k_usual_standard) : options.standard};
  auto debriefed = debrief_log(file, one);
  if (!debriefed) return debriefed.error();
  NewFlight flight{file.substr(file.find_last_of('/') + 1), std::move(*bytes), {}};
  for (const CountedAttempt& counted : readiness_of({std::move(*debriefed)}, standard_id).attempts) {
    Assessment first;
    first.rated = counted.rated;
    first.standard_id = standard_id;
    flight.attempts.push_back({counted.index, counted.time_unix_s, first});
  }
  return flight;
}

Result<Student> student_to_file_for(Records& records, const RecordOptions& options) {
  auto found = records.find_student(options.student);
  if (found || !options.add_student) return found;
  // Several of one name is no reason to add another.
  const auto all = records.students();
  if (!all) return all.error();
  const bool known =
      std::any_of(all->begin(), all->end(), [&](const Student& one) { return one.name == options.student; });
  return known ? found : records.add_student(options.student, stamp_of(options));
}

ExitCode add(const RecordOptions& options) {
  auto records = Records::open(options.records);
  if (!records) return input_is_at_fault(records.error());
  const auto student = records->add_student(options.student, stamp_of(options));
  if (!student) return input_is_at_fault(student.error());
  return say(fmt::format("{} is student {}.", student->name, student->number));
}

ExitCode list(const RecordOptions& options) {
  auto records = Records::open(options.records);
  if (!records) return input_is_at_fault(records.error());
  const auto students = records->students();
  if (!students) return input_is_at_fault(students.error());
  if (students->empty()) return say("No students yet.");
  const Page page = standard_output_page();
  std::string text;
  for (const Student& one : *students)
    text += wrapped(fmt::format("student {}: {}", one.number, one.name), {0, 4}, page);
  write_standard_output(printed(text, page));
  return ExitCode::done;
}

ExitCode file(const RecordOptions& options) {
  const auto standard = find_standard(options.standard.empty() ? k_usual_standard : options.standard);
  if (!standard) return input_is_at_fault(standard.error());
  // All are read before any is filed: a log that cannot be read then leaves nothing half done.
  std::vector<NewFlight> flights;
  for (const auto& log : options.debrief.logs) {
    auto flight = flight_of(log, options, standard->id);
    if (!flight) return input_is_at_fault(flight.error());
    flights.push_back(std::move(*flight));
  }
  auto records = Records::open(options.records);
  if (!records) return input_is_at_fault(records.error());
  const auto student = student_to_file_for(*records, options);
  if (!student) return input_is_at_fault(student.error());
  int added = 0;
  for (const NewFlight& flight : flights) {
    const auto filed = records->file_flight(student->number, flight, stamp_of(options));
    if (!filed) return input_is_at_fault(filed.error());
    added += filed->attempts;
  }
  return say(fmt::format("{} new attempts filed for {}{}.", added, student->name,
                         added == 0 ? "; the logs hold none, or were filed before" : ""));
}

ReadinessOfLogs readiness_from(const std::vector<FiledAttempt>& attempts, const Standard& standard) {
  ReadinessOfLogs result;
  result.standard_id = standard.id;
  result.standard_name = standard.name;
  for (const FiledAttempt& one : attempts) {
    const Assessment& now = one.assessments.back();
    if (one.in_trash || now.standard_id != standard.id) continue;
    result.attempts.push_back({one.log_name, one.index, one.time_unix_s, now.rated});
  }
  complete_readiness(result);
  return result;
}

/// By number, because a correction names it; who assessed it last, and why.
std::string filed_text(const std::vector<FiledAttempt>& attempts, const Page& page) {
  std::string text = heading("Filed");
  for (const FiledAttempt& one : attempts) {
    const Assessment& now = one.assessments.back();
    std::string line = fmt::format("attempt {}: {}, {} of {}, by {}", one.number,
                                   iso8601_utc(one.time_unix_s, 0), one.index, one.log_name, now.stamp.by);
    if (one.assessments.size() > 1)
      line += fmt::format(", version {}: {}", one.assessments.size(), now.reason);
    if (one.in_trash) line += " (in the trash)";
    text += wrapped(line, {2, 4}, page);
  }
  return text;
}

ExitCode show(const RecordOptions& options) {
  const auto standard = find_standard(options.standard.empty() ? k_usual_standard : options.standard);
  if (!standard) return input_is_at_fault(standard.error());
  auto records = Records::open(options.records);
  if (!records) return input_is_at_fault(records.error());
  const auto student = records->find_student(options.student);
  if (!student) return input_is_at_fault(student.error());
  const auto attempts = records->attempts_of(student->number);
  if (!attempts) return input_is_at_fault(attempts.error());
  const ReadinessOfLogs result = readiness_from(*attempts, *standard);
  if (options.json) {
    write_json(readiness_to_json(result));
    return ExitCode::done;
  }
  const Page page = standard_output_page();
  write_standard_output(printed(
      labelled("Student", student->name, page) + readiness_text(result, page) + filed_text(*attempts, page),
      page));
  return ExitCode::done;
}

void set_where_given(bool& value, const std::string& given) {
  if (!given.empty()) value = given == "yes";
}

ExitCode correct(const RecordOptions& options) {
  if (options.alone.empty() && options.forced.empty() && options.met.empty()) {
    write_error("record correct: --alone, --forced or --met was expected, to say what is corrected");
    return ExitCode::wrong_usage;
  }
  auto records = Records::open(options.records);
  if (!records) return input_is_at_fault(records.error());
  const auto student = records->find_student(options.student);
  if (!student) return input_is_at_fault(student.error());
  const auto attempts = records->attempts_of(student->number);
  if (!attempts) return input_is_at_fault(attempts.error());
  const auto found = std::find_if(attempts->begin(), attempts->end(), [&](const FiledAttempt& one) {
    return std::to_string(one.number) == options.attempt;
  });
  if (found == attempts->end())
    return input_is_at_fault(
        {student->name + " has no attempt " + options.attempt + "; record show lists them"});
  Assessment next = found->assessments.back();
  set_where_given(next.rated.student_alone, options.alone);
  set_where_given(next.rated.forced, options.forced);
  if (!options.met.empty()) {
    if (next.rated.end == RatedAttempt::End::went_around)
      return input_is_at_fault({"--met: attempt " + options.attempt + " went around, so nothing was met"});
    next.rated.probability_met = options.met == "yes" ? 1.0 : 0.0;
  }
  next.reason = options.reason;
  next.stamp = stamp_of(options);
  if (const auto failed = records->assess_again(found->number, next)) return input_is_at_fault(*failed);
  return say(fmt::format("Attempt {} has version {} now; the earlier ones stay.", found->number,
                         found->assessments.size() + 1));
}

ExitCode back_up(const RecordOptions& options) {
  auto records = Records::open(options.records);
  if (!records) return input_is_at_fault(records.error());
  if (const auto failed = records->back_up(options.backup)) return input_is_at_fault(*failed);
  return say("A whole copy lies in " + options.backup + ".");
}

Command part(const Command& record, const Shared& options, const char* name, const char* what,
             ExitCode (*run)(const RecordOptions&)) {
  const auto command = record.add_command(name, what);
  command.add_option("--records", options->records, "the file of records; made where there is none")
      .type_name("FILE")
      .required();
  command.runs([options, run] { return run(*options); });
  return command;
}

void add_by(const Command& command, const Shared& options) {
  command.add_option("--by", options->by, "who does it: kept with what is changed")
      .type_name("NAME")
      .required();
}

void add_standard(const Command& command, const Shared& options) {
  command.add_option("--standard", options->standard, "a standard's file, or its id in data/standards")
      .type_name("S");
}

void add_file(const Command& record, const Shared& options) {
  const auto command =
      part(record, options, "file", "debrief logs and file their attempts; again: nothing new", file);
  auto& debrief = options->debrief;
  command.add_option("LOG", debrief.logs, "track logs of one student").required();
  command.add_option("--student", options->student, "name or number").type_name("WHO").required();
  command.add_flag("--add-student", options->add_student, "where nobody has that name");
  add_by(command, options);
  command.add_option("--runway", debrief.runway, "as for debrief, of all the logs").type_name("R");
  command.add_option("--touchdown-point-ft", debrief.touchdown_point_ft, "past the threshold; else 1000")
      .type_name("FT");
  command.add_option("--airplane", debrief.airplane, "a profile's file, or its id in data/airplanes")
      .type_name("A");
  add_standard(command, options);
}

void add_correct(const Command& record, const Shared& options) {
  const auto command =
      part(record, options, "correct", "assess an attempt again; what was said before stays", correct);
  command.add_option("STUDENT", options->student, "name or number").required();
  command.add_option("ATTEMPT", options->attempt, "its number, from record show").required();
  command.add_option("--reason", options->reason, "why").type_name("TEXT").required();
  command.add_option("--alone", options->alone, "flown by the student alone: yes, no").one_of({"yes", "no"});
  command.add_option("--forced", options->forced, "gone around for traffic or a call: yes, no")
      .one_of({"yes", "no"});
  command.add_option("--met", options->met, "the standard, as somebody saw it: yes, no")
      .one_of({"yes", "no"});
  add_by(command, options);
}

}  // namespace

void add_record(Program& program) {
  const auto options = std::make_shared<RecordOptions>();
  const auto record =
      program.add_command("record", "students, their flights and what these prove, kept in one file");
  const auto added = part(record, options, "add", "a student", add);
  added.add_option("NAME", options->student, "of the student").required();
  add_by(added, options);
  part(record, options, "list", "the students", list);
  add_file(record, options);
  const auto shown = part(record, options, "show", "a student's attempts and what they prove", show);
  shown.add_option("STUDENT", options->student, "name or number").required();
  add_standard(shown, options);
  shown.add_flag("--json", options->json, "print one JSON object, as readiness does, and nothing else");
  add_correct(record, options);
  part(record, options, "backup", "a copy, whole also while others write", back_up)
      .add_option("FILE", options->backup, "the copy; must not be there yet")
      .required();
  add_examples(record,
               "  glidewright record file data/demo/reference-flight/touch-and-goes.gpx --runway "
               "data/demo/reference-flight/runway.json --touchdown-point-ft 600 --student 'Demo Student' "
               "--add-student --by "
               "'Demo Instructor' --records build/demo.records\n"
               "  glidewright record show 'Demo Student' --records build/demo.records\n"
               "  glidewright record list --records build/demo.records\n"
               "A human signs a student off, never this program.");
}

}  // namespace glidewright
