#pragma once
// Published and house standards as data, and the verdict on one landing.

#include <optional>
#include <string>
#include <vector>

#include "engine/debrief/touchdown.hpp"
#include "engine/plan/plan.hpp"

namespace glidewright {

/// One task of one edition of a standard.
struct Standard {
  std::string id;  ///< file name without ending
  std::string name;
  std::string edition;
  std::string clause;
  std::string version = {};               ///< of a house standard; empty where the edition is all there is
  std::string set_by = {};                ///< who set a house standard; empty for a published one
  std::string source_state;               ///< how well the text is known: "read in source", "from memory"
  std::optional<Box> box;                 ///< none: the numeric limit was not seen, so it is never graded
  bool limit_seen = true;                 ///< false: the box is hearsay, kept but never graded
  std::optional<double> speed_over_kt;    ///< allowed above the recommended speed
  std::optional<double> speed_under_kt;   ///< allowed below it
  bool power_off = true;                  ///< does it ask for a power-off approach?
  std::vector<std::string> not_in_a_log;  ///< criteria for the instructor to tick
};

enum class Verdict { meets, does_not_meet, cannot_tell, not_demonstrated, not_graded };

struct Grade {
  Standard standard;  ///< as it was when it was applied: limits of a house change
  Verdict verdict = Verdict::cannot_tell;
  double probability_met = 0.0;  ///< of the touchdown limit alone
  std::string reason;
};

/// meets at 0.90 and more, does not meet at 0.10 and less, else this log cannot tell.
/// A go-around is not demonstrated; a standard without a seen limit, or of another kind, is not graded.
Grade grade(const Standard& standard, const Attempt& attempt, const std::optional<Touchdown>& touchdown);

}  // namespace glidewright
