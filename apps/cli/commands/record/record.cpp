#include "apps/cli/commands/record/record.hpp"

#include <fmt/format.h>

#include "apps/cli/inputs/clock.hpp"
#include "apps/cli/terminal.hpp"

namespace glidewright {
namespace record {

Stamp stamp_of(const Options& options) {
  return {options.by, now_unix_s()};
}

Command part(const Command& record, const Shared& options, const char* name, const char* what, Run run) {
  const auto command = record.add_command(name, what);
  add_records_option(command, options->records,
                     "the file of records, made by add and file where there is none; or postgresql://...");
  command.runs([options, run] { return run(*options); });
  return command;
}

void add_by(const Command& command, const Shared& options) {
  add_by_option(command, options->by);
}

void add_student_argument(const Command& command, const Shared& options) {
  command.add_option("STUDENT", options->student, "name or number").required();
}

void add_standard(const Command& command, const Shared& options) {
  command
      .add_option("--standard", options->standard,
                  "a standard's file, or its id in data/standards or in the records (ID, ID:VERSION)")
      .type_name("S");
}

Result<Opened> open_for_student(const Options& options) {
  auto records = Records::open(options.records, Records::Opening::existing);
  if (!records) return records.error();
  auto student = records->find_student(options.student);
  if (!student) return student.error();
  return Opened{std::move(*records), std::move(*student)};
}

std::string counted(int count, const std::string& one) {
  return fmt::format("{} {}{}", count, one, count == 1 ? "" : "s");
}

}  // namespace record

void add_record(Program& program) {
  const auto options = std::make_shared<record::Options>();
  const auto command =
      program.add_command("record", "students, their flights and what these prove, kept in one file");
  record::add_students(command, options);
  record::add_flights(command, options);
  record::add_attempts(command, options);
  record::add_notes(command, options);
  record::add_drills(command, options);
  record::add_own_drill(command, options);
  record::add_trash(command, options);
  record::add_fleet(command, options);
  record::add_standards(command, options);
  record::add_archives(command, options);
  record::add_deletion(command, options);
  record::add_upkeep(command, options);
  add_examples(command,
               "  glidewright record file data/demo/reference-flight/touch-and-goes.gpx --runway "
               "data/demo/reference-flight/runway.json --touchdown-point-ft 600 --student 'Demo Student' "
               "--add-student --by "
               "'Demo Instructor' --records build/demo.records\n"
               "  glidewright record show 'Demo Student' --records build/demo.records\n"
               "  glidewright record note 'Demo Student' 'Looked at the point too late' --by 'Demo "
               "Instructor' --records build/demo.records\n"
               "  glidewright record list --records build/demo.records\n"
               "A human signs a student off, never this program.");
}

}  // namespace glidewright
