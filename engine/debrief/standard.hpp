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

/// Mean speed on final, from wings level down to 50 ft, calibrated.
struct SpeedOnFinal {
  double mean_kcas = 0.0;
  double sd_kt = 0.0;        ///< how far the mean may be off, not how much the speed went up and down
  double wanted_kcas = 0.0;  ///< recommended, half the gust added
  bool from_panel = false;   ///< else from ground speed and wind
};

/// The speed limits of a standard. Only the mean is graded: what the speed did meanwhile, a log of positions
/// hides.
struct SpeedGrade {
  SpeedOnFinal speed;
  Verdict verdict =
      Verdict::cannot_tell;  ///< meets, does not meet, cannot tell; at the same chances as a touchdown
  double probability_met = 0.0;
  std::string reason;
};

struct Grade {
  Standard standard;  ///< as it was when it was applied: limits of a house change
  Verdict verdict = Verdict::cannot_tell;
  double probability_met = 0.0;  ///< of the touchdown limit alone
  std::string reason;
  std::optional<SpeedGrade> speed = {};  ///< where the standard limits it and the attempt landed from a final
};

/// meets at 0.90 and more; does not meet where it is 0.90 sure that it was short of the box, or that it was
/// beyond; else this log cannot tell. A go-around is not demonstrated; a standard without a seen limit, or of
/// another kind, is not graded. `speed`: none where the log shows no final of two seconds or more.
Grade grade(const Standard& standard, const Attempt& attempt, const std::optional<Touchdown>& touchdown,
            const std::optional<SpeedOnFinal>& speed = std::nullopt);

}  // namespace glidewright
