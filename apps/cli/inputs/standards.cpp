#include "apps/cli/inputs/standards.hpp"

#include "apps/cli/commands/brief.hpp"

namespace glidewright {

Result<StandardFile> find_standard_with(Records* records, const std::string& named) {
  auto file = find_standard_file(named.empty() ? k_usual_standard : named);
  if (file || records == nullptr || named.empty()) return file;
  auto kept = records->kept_standard(named);
  if (!kept) return kept.error();
  if (*kept) return StandardFile{named, std::move((*kept)->content), std::move((*kept)->standard)};
  const auto all = records->kept_standards();
  if (!all) return all.error();
  std::string words;
  for (const KeptStandard& one : *all)
    if (!one.standard.version.empty())
      words += (words.empty() ? "" : ", ") + one.standard.id + ":" + one.standard.version;
  return Error{file.error().sentence + (words.empty() ? "" : "; these records keep " + words)};
}

Result<StandardInForce> standard_to_count_by(Records& records, const std::string& named) {
  const auto file = find_standard_with(&records, named);
  if (!file) return file.error();
  return records.in_force(file->standard);
}

}  // namespace glidewright
