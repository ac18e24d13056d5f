#pragma once
// An archive as one file: the records as JSON, a table, a page to read, and the logs as they were filed.

#include <map>
#include <string>
#include <string_view>

#include "store/archive_json.hpp"
#include "store/records.hpp"

namespace glidewright {

Result<std::string> archive_zip(Records& records, const Archive& archive);

/// The airplanes in which these students flew, whole: what goes with their attempts.
Result<std::vector<FleetItem>> fleet_flown_by(Records& records, const std::vector<StudentArchive>& students);

struct ReceivedArchive {
  Archive archive;
  std::map<std::string, std::string> logs;  ///< by SHA-256
};
Result<ReceivedArchive> read_archive_zip(std::string_view bytes, std::string_view name);

}  // namespace glidewright
