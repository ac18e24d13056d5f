// record export, import
#include <fmt/format.h>

#include "apps/cli/commands/record/record.hpp"
#include "apps/cli/terminal.hpp"
#include "formats/file.hpp"
#include "store/archive_json.hpp"
#include "store/archive_zip.hpp"

namespace glidewright::record {
namespace {

Result<std::vector<StudentArchive>> wanted(Records& records, const Options& options) {
  std::vector<long long> numbers;
  if (options.all) {
    const auto all = records.students();
    if (!all) return all.error();
    for (const Student& one : *all) numbers.push_back(one.number);
  }
  for (const std::string& who : options.students) {
    const auto student = records.find_student(who);
    if (!student) return student.error();
    numbers.push_back(student->number);
  }
  std::vector<StudentArchive> found;
  for (const long long number : numbers) {
    auto one = records.archive_of(number);
    if (!one) return one.error();
    found.push_back(std::move(*one));
  }
  return found;
}

bool ends_with(const std::string& text, const std::string& end) {
  return text.size() >= end.size() && text.compare(text.size() - end.size(), end.size(), end) == 0;
}

ExitCode export_to(const Options& options) {
  if (options.all == !options.students.empty()) {
    write_error("record export: the students by name or number, or --all, was expected");
    return ExitCode::wrong_usage;
  }
  auto records = Records::open(options.records, Records::Opening::existing);
  if (!records) return input_is_at_fault(records.error());
  const auto students = wanted(*records, options);
  if (!students) return input_is_at_fault(students.error());
  const auto fleet = options.all ? records->whole_fleet() : fleet_flown_by(*records, *students);
  if (!fleet) return input_is_at_fault(fleet.error());
  const auto bytes = ends_with(options.file, ".csv")
                         ? Result<std::string>(attempts_csv(*students))
                         : archive_zip(*records, {stamp_of(options), *students, *fleet});
  if (!bytes) return input_is_at_fault(bytes.error());
  if (const auto failed = write_new_file_atomically(options.file, *bytes)) return input_is_at_fault(*failed);
  return say(fmt::format("{} in {}.", counted(static_cast<int>(students->size()), "student"), options.file));
}

std::string merged_words(const std::string& name, const Merged& merged) {
  if (!merged.anything()) return name + ": nothing new.";
  return fmt::format("{}{}: {}, {}, {}, {}, {}.", name, merged.student ? " (new here)" : "",
                     counted(merged.attempts, "attempt"), counted(merged.assessments, "assessment"),
                     counted(merged.notes, "note"), counted(merged.sign_offs, "sign-off"),
                     counted(merged.answers, "drill answer"));
}

ExitCode import_from(const Options& options) {
  const auto bytes = read_file(options.file);
  if (!bytes) return input_is_at_fault(bytes.error());
  const auto received = read_archive_zip(*bytes, options.file);
  if (!received) return input_is_at_fault(received.error());
  auto records = Records::open(options.records);
  if (!records) return input_is_at_fault(records.error());
  const auto fleet = records->merge_fleet(received->archive.fleet, stamp_of(options));
  if (!fleet) return input_is_at_fault(fleet.error());
  const Page page = standard_output_page();
  std::string text;
  if (fleet->anything())
    text += wrapped(fmt::format("{} and {} new here, {}.", counted(fleet->airplanes, "airplane"),
                                counted(fleet->airfields, "airfield"), counted(fleet->versions, "version")),
                    {0, 4}, page);
  int refused = 0;
  for (const StudentArchive& one : received->archive.students) {
    const Progress progress("bringing in " + one.student.name);
    const auto merged = records->merge(one, received->logs, stamp_of(options));
    if (merged) {
      text += wrapped(merged_words(one.student.name, *merged), {0, 4}, page);
    } else {
      ++refused;
      write_error(one.student.name + " was not brought in: " + merged.error().sentence);
    }
  }
  write_standard_output(printed(text, page));
  return refused > 0 ? ExitCode::input_at_fault : ExitCode::done;
}

}  // namespace

void add_archives(const Command& record, const Shared& options) {
  const auto out = part(record, options, "export",
                        "write students out: an archive to keep or hand over, or a table (.csv)", export_to);
  out.add_option("FILE", options->file, "the archive (.zip) or table (.csv); must not be there yet")
      .required();
  out.add_option("STUDENT", options->students, "names or numbers");
  out.add_flag("--all", options->all, "every student who is not in the trash");
  add_by(out, options);
  const auto in = part(record, options, "import", "bring an archive in; what is here already stays as it is",
                       import_from);
  in.add_option("FILE", options->file, "an archive that record export wrote").required();
  add_by(in, options);
}

}  // namespace glidewright::record
