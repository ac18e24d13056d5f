#include "formats/summary_json.hpp"
#include "fuzz/require.hpp"

/// Any bytes as the journal of a folder's debrief: what is read can be written and read again.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  for (const auto& row : glidewright::read_journal(as_text(data, size))) {
    const auto again = glidewright::read_journal(glidewright::journal_line(row));
    require(again.size() == 1);
    require(again.front().attempts.size() == row.attempts.size());
  }
  return 0;
}
