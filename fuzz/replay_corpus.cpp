// Stands in for libFuzzer where the compiler has none: feeds every file of the named folders to the target,
// once. A crash or a sanitizer's report is the failure. So is a folder without files: it would prove nothing.

#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <vector>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

std::vector<std::uint8_t> read_bytes(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

}  // namespace

int main(int count, char** arguments) {
  std::size_t inputs = 0;
  for (int i = 1; i < count; ++i) {
    std::error_code absent;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(arguments[i], absent)) {
      if (!entry.is_regular_file()) continue;
      // Said before the call, so that the last line names the culprit.
      std::printf("%s\n", entry.path().c_str());
      std::fflush(stdout);
      const std::vector<std::uint8_t> bytes = read_bytes(entry.path());
      LLVMFuzzerTestOneInput(bytes.data(), bytes.size());
      ++inputs;
    }
  }
  std::printf("%zu inputs\n", inputs);
  return inputs > 0 ? 0 : 1;
}
