#pragma once
// The numbers a pilot finds in the airplane's handbook, each with where it comes from.

#include <optional>
#include <string>
#include <vector>

#include "engine/units/units.hpp"

namespace glidewright {

/// A number, how far it may be off (one standard deviation, same unit), and its source in words.
struct SourcedNumber {
  double value = 0.0;
  double sd = 0.0;
  std::string source;
};

/// One flap setting as the handbook gives it.
struct HandbookFlap {
  double setting_deg = 0.0;
  SourcedNumber stall_speed_kcas;            ///< power off, at max_weight_lb
  std::optional<SourcedNumber> glide_ratio;  ///< steady, still air, at glide_speed_kcas; else class default
  std::optional<double> glide_speed_kcas;
  double maximum_speed_kcas = 0.0;  ///< flap limit (VFE); 0 for the clean wing
  double travel_time_s = 0.0;       ///< from the setting before this one
};

/// Where a profile's glide numbers come from when they were fitted from logged glides.
struct FittedFrom {
  struct Log {
    std::string file;
    std::string sha256;  ///< of its bytes, so that no log is counted twice
    int glides = 0;
  };
  struct Original {
    std::string field;  ///< as in the profile file: "flaps[2].glide_ratio"
    SourcedNumber number;
  };
  /// Between two of the fitted numbers; pairs that are not listed have none.
  struct Correlation {
    std::string one;
    std::string other;
    double value = 0.0;
  };
  std::vector<Log> logs;
  std::vector<Original> handbook;  ///< what the numbers were before the first fit
  double drag_sd = 0.0;            ///< relative, of all drag together on an approach
  double polar_misfit = 0.0;       ///< relative, of drag: what no polar of this shape follows
  std::vector<Correlation> correlations;
};

struct Handbook {
  std::string id;  ///< file name without ending
  std::string name;
  bool invented = false;
  std::string description;
  SourcedNumber maximum_weight_lb;
  SourcedNumber best_glide_speed_kcas;  ///< at maximum weight, flaps up
  SourcedNumber best_glide_ratio;       ///< powerplant as the handbook says, which the glide then includes
  std::vector<HandbookFlap> flaps;      ///< first is 0, rising
  SourcedNumber approach_speed_kcas;    ///< final approach, landing flap
  double landing_flap_deg = 0.0;        ///< one of the settings
  SourcedNumber wing_span_ft;
  SourcedNumber wing_height_ft;                  ///< above the ground when parked, for ground effect
  std::optional<SourcedNumber> slip_drag_ratio;  ///< glide ratio slipping over not slipping, flaps up
  double slip_flap_limit_deg = 90.0;             ///< handbook: no slip with more flap than this
  double maximum_crosswind_kt = 15.0;            ///< demonstrated
  double maximum_tailwind_kt = 5.0;
  SourcedNumber ground_roll_ft;    ///< landing, sea level standard day
  double antenna_height_ft = 4.0;  ///< of a logger on the glareshield above the parked wheels
  /// Where drag is least and best_glide_ratio holds; else at best_glide_speed_kcas, which stays the speed to
  /// fly.
  std::optional<SourcedNumber> least_drag_speed_kcas;
  std::optional<SourcedNumber> near_stall_drag;  ///< `Polar::knee_gain`; else class default
  std::optional<SourcedNumber> turn_drag;        ///< `Polar::turn_drag_gain`; else class default
  std::optional<FittedFrom> fitted;              ///< none: straight from the handbook
};

/// Which numbers do not go together, and what would be believable; empty when all do.
struct Inconsistency {
  std::string field;  ///< as in the profile file: "best_glide_speed_kcas"
  std::string
      sentence;  ///< "best glide 45 kt lies below the stall at 48 kt; expected 1.2 to 1.9 times the stall"
};
std::vector<Inconsistency> check(const Handbook& handbook);

}  // namespace glidewright
