// record drills
#include <fmt/format.h>

#include "apps/cli/commands/record/record.hpp"
#include "formats/drill_json.hpp"
#include "formats/file.hpp"

namespace glidewright::record {
namespace {

ExitCode drills(const Options& options) {
  const auto bytes = read_file(options.file);
  if (!bytes) return input_is_at_fault(bytes.error());
  const auto answers = read_answers_json(*bytes, options.file);
  if (!answers) return input_is_at_fault(answers.error());
  auto opened = open_for_student(options);
  if (!opened) return input_is_at_fault(opened.error());
  const auto added = opened->records.add_answers(opened->student.number, *answers, stamp_of(options));
  if (!added) return input_is_at_fault(added.error());
  return say(fmt::format("{} filed for {}{}.", counted(*added, "new answer"), opened->student.name,
                         *added == 0 && !answers->empty() ? "; all were filed before" : ""));
}

}  // namespace

void add_drills(const Command& record, const Shared& options) {
  const auto command = part(record, options, "drills", "file what a student answered to drills", drills);
  add_student_argument(command, options);
  command.add_option("FILE", options->file, "what drill --answers or the page wrote").required();
  add_by(command, options);
}

}  // namespace glidewright::record
