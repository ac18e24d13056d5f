#include <cmath>

#include "formats/glide_table.hpp"
#include "fuzz/require.hpp"

/// Any bytes as a table of glides: what is read can be fitted.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto table = glidewright::read_glide_table(as_text(data, size), "f", {2300.0});
  if (!table) {
    require(!table.error().sentence.empty());
    return 0;
  }
  require(glidewright::is_glide_table(as_text(data, size)));
  for (const auto& glide : table->glides) {
    const double logged = glidewright::logged_drag_over_weight(glide, glide.calibrated_airspeed_kt, 0.0);
    require(std::isfinite(logged) && logged > 0.0);
    require(std::isfinite(glide.density_ratio) && glide.density_ratio > 0.0);
    require(glide.weight_lb >= 399.0 && std::abs(glide.bank_deg) <= 70.0);
  }
  return 0;
}
