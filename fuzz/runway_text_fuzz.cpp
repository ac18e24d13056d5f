#include "formats/runway_json.hpp"
#include "fuzz/require.hpp"

/// Any text as a runway.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto runway = glidewright::read_runway_text(as_text(data, size));
  if (!runway) {
    require(!runway.error().sentence.empty());
    return 0;
  }
  require(runway->threshold.latitude_deg >= -90.0 && runway->threshold.latitude_deg <= 90.0);
  require(runway->threshold.longitude_deg >= -180.0 && runway->threshold.longitude_deg < 180.0);
  require(runway->true_bearing.value >= 0.0 && runway->true_bearing.value < 360.0);
  require(runway->length.value >= 300.0);
  return 0;
}
