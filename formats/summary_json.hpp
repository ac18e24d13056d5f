#pragma once
// Many logs at once: a row for each, in one object `glidewright.summary/1` (docs/schema/summary.json), and in
// a journal of one row a line, from which a run that was stopped goes on.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "formats/debrief_json.hpp"
#include "formats/json_write.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// One attempt in a row; feet past the point, 95 % interval; none without a touchdown.
struct SummaryAttempt {
  std::string time;     ///< of the touchdown, else of abeam; UTC, seconds
  std::string kind;     ///< as in a debrief's JSON
  std::string outcome;  ///< as in a debrief's JSON
  struct Place {
    double along_ft = 0.0;
    double low95_ft = 0.0;
    double high95_ft = 0.0;
  };
  std::optional<Place> touchdown;
  std::string verdict;  ///< against the first standard, as in a debrief's JSON; empty without one
};

/// One log: what came of it, or why nothing did.
struct SummaryRow {
  std::string key;  ///< of log and question together; the same key, the same answer
  std::string file;
  std::string sha256;
  std::string grade;
  std::string standard;  ///< id of the first
  std::vector<SummaryAttempt> attempts;
  std::string not_debriefed_because;  ///< empty where it was
};

struct Summary {
  std::vector<SummaryRow> rows;  ///< in the order of the files
  std::size_t files = 0;         ///< rows there would be had it not been stopped
};

struct SummaryTotals {
  std::size_t debriefed = 0;
  std::size_t attempts = 0;
  std::size_t touchdowns = 0;
  std::size_t meets = 0;
  std::size_t does_not_meet = 0;
  std::size_t cannot_tell = 0;
};
SummaryTotals totals_of(const Summary& summary);

SummaryRow summary_row(const DebriefedLog& debriefed);

Json summary_to_json(const Summary& summary);

/// One line, its end included.
std::string journal_line(const SummaryRow& row);
/// The rows of a journal; a line that cannot be read, such as one cut off by a crash, is passed over.
std::vector<SummaryRow> read_journal(std::string_view bytes);

}  // namespace glidewright
