#pragma once

#include <optional>
#include <string>

#include "formats/result.hpp"
#include "store/database.hpp"

namespace glidewright {

/// Number of the newest form of the records.
int newest_form();

/// Brings the records of `shown` (a file, or a server's address without password), open in `sql`, forward to
/// form `wanted`, one numbered step after another, each whole or not at all. Before the first step a copy is
/// laid beside a file that holds something. There is no way back but that copy.
std::optional<Error> migrate(soci::session& sql, DatabaseKind kind, const std::string& shown, int wanted);

}  // namespace glidewright
