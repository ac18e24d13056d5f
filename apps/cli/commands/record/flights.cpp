// record file
#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <string_view>

#include "apps/cli/commands/record/new_flight.hpp"
#include "apps/cli/commands/record/record.hpp"
#include "apps/cli/inputs/cores.hpp"
#include "apps/cli/inputs/fleet.hpp"
#include "apps/cli/inputs/log_folder.hpp"
#include "apps/cli/inputs/marks_beside.hpp"
#include "apps/cli/inputs/standards.hpp"
#include "apps/cli/terminal.hpp"
#include "formats/file.hpp"
#include "formats/saved_plan_json.hpp"

namespace glidewright::record {
namespace {

/// A log to be debriefed, with what the records know of it.
struct LogToFile {
  std::string file;
  std::string name;
  DebriefOptions debrief;
  bool height_unit_from_before = false;
};

/// What was told of its heights, and marked in it, holds again where nothing else is said now. `records`:
/// none where filing makes them. `student`: none where filing adds the student.
Result<LogToFile> log_to_file(const std::string& file, const Options& options, Records* records,
                              std::optional<long long> student) {
  LogToFile log{file, std::filesystem::path(file).filename().string(), options.debrief};
  log.debrief.marks = marks_beside(file);
  if (records == nullptr) return log;
  const auto bytes = read_file(file);
  if (!bytes) return log;  // its debrief says why
  if (log.debrief.marks.empty() && student) {
    auto marks = records->marks_told(*student, *bytes, log.name);
    if (!marks) return marks.error();
    log.debrief.known_marks = std::move(*marks);
  }
  if (!log.debrief.height_unit.empty()) return log;
  auto unit = records->height_unit_told(*bytes, log.name);
  if (!unit) return unit.error();
  log.height_unit_from_before = !unit->empty();
  log.debrief.height_unit = std::move(*unit);
  return log;
}

std::string from_before_words(const LogToFile& log) {
  if (!log.height_unit_from_before) return {};
  return fmt::format(" Heights of {} taken in {}, as was told before; --height-unit {} would change that.",
                     log.name, log.debrief.height_unit == "ft" ? "feet" : "metres",
                     log.debrief.height_unit == "ft" ? "m" : "ft");
}

bool is_marks(const std::string& file) {
  constexpr std::string_view k_end = ".marks.json";
  return file.size() > k_end.size() && file.compare(file.size() - k_end.size(), k_end.size(), k_end) == 0;
}

bool names_a_folder(const Options& options) {
  const auto& logs = options.debrief.logs;
  return std::any_of(logs.begin(), logs.end(), is_folder);
}

Result<std::vector<LogToFile>> logs_to_file(const Options& options, Records* records) {
  auto files = files_below(options.debrief.logs);
  if (!files) return files.error();
  // They belong to the log that they lie beside.
  if (names_a_folder(options)) std::erase_if(*files, is_marks);
  std::optional<long long> student;
  if (records != nullptr)
    if (const auto found = records->find_student(options.student)) student = found->number;
  std::vector<LogToFile> logs;
  for (const std::string& file : *files) {
    auto log = log_to_file(file, options, records, student);
    if (!log) return log.error();
    logs.push_back(std::move(*log));
  }
  return logs;
}

Result<NewFlight> debriefed(const LogToFile& log, const StandardFile& standard) {
  // A share of work must not throw: one log takes the blame for itself.
  try {
    return new_flight(log.file, log.name, log.debrief, standard);
  } catch (const std::bad_alloc&) {
    return Error{log.file + ": out of memory"};
  } catch (const std::exception& error) {
    return Error{log.file + ": this should not have happened: " + error.what()};
  }
}

/// What is filed, and why the rest is not.
struct Debriefed {
  std::vector<NewFlight> flights;
  std::vector<std::string> refused;
  std::string from_before;
};

Debriefed debrief_all(const std::vector<LogToFile>& logs, const StandardFile& standard) {
  const Progress progress(logs.size() == 1 ? "debriefing " + logs.front().file
                                           : fmt::format("debriefing {} logs", logs.size()));
  std::vector<Result<NewFlight>> flights(logs.size(), Error{});
  on_all_cores()(static_cast<int>(logs.size()), [&](int i) {
    const auto at = static_cast<std::size_t>(i);
    flights[at] = debriefed(logs[at], standard);
  });
  Debriefed all;
  for (std::size_t i = 0; i < logs.size(); ++i) {
    if (flights[i]) {
      all.flights.push_back(std::move(*flights[i]));
      all.from_before += from_before_words(logs[i]);
    } else {
      all.refused.push_back(flights[i].error().sentence);
    }
  }
  return all;
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

std::string filed_words(const std::vector<FiledFlight>& filed, const std::vector<NewFlight>& flights,
                        const std::string& name) {
  int added = 0, anew = 0, found = 0;
  for (const FiledFlight& one : filed) {
    added += one.attempts;
    anew += one.judged_anew;
  }
  for (const NewFlight& one : flights) found += static_cast<int>(one.attempts.size());
  if (found == 0)
    return fmt::format("No power-off attempt was found in {}, so nothing was filed for {}.",
                       flights.size() == 1 ? flights.front().log_name : "the logs", name);
  std::string words = counted(added, "new attempt") + " filed for " + name;
  if (anew > 0)
    words += fmt::format("; {} judged anew, what was said before stays", counted(anew, "attempt"));
  if (added + anew == 0) words += "; what the logs hold was filed before";
  return words + ".";
}

/// What speaks against the poor ones, with the option that mends it where there is one.
std::string doubts_text(const std::vector<NewFlight>& flights, const Page& page) {
  std::string text;
  for (const NewFlight& one : flights) {
    std::string reasons;
    for (const std::string& reason : one.doubts) reasons += (reasons.empty() ? "" : "; ") + reason;
    if (!reasons.empty()) text += wrapped(one.log_name + " is a poor log: " + reasons + ".", {2, 4}, page);
  }
  return text;
}

std::string none_words(const Options& options, const Debriefed& all) {
  const std::string& folder = options.debrief.logs.front();
  if (all.refused.empty()) return folder + ": no file in this folder; expected track logs";
  return fmt::format("{}: none of {} can be filed; the first: {}", folder,
                     counted(static_cast<int>(all.refused.size()), "file"), all.refused.front());
}

/// Airplane and runway by the names that the school gives them; where it knows none of that name they are
/// looked for elsewhere.
Result<Options> with_the_fleet(Options options, Records& records) {
  auto& debrief = options.debrief;
  if (debrief.airplane.empty() && !debrief.plan.empty()) {
    const auto bytes = read_file(debrief.plan);
    if (!bytes) return bytes.error();
    const auto plan = read_saved_plan_json(*bytes, debrief.plan);
    if (!plan) return plan.error();
    debrief.airplane = plan->airplane_id;
  }
  if (const auto failed = look_up_in_fleet(records, options.debrief)) return *failed;
  return options;
}

ExitCode file(const Options& as_typed) {
  auto records = Records::open(as_typed.records, Records::Opening::existing);
  if (!records && !as_typed.add_student) return input_is_at_fault(records.error());
  const auto completed = records ? with_the_fleet(as_typed, *records) : Result<Options>(as_typed);
  if (!completed) return input_is_at_fault(completed.error());
  const Options& options = *completed;
  const auto standard = find_standard_with(records ? &*records : nullptr, options.standard);
  if (!standard) return input_is_at_fault(standard.error());
  const auto logs = logs_to_file(options, records ? &*records : nullptr);
  if (!logs) return input_is_at_fault(logs.error());
  // All are read before any is filed, and all are filed or none; but of a folder what is no log is passed
  // over.
  const Debriefed all = debrief_all(*logs, *standard);
  if (!all.refused.empty() && !names_a_folder(options)) return input_is_at_fault({all.refused.front()});
  if (all.flights.empty()) return input_is_at_fault({none_words(options, all)});
  if (!records) records = Records::open(options.records);
  if (!records) return input_is_at_fault(records.error());
  const auto student = student_to_file_for(*records, options);
  if (!student) return input_is_at_fault(student.error());
  const auto filed = records->file_flights(student->number, all.flights, stamp_of(options));
  if (!filed) return input_is_at_fault(filed.error());
  const Page page = standard_output_page();
  std::string text = wrapped(filed_words(*filed, all.flights, student->name) + all.from_before, {}, page);
  text += doubts_text(all.flights, page);
  if (!all.refused.empty())
    text += wrapped(counted(static_cast<int>(all.refused.size()), "file") + " not filed:", {}, page);
  for (const std::string& reason : all.refused) text += wrapped(reason, {2, 4}, page);
  write_standard_output(printed(text, page));
  return ExitCode::done;
}

}  // namespace

void add_flights(const Command& record, const Shared& options) {
  const auto command =
      part(record, options, "file", "debrief logs and file their attempts; again: only what changed", file);
  auto& debrief = options->debrief;
  command.add_option("LOG", debrief.logs, "track logs of one student, or folders of them").required();
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
