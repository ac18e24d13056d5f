#pragma once
// The ledger of causes: from the planned touchdown to the touchdown, one row per cause, in feet of runway.

#include <optional>
#include <string>
#include <vector>

#include "apps/cli/picture/picture_style.hpp"
#include "apps/cli/picture/runway_scale.hpp"
#include "engine/plan/plan.hpp"

namespace glidewright {

/// How far one cause moved the touchdown, ft (long positive), with its 95 % interval.
struct LedgerCause {
  std::string name;
  double effect_ft = 0.0;
  double low95_ft = 0.0;
  double high95_ft = 0.0;

  bool undecided() const { return low95_ft <= 0.0 && high95_ft >= 0.0; }
};

/// One attempt. Planned touchdown, causes and unexplained add up to the touchdown.
struct LedgerScene {
  double planned_touchdown_ft = 0.0;
  std::vector<LedgerCause> causes;         ///< in flown order
  std::optional<LedgerCause> unexplained;  ///< none where nothing was measured: a go-around
  std::optional<RunwayPlace> touchdown;    ///< none: not known, the row is left out
  PlaceKind kind = PlaceKind::landed;
  Box box;
  std::string no_causes_because;  ///< sentence shown instead of the causes when there are none
};

/// Where the touchdown would be: planned, then after each cause, then with what is unexplained; ft.
std::vector<double> running_sums_ft(const LedgerScene& scene);

/// Under the ruler at its scale (wider by 500 ft at both ends until all sums lie within): ○ planned, one row
/// per cause with a bar from sum to sum (long solid, short hatched, undecided an outline and the word), thin
/// lines for the parts of the 95 % intervals that reach out of the bars, what is not explained, the
/// touchdown.
///
/// Effects are printed to 10 ft. So that the printed rows add up too, "not explained" takes what rounding
/// leaves over, at most 5 ft a row and far inside its interval.
std::string draw_ledger(const LedgerScene& scene, const PictureStyle& style);

}  // namespace glidewright
