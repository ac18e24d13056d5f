// An archive of records, as it lies in a file and as the JSON in it.

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "formats/archive.hpp"
#include "fuzz/require.hpp"
#include "store/archive_json.hpp"

using namespace glidewright;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view bytes(reinterpret_cast<const char*>(data), size);
  constexpr std::size_t k_largest = std::size_t{1} << 22;
  if (const auto files = unzip_archive(bytes, "x.zip", k_largest)) {
    for (const auto& [name, content] : *files) {
      require(!name.empty() && name.front() != '/' && name.substr(0, 3) != "../");
      if (name == "records.json") static_cast<void>(read_archive_json(content, name));
    }
  }
  const auto archive = read_archive_json(bytes, "records.json");
  if (!archive) return 0;
  // What was read can be written, and is then read as the same.
  const std::string written = archive_to_json(*archive).dump();
  const auto again = read_archive_json(written, "records.json");
  require(static_cast<bool>(again));
  require(archive_to_json(*again).dump() == written);
  require(!attempts_csv(archive->students).empty());
  require(!archive_index_html(*archive).empty());
  return 0;
}
