#include "formats/accelerometer_csv.hpp"
#include "fuzz/require.hpp"

/// Any bytes as an accelerometer's CSV; in one piece and in pieces of seven bytes it reads the same.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto bytes = as_text(data, size);
  const auto whole = glidewright::read_accelerometer(bytes, "f");
  if (whole) {
    require(!whole->blocks.empty());
    require(whole->rate_hz > 0.0);
  } else {
    require(!whole.error().sentence.empty());
  }
  glidewright::AccelerometerCsv reader("f", nullptr);
  for (std::size_t at = 0; at < bytes.size(); at += 7)
    if (reader.add(bytes.substr(at, 7))) return 0;
  const auto pieces = reader.finish();
  if (whole && pieces) require(pieces->blocks.size() == whole->blocks.size());
  return 0;
}
