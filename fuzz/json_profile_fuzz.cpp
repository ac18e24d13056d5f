#include "formats/airplane_json.hpp"
#include "formats/marks_json.hpp"
#include "formats/runway_json.hpp"
#include "formats/standard_json.hpp"
#include "formats/technique_json.hpp"
#include "fuzz/require.hpp"

namespace {

template <class T>
void require_value_or_sentence(const glidewright::Result<T>& result) {
  require(result || result.error().sentence.starts_with("f.json:"));
}

}  // namespace

/// Any bytes as each of the JSON files that a user may write.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto bytes = as_text(data, size);
  const auto handbook = glidewright::read_airplane_json(bytes, "f.json");
  require_value_or_sentence(handbook);
  require(!handbook || (!handbook->flaps.empty() && handbook->flaps.front().setting_deg == 0.0));
  const auto runway = glidewright::read_runway_json(bytes, "f.json");
  require_value_or_sentence(runway);
  require(!runway || runway->length.value >= 300.0);
  const auto standard = glidewright::read_standard_json(bytes, "f.json");
  require_value_or_sentence(standard);
  require(!standard || !standard->box || standard->box->low_ft < standard->box->high_ft);
  require_value_or_sentence(glidewright::read_technique_json(bytes, "f.json"));
  require_value_or_sentence(glidewright::read_scatter_json(bytes, "f.json"));
  const auto marks = glidewright::read_marks_json(bytes, "f.json");
  require_value_or_sentence(marks);
  if (marks)
    for (const auto& one : *marks) require(one.attempt >= 1);
  return 0;
}
