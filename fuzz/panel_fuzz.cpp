#include "formats/track_log.hpp"
#include "fuzz/require.hpp"

/// Any bytes as a panel's CSV.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto panel = glidewright::read_panel(as_text(data, size), "f");
  if (!panel) {
    require(!panel.error().sentence.empty());
    return 0;
  }
  require(!panel->empty());
  require_rising_times(*panel);
  return 0;
}
