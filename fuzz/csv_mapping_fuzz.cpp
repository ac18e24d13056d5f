#include "formats/csv.hpp"
#include "formats/csv_mapping.hpp"
#include "fuzz/require.hpp"

/// A mapping, a zero byte, and a CSV that is read with it. Without the zero byte: the guess of any bytes,
/// which must read the same once saved.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto bytes = as_text(data, size);
  const auto cut = bytes.find('\0');
  if (cut != std::string_view::npos) {
    const auto mapping = glidewright::read_csv_mapping_json(bytes.substr(0, cut), "m");
    if (!mapping) {
      require(!mapping.error().sentence.empty());
      return 0;
    }
    const auto log = glidewright::read_csv(bytes.substr(cut + 1), "f", &*mapping);
    if (!log) require(!log.error().sentence.empty());
    if (log) require_rising_times(log->fixes);
    return 0;
  }
  const auto shown = glidewright::show_csv_columns(bytes, "f", nullptr);
  if (!shown) return 0;
  const auto log = glidewright::read_csv(bytes, "f");
  if (log) require_rising_times(log->panel);
  return 0;
}
