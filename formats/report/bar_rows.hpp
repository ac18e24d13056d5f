#pragma once
// Runway ruler and ledger as rows of bars and words; HTML and paper draw them.

#include <optional>
#include <string_view>
#include <vector>

#include "engine/debrief/debrief.hpp"
#include "formats/report/feet_scale.hpp"
#include "formats/report/runs.hpp"

namespace glidewright::report {

/// Long, short or in the box; the shape repeats the colour.
enum class Side { to_long, to_short, inside };

struct Bar {
  enum class Kind { interval, from_log, would_have, effect, undecided_effect, whisker };
  Kind kind = Kind::interval;
  Side side = Side::inside;
  double from_ft = 0.0;
  double to_ft = 0.0;
};

struct RowMark {
  enum class Shape { to_long, to_short, inside, went_around, planned };
  Shape shape = Shape::inside;
  double along_ft = 0.0;
};

/// One row: a number on the left, bars along the feet of runway, words on the right.
struct BarRow {
  Runs amount;
  std::vector<Bar> bars;
  std::optional<RowMark> mark;
  Runs words;
  int attempt = 0;  ///< whose row it is on the ruler; 0 in a ledger
};

/// What the scale under the rows means.
inline constexpr std::string_view k_scale_words = "ft past the point; bars 95 in 100";

/// Wide enough for every touchdown, its interval, and every running sum of causes.
FeetScale scale_of(const Debrief& debrief);

/// One row for each attempt: interval and best guess, the log's own as a thin bar where something was seen.
std::vector<BarRow> ruler_rows(const Debrief& debrief);

/// From the planned touchdown by one row for each cause to the touchdown. Printed effects add up: "not
/// explained" takes what rounding leaves over.
std::vector<BarRow> ledger_rows(const AttemptDebrief& one, Box box);

}  // namespace glidewright::report
