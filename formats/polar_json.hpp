#pragma once
// What a profile's numbers make of an airplane, as JSON: `glidewright.polar/1`, docs/schema/polar.json.

#include <optional>
#include <string>
#include <vector>

#include "engine/airplane/glide_sheet.hpp"
#include "formats/json_write.hpp"

namespace glidewright {

struct PolarSheet {
  Handbook handbook;
  std::vector<Inconsistency> problems;
  std::optional<Airplane> airplane;  ///< none where the numbers do not go together
  GlideSheet sheet;                  ///< empty then
  std::vector<std::string> assumed;
};

/// What the tables are laid out over.
inline constexpr double k_headwinds_kt[] = {-10.0, 0.0, 10.0, 20.0, 30.0};
inline constexpr double k_banks_deg[] = {20.0, 30.0, 45.0};
inline constexpr double k_turned_deg = 90.0;

/// The whole knots, five apart, at which some flap setting can glide.
std::vector<double> table_speeds_kt(const GlideSheet& sheet);
/// On its curve at a whole knot; null where the setting cannot glide at that speed.
const GlideAtSpeed* on_curve(const FlapGlides& flap, double speed_kt);

Json polar_to_json(const PolarSheet& asked);

}  // namespace glidewright
