#pragma once
// Steady straight glides cut out of what a panel recorded.

#include <string>
#include <vector>

#include "engine/calibration/logged_glide.hpp"
#include "engine/track/log.hpp"

namespace glidewright {

/// What the recording does not say itself.
struct PanelSetting {
  double weight_lb = 2300.0;
  double altimeter_hpa = 1013.25;  ///< the altimeter's setting: from indicated to pressure altitude
  double temperature_c = 15.0;     ///< where the panel recorded none
  double flap_deg = 0.0;           ///< where the panel recorded none
};

/// The stretches, and why so many and no more.
struct PanelGlides {
  std::vector<LoggedGlide> glides;
  std::vector<std::string> notes;  ///< what was not recorded and therefore assumed
  std::string none_because;        ///< empty where there are glides
};

/// Stretches of 6 to 20 s: wings within 6 degrees of level and not slipping, airspeed within 2 kt, flaps
/// still for 4 s, power at idle, sinking, and clear of the ground effect. Power counts as idle up to 1,200
/// rpm; where no rpm was recorded, where the airplane loses at least 70 % of what its profile loses. A slip
/// is a bank that does not turn: the heading turns 0.5 degrees a second less than a coordinated turn of that
/// bank. The limits are common practice, no source. Sink is that of energy height, h + V^2 / 2g, by a
/// straight line through the stretch. Needs airspeed and altitude.
PanelGlides glides_in_panel(const std::vector<PanelSample>& panel, const Airplane& airplane,
                            const PanelSetting& setting);

}  // namespace glidewright
