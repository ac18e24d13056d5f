#pragma once
// An archive as one file: the records as JSON, a table, a page to read, and the logs as they were filed.

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "formats/archive.hpp"
#include "store/archive_json.hpp"
#include "store/records.hpp"

namespace glidewright {

/// Refused where its logs and what stands beside them come to more than `largest_bytes`: they are held in
/// memory, here and where the archive is brought in.
Result<std::string> archive_zip(Records& records, const Archive& archive,
                                std::size_t largest_bytes = k_largest_archive_bytes);

/// One of the archives of an export: whose it is, and what it comes to before it is packed.
struct ArchivePart {
  std::vector<long long> students;
  std::size_t logs = 0;  ///< each once
  std::size_t log_bytes = 0;
  std::size_t text_bytes = 0;  ///< of what stands beside the logs, at most
  std::size_t bytes() const { return log_bytes + text_bytes; }
};

/// Students by number, in parts that come to no more than `largest_bytes` each; one student who has more is
/// a part alone. `beside`: what every part has besides students: who wrote it, fleet and standards.
Result<std::vector<ArchivePart>> archive_parts(Records& records, const std::vector<long long>& students,
                                               std::size_t largest_bytes, const Archive& beside);

/// The airplanes in which these students flew, whole: what goes with their attempts.
Result<std::vector<FleetItem>> fleet_flown_by(Records& records, const std::vector<StudentArchive>& students);

/// The standards whose texts the assessments of these students name, each once.
std::vector<KeptStandard> standards_of(const std::vector<StudentArchive>& students);

struct ReceivedArchive {
  Archive archive;
  std::map<std::string, std::string> logs;  ///< by SHA-256
};
Result<ReceivedArchive> read_archive_zip(std::string_view bytes, std::string_view name);

}  // namespace glidewright
