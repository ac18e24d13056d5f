#include "store/archive_zip.hpp"

#include <set>

#include "formats/archive.hpp"

namespace glidewright {
namespace {

constexpr const char* k_json_name = "records.json";
constexpr const char* k_logs_folder = "logs/";

}  // namespace

Result<std::string> archive_zip(Records& records, const Archive& archive) {
  ArchivedFiles files;
  files[k_json_name] = archive_to_json(archive).dump(1) + "\n";
  files["index.html"] = archive_index_html(archive);
  files["attempts.csv"] = attempts_csv(archive.students);
  for (const StudentArchive& one : archive.students) {
    for (const FiledAttempt& attempt : one.attempts) {
      std::string& log = files[k_logs_folder + attempt.log_sha256];
      if (!log.empty()) continue;
      auto bytes = records.original(attempt.log_sha256);
      if (!bytes) return bytes.error();
      log = std::move(*bytes);
    }
  }
  return zip_archive(files);
}

Result<std::vector<FleetItem>> fleet_flown_by(Records& records, const std::vector<StudentArchive>& students) {
  std::set<std::string> flown;
  for (const StudentArchive& one : students)
    for (const FiledAttempt& attempt : one.attempts)
      for (const Assessment& assessment : attempt.assessments)
        flown.insert(assessment.circumstances.fleet_airplane);
  if (flown.empty() || (flown.size() == 1 && flown.begin()->empty())) return std::vector<FleetItem>{};
  auto all = records.whole_fleet();
  if (!all) return all.error();
  std::erase_if(*all, [&](const FleetItem& one) { return flown.count(one.uid) == 0; });
  return all;
}

Result<ReceivedArchive> read_archive_zip(std::string_view bytes, std::string_view name) {
  auto files = unzip_archive(bytes, name);
  if (!files) return files.error();
  const auto json = files->find(k_json_name);
  if (json == files->end())
    return Error{std::string(name) + ": an archive that record export wrote was expected; it has no " +
                 k_json_name};
  auto archive = read_archive_json(json->second, std::string(name) + "/" + k_json_name);
  if (!archive) return archive.error();
  ReceivedArchive received{std::move(*archive), {}};
  const std::string folder = k_logs_folder;
  for (auto& [file, content] : *files)
    if (file.compare(0, folder.size(), folder) == 0)
      received.logs[file.substr(folder.size())] = std::move(content);
  return received;
}

}  // namespace glidewright
