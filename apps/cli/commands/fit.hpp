#pragma once
// What `fit` and the fleet's own fit share: reading logged glides.

#include <optional>
#include <string>

#include "apps/cli/commands/commands.hpp"
#include "engine/calibration/glides_in_panel.hpp"
#include "formats/fit_json.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// As typed: what panel logs do not say themselves.
struct FitAir {
  std::string columns;      ///< a file: how to read the columns of panel logs
  std::string height_unit;  ///< "ft" or "m": of a panel log, whatever its header says; empty: as that says
  std::optional<double> weight_lb;
  std::optional<double> flap_deg;
  std::optional<double> temperature_c;
  std::optional<double> altimeter_hpa;
  std::optional<double> altimeter_inhg;
};
void add_fit_air(const Command& command, FitAir& air);
Result<PanelSetting> read_panel_setting(const FitAir& air, const Handbook& handbook,
                                        std::vector<std::string>& assumed);

/// The glides of one log that can be used, and how they were found.
struct GlidesRead {
  FittedLog about;
  GlideLog glides;
};
/// A table of glides or a panel's log, packed or not; an error where none of its glides can be used.
Result<GlidesRead> read_glides(std::string bytes, const std::string& name, const FitAir& air,
                               const PanelSetting& setting, const Airplane& airplane);

}  // namespace glidewright
