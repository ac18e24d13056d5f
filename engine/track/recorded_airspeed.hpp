#pragma once
// Airspeed as the panel wrote it, where there is a panel.

#include <optional>
#include <vector>

#include "engine/track/log.hpp"

namespace glidewright {

class RecordedAirspeed {
 public:
  RecordedAirspeed() = default;
  explicit RecordedAirspeed(const std::vector<PanelSample>& panel);

  /// Mean of the readings between two moments, kt as recorded (taken as calibrated). None where a reading is
  /// missing for more than 3 s.
  std::optional<double> mean_kt(double from_unix_s, double to_unix_s) const;

 private:
  struct Reading {
    double time_unix_s = 0.0;
    double airspeed_kt = 0.0;
  };
  std::vector<Reading> readings_;  ///< times rising
};

}  // namespace glidewright
