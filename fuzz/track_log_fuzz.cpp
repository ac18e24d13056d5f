#include <cmath>

#include "formats/track_log.hpp"
#include "fuzz/require.hpp"

/// Any bytes as a track log, of whatever format the content decides.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto log = glidewright::read_track_log(as_text(data, size), "f");
  if (!log) {
    require(!log.error().sentence.empty());
    return 0;
  }
  require(log->fixes.size() >= 2);
  require_rising_times(log->fixes);
  require_rising_times(log->panel);
  for (std::size_t i = 0; i < log->fixes.size(); ++i) {
    const auto& fix = log->fixes[i];
    require(std::abs(fix.place.latitude_deg) <= 90.0);
    require(fix.place.longitude_deg >= -180.0 && fix.place.longitude_deg < 180.0);
    require(!fix.altitude_ft || std::isfinite(*fix.altitude_ft));
    require(!fix.groundspeed_kt || std::isfinite(*fix.groundspeed_kt));
    require(!fix.course_true_deg || (*fix.course_true_deg >= 0.0 && *fix.course_true_deg < 360.0));
    require(i == 0 || fix.segment >= log->fixes[i - 1].segment);
  }
  for (const auto& freeze : log->freezes) {
    require(freeze.from_unix_s < freeze.to_unix_s);
    require(freeze.from_unix_s >= log->fixes.front().time_unix_s);
  }
  return 0;
}
