#include "formats/unpack.hpp"
#include "fuzz/require.hpp"

/// Any bytes as gzip or zip; small limits, so that a run tries much.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto bytes = as_text(data, size);
  if (!glidewright::is_packed(bytes)) return 0;
  glidewright::UnpackLimits limits;
  limits.largest_bytes = std::size_t{1} << 20;
  limits.ratio_counts_from_bytes = std::size_t{1} << 17;
  const auto unpacked = glidewright::unpack(bytes, "f", limits);
  if (!unpacked) {
    require(!unpacked.error().sentence.empty());
    return 0;
  }
  require(unpacked->bytes.size() <= limits.largest_bytes);
  require(unpacked->bytes.size() <= limits.ratio_counts_from_bytes ||
          unpacked->bytes.size() / limits.largest_ratio <= size);
  return 0;
}
