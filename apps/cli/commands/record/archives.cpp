// record export, import
#include <fmt/format.h>

#include "apps/cli/commands/record/record.hpp"
#include "apps/cli/inputs/setting.hpp"
#include "apps/cli/terminal.hpp"
#include "formats/file.hpp"
#include "store/archive_json.hpp"
#include "store/archive_zip.hpp"

namespace glidewright::record {
namespace {

constexpr double k_bytes_of_a_mb = 1048576.0;
/// Held in memory while it is written and while it is brought in. Common practice, no source.
constexpr double k_usual_part_mb = 1000.0;
constexpr double k_smallest_part_mb = 0.001;
/// What can be brought in again.
constexpr double k_largest_part_mb = k_largest_archive_bytes / k_bytes_of_a_mb;

Result<std::vector<long long>> wanted(Records& records, const Options& options) {
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
  return numbers;
}

Result<std::vector<StudentArchive>> archives_of(Records& records, const std::vector<long long>& numbers) {
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

/// "school.zip", "school-2.zip", "school-3.zip".
std::string part_name(const std::string& file, std::size_t part) {
  if (part == 0) return file;
  const std::string end = ends_with(file, ".zip") ? ".zip" : "";
  return fmt::format("{}-{}{}", file.substr(0, file.size() - end.size()), part + 1, end);
}

std::optional<Error> write_table(Records& records, const std::vector<long long>& numbers,
                                 const std::string& file) {
  const auto students = archives_of(records, numbers);
  if (!students) return students.error();
  return write_new_file_atomically(file, attempts_csv(*students));
}

/// Of everybody all that the school has goes along, else what the students flew in and were judged by.
Result<Archive> beside_students(Records& records, const Options& options) {
  Archive beside{stamp_of(options), {}};
  if (!options.all) return beside;
  auto fleet = records.whole_fleet();
  if (!fleet) return fleet.error();
  auto standards = records.kept_standards();
  if (!standards) return standards.error();
  beside.fleet = std::move(*fleet);
  beside.standards = std::move(*standards);
  return beside;
}

std::optional<Error> write_archive(Records& records, const ArchivePart& part, Archive archive, bool of_all,
                                   const std::string& file) {
  auto students = archives_of(records, part.students);
  if (!students) return students.error();
  archive.students = std::move(*students);
  if (!of_all) {
    auto fleet = fleet_flown_by(records, archive.students);
    if (!fleet) return fleet.error();
    archive.fleet = std::move(*fleet);
    archive.standards = standards_of(archive.students);
  }
  const auto bytes = archive_zip(records, archive);
  if (!bytes) return bytes.error();
  return write_new_file_atomically(file, *bytes);
}

/// Which students go into which archive; always one, also of nobody.
Result<std::vector<ArchivePart>> parts_of(Records& records, const std::vector<long long>& numbers,
                                          double part_mb, const Archive& beside) {
  auto parts = archive_parts(records, numbers, static_cast<std::size_t>(part_mb * k_bytes_of_a_mb), beside);
  if (parts && parts->empty()) parts->emplace_back();
  return parts;
}

std::string part_words(const ArchivePart& part, const std::string& file) {
  return fmt::format("{}: {}, {}, {:.1f} MB before packing", file,
                     counted(static_cast<int>(part.students.size()), "student"),
                     counted(static_cast<int>(part.logs), "log"),
                     static_cast<double>(part.bytes()) / k_bytes_of_a_mb);
}

ExitCode export_to(const Options& options) {
  if (options.all == !options.students.empty()) {
    write_error("record export: the students by name or number, or --all, was expected");
    return ExitCode::wrong_usage;
  }
  if (const auto error = outside(options.part_mb, {"--part-mb", "MB", k_smallest_part_mb, k_largest_part_mb}))
    return input_is_at_fault(*error);
  auto records = Records::open(options.records, Records::Opening::existing);
  if (!records) return input_is_at_fault(records.error());
  const auto numbers = wanted(*records, options);
  if (!numbers) return input_is_at_fault(numbers.error());
  const std::string students = counted(static_cast<int>(numbers->size()), "student");
  if (ends_with(options.file, ".csv")) {
    if (const auto failed = write_table(*records, *numbers, options.file)) return input_is_at_fault(*failed);
    return say(fmt::format("{} in {}.", students, options.file));
  }
  const auto beside = beside_students(*records, options);
  if (!beside) return input_is_at_fault(beside.error());
  const auto parts = parts_of(*records, *numbers, options.part_mb.value_or(k_usual_part_mb), *beside);
  if (!parts) return input_is_at_fault(parts.error());
  const Page page = standard_output_page();
  std::string text;
  for (std::size_t i = 0; i < parts->size(); ++i) {
    const std::string file = part_name(options.file, i);
    const Progress progress("writing " + file);
    if (const auto failed = write_archive(*records, parts->at(i), *beside, options.all, file))
      return input_is_at_fault(*failed);
    text += wrapped(part_words(parts->at(i), file), {2, 4}, page);
  }
  if (parts->size() == 1) return say(fmt::format("{} in {}.", students, options.file));
  write_standard_output(printed(
      wrapped(fmt::format("{} in {} archives; record import takes them together or one by one:", students,
                          parts->size()),
              {}, page) +
          text,
      page));
  return ExitCode::done;
}

std::string merged_words(const std::string& name, const Merged& merged) {
  if (!merged.anything()) return name + ": nothing new.";
  return fmt::format("{}{}: {}, {}, {}, {}, {}.", name, merged.student ? " (new here)" : "",
                     counted(merged.attempts, "attempt"), counted(merged.assessments, "assessment"),
                     counted(merged.notes, "note"), counted(merged.sign_offs, "sign-off"),
                     counted(merged.answers, "drill answer"));
}

Result<ReceivedArchive> read_archive(const std::string& file) {
  const auto bytes = read_file(file);
  if (!bytes) return bytes.error();
  return read_archive_zip(*bytes, file);
}

/// What was new is added to `text`; each student comes in wholly or not at all.
ExitCode bring_in(Records& records, const ReceivedArchive& received, const Stamp& stamp, std::string& text) {
  const Page page = standard_output_page();
  const auto fleet = records.merge_fleet(received.archive.fleet, stamp);
  if (!fleet) return input_is_at_fault(fleet.error());
  if (fleet->anything())
    text += wrapped(fmt::format("{} and {} new here, {}.", counted(fleet->airplanes, "airplane"),
                                counted(fleet->airfields, "airfield"), counted(fleet->versions, "version")),
                    {0, 4}, page);
  const auto standards = records.merge_standards(received.archive.standards, stamp);
  if (!standards) return input_is_at_fault(standards.error());
  if (*standards > 0) text += wrapped(counted(*standards, "standard") + " new here.", {0, 4}, page);
  ExitCode code = ExitCode::done;
  for (const StudentArchive& one : received.archive.students) {
    const Progress progress("bringing in " + one.student.name);
    const auto merged = records.merge(one, received.logs, stamp);
    if (merged)
      text += wrapped(merged_words(one.student.name, *merged), {0, 4}, page);
    else
      code = input_is_at_fault({one.student.name + " was not brought in: " + merged.error().sentence});
  }
  return code;
}

ExitCode import_from(const Options& options) {
  std::optional<Records> records;
  std::string text;
  ExitCode code = ExitCode::done;
  for (const std::string& file : options.files) {
    const auto received = read_archive(file);
    if (!received) {
      code = input_is_at_fault(received.error());
      continue;
    }
    // Not made for a file that is no archive.
    if (!records) {
      auto opened = Records::open(options.records);
      if (!opened) return input_is_at_fault(opened.error());
      records = *std::move(opened);
    }
    if (bring_in(*records, *received, stamp_of(options), text) != ExitCode::done)
      code = ExitCode::input_at_fault;
  }
  write_standard_output(printed(text, standard_output_page()));
  return code;
}

}  // namespace

void add_archives(const Command& record, const Shared& options) {
  const auto out = part(record, options, "export",
                        "write students out: an archive to keep or hand over, or a table (.csv)", export_to);
  out.add_option("FILE", options->file, "the archive (.zip) or table (.csv); must not be there yet")
      .required();
  out.add_option("STUDENT", options->students, "names or numbers");
  out.add_flag("--all", options->all, "every student who is not in the trash");
  out.add_option("--part-mb", options->part_mb,
                 "one archive comes to so much at most before it is packed, and the next students go into "
                 "FILE-2, FILE-3 ...; else 1000")
      .type_name("MB");
  add_by(out, options);
  const auto in =
      part(record, options, "import", "bring archives in; what is here already stays as it is", import_from);
  in.add_option("FILE", options->files, "archives that record export wrote").required();
  add_by(in, options);
}

}  // namespace glidewright::record
