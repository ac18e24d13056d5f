#pragma once
// A table of steady glides: one row each, what was flown and how fast it went down.

#include <string>
#include <string_view>
#include <vector>

#include "engine/calibration/logged_glide.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// What a column that is missing stands for.
struct GlideTableDefaults {
  double weight_lb = 0.0;
};

struct GlideTable {
  std::vector<LoggedGlide> glides;
  std::vector<std::string> notes;  ///< what was left out or assumed, in plain words
};

/// Reads a CSV whose header row names columns with their units, in any order; others are passed over.
///
///   airspeed   cas, calibrated_airspeed, ias, ias_mean (kt, kmh, mph, mps); ias is taken as calibrated
///   descent    sink (fpm, fps, mps), glide_ratio, glide_angle (deg, downward positive) or
///              flight_path_angle (deg, downward negative)
///   flap       flap (deg); else up
///   weight     weight (lb, kg); else the default
///   air        density_ratio, or density (kg_m3), or altitude (ft, m; pressure altitude) with or without oat
///              (c); else sea level, standard
///   turns      bank (deg); slip (none, full, or 0 to 1); else straight
///   steadiness ias_max_dev (kt): rows that strayed by more than 1 kt are left out
Result<GlideTable> read_glide_table(std::string_view bytes, std::string_view name,
                                    const GlideTableDefaults& defaults);

/// Does the first line that is no comment name an airspeed and a descent?
bool is_glide_table(std::string_view bytes);

}  // namespace glidewright
