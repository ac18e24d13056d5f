#pragma once

#include <string>

#include "apps/cli/words/page.hpp"
#include "formats/csv_mapping.hpp"

namespace glidewright {

/// How the columns of a CSV are read, what of it was guessed, and how to correct it.
std::string columns_text(const CsvColumnsShown& shown_columns, const std::string& file, const Page& page);

}  // namespace glidewright
