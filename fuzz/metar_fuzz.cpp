#include <cmath>

#include "formats/metar.hpp"
#include "fuzz/require.hpp"

/// Any text as weather reports.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto reports = glidewright::read_metars(as_text(data, size));
  if (!reports) {
    require(!reports.error().sentence.empty());
    return 0;
  }
  for (const auto& report : *reports) {
    require(report.station.size() == 4);
    require(!report.altimeter_hpa || (*report.altimeter_hpa >= 850.0 && *report.altimeter_hpa <= 1090.0));
    require(!report.wind || (report.wind->at_10m.speed.value >= 0.0 && report.wind->gust.value >= 0.0));
    require(std::isfinite(glidewright::age_s(report, 1.78e9)));
  }
  return 0;
}
