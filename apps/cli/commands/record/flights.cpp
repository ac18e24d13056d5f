// record file
#include <fmt/format.h>

#include <filesystem>

#include "apps/cli/commands/brief.hpp"
#include "apps/cli/commands/record/new_flight.hpp"
#include "apps/cli/commands/record/record.hpp"
#include "apps/cli/inputs/data_folder.hpp"
#include "apps/cli/inputs/fleet.hpp"
#include "apps/cli/inputs/marks_beside.hpp"
#include "apps/cli/terminal.hpp"
#include "formats/file.hpp"
#include "formats/saved_plan_json.hpp"

namespace glidewright::record {
namespace {

Result<NewFlight> flight_of(const std::string& file, const Options& options, const Standard& standard) {
  const Progress progress("debriefing " + file);
  DebriefOptions one = options.debrief;
  one.marks = marks_beside(file);
  return new_flight(file, std::filesystem::path(file).filename().string(), one, options.standard,
                    standard.id);
}

Result<Student> student_to_file_for(Records& records, const Options& options) {
  auto found = records.find_student(options.student);
  if (found || !options.add_student) return found;
  // Several of one name, or one in the trash, is no reason to add another.
  for (const auto& known : {records.students(), records.students_in_trash()}) {
    if (!known) return known.error();
    for (const Student& one : *known)
      if (one.name == options.student) return found;
  }
  return records.add_student(options.student, stamp_of(options));
}

std::string filed_words(const std::vector<FiledFlight>& filed, const std::string& name) {
  int added = 0, anew = 0;
  for (const FiledFlight& one : filed) {
    added += one.attempts;
    anew += one.judged_anew;
  }
  std::string words = counted(added, "new attempt") + " filed for " + name;
  if (anew > 0)
    words += fmt::format("; {} judged anew, what was said before stays", counted(anew, "attempt"));
  if (added + anew == 0) words += "; the logs hold none, or were filed before";
  return words + ".";
}

/// Airplane and runway by the names that the school gives them; where it knows none of that name they are
/// looked for elsewhere.
Result<Options> with_the_fleet(Options options) {
  auto records = Records::open(options.records, Records::Opening::existing);
  if (!records) return options.add_student ? Result<Options>(options) : records.error();
  auto& debrief = options.debrief;
  if (debrief.airplane.empty() && !debrief.plan.empty()) {
    const auto bytes = read_file(debrief.plan);
    if (!bytes) return bytes.error();
    const auto plan = read_saved_plan_json(*bytes, debrief.plan);
    if (!plan) return plan.error();
    debrief.airplane = plan->airplane_id;
  }
  if (const auto failed = look_up_in_fleet(*records, options.debrief)) return *failed;
  return options;
}

ExitCode file(const Options& as_typed) {
  const auto completed = with_the_fleet(as_typed);
  if (!completed) return input_is_at_fault(completed.error());
  const Options& options = *completed;
  const auto standard = find_standard(options.standard.empty() ? k_usual_standard : options.standard);
  if (!standard) return input_is_at_fault(standard.error());
  // All are read before any is filed, and all are filed or none.
  std::vector<NewFlight> flights;
  for (const auto& log : options.debrief.logs) {
    auto flight = flight_of(log, options, *standard);
    if (!flight) return input_is_at_fault(flight.error());
    flights.push_back(std::move(*flight));
  }
  auto records = Records::open(options.records, options.add_student ? Records::Opening::make_where_missing
                                                                    : Records::Opening::existing);
  if (!records) return input_is_at_fault(records.error());
  const auto student = student_to_file_for(*records, options);
  if (!student) return input_is_at_fault(student.error());
  const auto filed = records->file_flights(student->number, flights, stamp_of(options));
  if (!filed) return input_is_at_fault(filed.error());
  return say(filed_words(*filed, student->name));
}

}  // namespace

void add_flights(const Command& record, const Shared& options) {
  const auto command =
      part(record, options, "file", "debrief logs and file their attempts; again: only what changed", file);
  auto& debrief = options->debrief;
  command.add_option("LOG", debrief.logs, "track logs of one student").required();
  command.add_option("--student", options->student, "name or number").type_name("WHO").required();
  command.add_flag("--add-student", options->add_student, "where nobody has that name");
  add_by(command, options);
  command
      .add_option("--runway", debrief.runway,
                  "as for debrief, of all the logs; or an airfield of the records")
      .type_name("R");
  command.add_option("--touchdown-point-ft", debrief.touchdown_point_ft, "past the threshold; else 1000")
      .type_name("FT");
  command
      .add_option("--airplane", debrief.airplane,
                  "an airplane of the records by its name, a profile's file, or its id in data/airplanes")
      .type_name("A");
  command
      .add_option("--wind", debrief.wind,
                  "reported before the flight, true: 240/12; causes are measured against the plan for it")
      .type_name("W");
  add_metar_option(command, debrief.metar);
  add_height_unit_option(command, debrief.height_unit);
  command.add_option("--plan", debrief.plan, "the plan that was flown, as brief --json wrote it")
      .type_name("FILE");
  add_standard(command, options);
}

}  // namespace glidewright::record
