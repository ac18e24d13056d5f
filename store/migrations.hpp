#pragma once

#include <optional>
#include <string>

#include "formats/result.hpp"
#include "store/sql.hpp"

namespace glidewright {

/// Number of the newest form of the records.
int newest_form();

/// Brings the records of `file`, open in `sql`, forward to form `wanted`, one numbered step after another,
/// each whole or not at all. Before the first step a copy is laid beside records that hold something. There
/// is no way back but that copy.
std::optional<Error> migrate(soci::session& sql, const std::string& file, int wanted);

}  // namespace glidewright
