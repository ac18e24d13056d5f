#pragma once
// Where the airplanes, the standards and the demonstration lie.

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "engine/airplane/airplane.hpp"
#include "engine/debrief/standard.hpp"
#include "engine/track/runway.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// The folder with airplanes/, standards/ and demo/: what GLIDEWRIGHT_DATA names; else data/ or
/// ../share/glidewright beside the program; else the source tree it was built from.
Result<std::filesystem::path> data_folder();

/// A path as a user would name it: from the working folder where that is shorter.
std::string shown_path(const std::filesystem::path& path);

/// An airplane from a JSON file or by its id in data/airplanes; numbers that do not go together are an error.
Result<Airplane> find_airplane(const std::string& file_or_id);

/// The same with the file that it came from.
struct AirplaneFile {
  std::string path;
  std::string bytes;
  Handbook handbook;
  std::string fleet_uid = {};       ///< where it is an airplane of the records' fleet
  std::string profile_sha256 = {};  ///< of the version there that this is
};
Result<AirplaneFile> find_airplane_file(const std::string& file_or_id);
/// The same where its numbers need not go together.
Result<AirplaneFile> find_unchecked_airplane_file(const std::string& file_or_id);

/// What a command names of the records' fleet; none of what the records do not know by that name.
struct NamedInRecords {
  std::optional<AirplaneFile> airplane;
  std::optional<Runway> runway;
};
/// records: a file or postgresql://... that is there.
Result<NamedInRecords> named_in_records(const std::string& records, const std::string& airplane,
                                        const std::string& runway);

/// A standard from a JSON file or by its id in data/standards.
Result<Standard> find_standard(const std::string& file_or_id);

/// The same with the file that it came from.
struct StandardFile {
  std::string path;
  std::string bytes;
  Standard standard;
};
Result<StandardFile> find_standard_file(const std::string& file_or_id);

/// Every standard in data/standards, by id.
Result<std::vector<Standard>> all_standards();

}  // namespace glidewright
