#include "formats/wind_text.hpp"
#include "fuzz/require.hpp"

/// Any text as a wind.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto wind = glidewright::read_wind_text(as_text(data, size));
  if (!wind) {
    require(!wind.error().sentence.empty());
    return 0;
  }
  require(wind->at_10m.from_true.value >= 0.0 && wind->at_10m.from_true.value < 360.0);
  require(wind->at_10m.speed.value >= 0.0 && wind->at_10m.speed.value + wind->gust.value <= 99.0);
  return 0;
}
