#pragma once
// Standards of files, of the data folder and of the records, as commands take them.

#include "apps/cli/inputs/data_folder.hpp"
#include "store/records.hpp"

namespace glidewright {

/// A file, or an id in data/standards; else one whose text these records keep: "ID", "ID:VERSION" or its
/// SHA-256. Empty: the usual one. `records`: none where filing makes them.
Result<StandardFile> find_standard_with(Records* records, const std::string& named);

/// The same, to count by what these records hold.
Result<StandardInForce> standard_to_count_by(Records& records, const std::string& named);

}  // namespace glidewright
