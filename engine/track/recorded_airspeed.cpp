#include "engine/track/recorded_airspeed.hpp"

#include <algorithm>

namespace glidewright {

RecordedAirspeed::RecordedAirspeed(const std::vector<PanelSample>& panel) {
  for (const PanelSample& sample : panel)
    if (sample.indicated_airspeed_kt)
      readings_.push_back({sample.time_unix_s, *sample.indicated_airspeed_kt});
}

std::optional<double> RecordedAirspeed::mean_kt(double from_unix_s, double to_unix_s) const {
  constexpr double longest_gap_s = 3.0;
  double sum = 0.0, last_s = from_unix_s;
  int count = 0;
  const auto first = std::lower_bound(readings_.begin(), readings_.end(), from_unix_s,
                                      [](const Reading& r, double t) { return r.time_unix_s < t; });
  for (auto reading = first; reading != readings_.end() && reading->time_unix_s <= to_unix_s; ++reading) {
    if (reading->time_unix_s - last_s > longest_gap_s) return std::nullopt;
    last_s = reading->time_unix_s;
    sum += reading->airspeed_kt;
    ++count;
  }
  if (count == 0 || to_unix_s - last_s > longest_gap_s) return std::nullopt;
  return sum / count;
}

}  // namespace glidewright
