#pragma once
// What is kept of students as JSON: `glidewright.archive/1`, docs/schema/archive.json.

#include <string>
#include <string_view>
#include <vector>

#include "formats/json_write.hpp"
#include "formats/result.hpp"
#include "store/values.hpp"

namespace glidewright {

/// Who wrote an archive, when, and of whom.
struct Archive {
  Stamp made;
  std::vector<StudentArchive> students;
  std::vector<FleetItem> fleet = {};         ///< the airplanes and airfields that go with them
  std::vector<KeptStandard> standards = {};  ///< those that the students' assessments name, and others
};

Json archive_to_json(const Archive& archive);
/// An airplane or airfield; its versions with what they say where that is known.
Json fleet_item_to_json(const FleetItem& item);
/// A standard with its text.
Json kept_standard_to_json(const KeptStandard& kept);
/// One student's part of it.
Json student_to_json(const StudentArchive& student);

/// What is wrong otherwise, with its line. Times are kept to the millisecond, chances to a millionth.
Result<Archive> read_archive_json(std::string_view bytes, std::string_view name);

/// One row an attempt and standard, for a spreadsheet; text that a spreadsheet would take for a formula is
/// set off with an apostrophe.
std::string attempts_csv(const std::vector<StudentArchive>& students);

/// To be read without any program: what is in the archive, student by student.
std::string archive_index_html(const Archive& archive);

}  // namespace glidewright
