// record add, list, rename
#include <fmt/format.h>

#include "apps/cli/commands/record/record.hpp"
#include "apps/cli/terminal.hpp"
#include "store/record_json.hpp"

namespace glidewright::record {
namespace {

/// " Student 1 is called so, too ..."; empty where nobody is.
std::string namesakes_words(Records& records, const Student& added) {
  StudentsPage same;
  same.search = added.name;
  const auto found = records.students(same);
  std::string numbers;
  for (const Student& one : found ? *found : std::vector<Student>())
    if (one.name == added.name && one.number != added.number)
      numbers += (numbers.empty() ? "" : ", ") + std::to_string(one.number);
  if (numbers.empty()) return {};
  return fmt::format(
      " Of that name there is already student {}: where it is the same person, "
      "`record trash {}` takes this one back.",
      numbers, added.number);
}

ExitCode add(const Options& options) {
  auto records = Records::open(options.records);
  if (!records) return input_is_at_fault(records.error());
  const auto student = records->add_student(options.name, stamp_of(options));
  if (!student) return input_is_at_fault(student.error());
  return say(fmt::format("{} is student {}.{}", student->name, student->number,
                         namesakes_words(*records, *student)));
}

ExitCode rename(const Options& options) {
  auto opened = open_for_student(options);
  if (!opened) return input_is_at_fault(opened.error());
  if (const auto failed =
          opened->records.rename_student(opened->student.number, options.name, stamp_of(options)))
    return input_is_at_fault(*failed);
  return say(fmt::format("Student {} is {} now.", opened->student.number, options.name));
}

ExitCode list(const Options& options) {
  auto records = Records::open(options.records, Records::Opening::existing);
  if (!records) return input_is_at_fault(records.error());
  StudentsPage all;
  all.search = options.search;
  const auto students = options.trash ? records->students_in_trash() : records->students(all);
  if (!students) return input_is_at_fault(students.error());
  if (options.json) {
    write_json(students_to_json(*students));
    return ExitCode::done;
  }
  if (students->empty())
    return say(options.trash            ? "No student is in the trash."
               : options.search.empty() ? "No students yet; record add makes the first."
                                        : "No student's name has \"" + options.search + "\" in it.");
  const Page page = standard_output_page();
  std::string text;
  for (const Student& one : *students)
    text += wrapped(fmt::format("student {}: {}", one.number, one.name), {0, 4}, page);
  write_standard_output(printed(text, page));
  return ExitCode::done;
}

}  // namespace

void add_students(const Command& record, const Shared& options) {
  const auto added = part(record, options, "add", "a student", add);
  added.add_option("NAME", options->name, "of the student").required();
  add_by(added, options);
  const auto listed = part(record, options, "list", "the students by name", list);
  listed.add_option("--search", options->search, "those with this in their name").type_name("TEXT");
  listed.add_flag("--trash", options->trash, "those that were thrown away");
  add_json_flag(listed, options->json);
  const auto renamed = part(record, options, "rename", "a student", rename);
  add_student_argument(renamed, options);
  renamed.add_option("NAME", options->name, "the new one").required();
  add_by(renamed, options);
}

}  // namespace glidewright::record
