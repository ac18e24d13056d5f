#include <cmath>

#include "formats/time.hpp"
#include "fuzz/require.hpp"

/// Any text as a time; what was read is written and read back.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto time = glidewright::read_time(as_text(data, size));
  if (!time) return 0;
  // An offset may carry the first or last day of the calendar out of it.
  if (time->unix_s < -62135596800.0 || time->unix_s > 253402300798.0) return 0;
  const auto back = glidewright::unix_seconds(glidewright::iso8601_utc(time->unix_s, 6));
  // Half a microsecond of rounding and the last place of a double near the end of the calendar.
  require(back && std::abs(*back - time->unix_s) < 0.5e-6 + 6.2e-5);
  return 0;
}
