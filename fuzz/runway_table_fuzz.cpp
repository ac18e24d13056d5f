#include <cmath>

#include "formats/runway_table.hpp"
#include "fuzz/require.hpp"

/// Any bytes as the runway table.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto bytes = as_text(data, size);
  const auto counts = glidewright::check_runway_table(bytes, "f.csv");
  require(counts || counts.error().sentence.starts_with("f.csv:1:"));
  const auto ends = glidewright::runways_of(bytes, "f.csv", "ZZAA");
  require(static_cast<bool>(ends) == static_cast<bool>(counts));
  if (!ends) return 0;
  for (const auto& end : ends->left_out) require(!end.reason.empty());
  for (const auto& end : ends->ends) {
    require(std::isfinite(end.runway.threshold.latitude_deg) &&
            std::isfinite(end.runway.threshold.longitude_deg));
    require(end.runway.length.value >= 300.0);
    require(end.runway.true_bearing.value >= 0.0 && end.runway.true_bearing.value < 360.0);
  }
  return 0;
}
