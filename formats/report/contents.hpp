#pragma once
// What a debrief's report says, in its order; HTML and paper only lay it out.

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "formats/debrief_json.hpp"
#include "formats/report/bar_rows.hpp"

namespace glidewright::report {

/// A title cell: "Airplane", "Demo trainer", "".
struct Cell {
  std::string label;
  std::string value;
  std::string small;
};

/// A heading and, lighter, what it shows.
struct Heading {
  std::string title;
  std::string about;
};

/// One verdict with its reasons.
struct VerdictWords {
  std::string title;
  Runs verdict;
  std::vector<std::string> notes;  ///< empty verdict and notes: nothing to say
};

struct ChecklistItem {
  std::string asked;
  std::optional<bool> answer;
};

struct AttemptContents {
  int index = 0;
  Heading heading;
  Runs touchdown;          ///< empty without one
  std::string marked;      ///< who flew and what was noted; may be empty
  std::string no_causes;   ///< why there is no ledger; may be empty where there is one
  Heading ledger_heading;  ///< of `ledger`
  std::vector<BarRow> ledger;
  VerdictWords test;
  VerdictWords airmanship;
  Heading strip;
  Heading sketch;
  std::string lost;  ///< when the means ran out; may be empty
  Heading checklist_heading;
  std::vector<ChecklistItem> checklist;
  std::string key_points_caption;
  std::array<std::string, 6> key_points_header;
  std::vector<std::array<std::string, 6>> key_points;
  std::vector<std::string> notes;
  std::string lesson;  ///< may be empty
};

/// A titled list of the report's end.
struct TitledList {
  std::string title;
  std::vector<std::string> items;
};

struct ReportContents {
  Heading heading;  ///< and the log's file
  std::string day;  ///< "2024-05-14"; empty without positions
  std::vector<Cell> cells;
  std::string safety_title;
  std::vector<Runs> safety;  ///< findings, then notes; at least one
  Heading ruler_heading;
  std::vector<BarRow> ruler;
  std::vector<AttemptContents> attempts;
  std::vector<TitledList> lists;  ///< none of them empty
  std::string safety_sentence;
  std::string fingerprint;
};

ReportContents report_contents(const DebriefedLog& debriefed);

}  // namespace glidewright::report
