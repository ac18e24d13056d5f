#include "store/archive_zip.hpp"

#include <fmt/format.h>

#include <set>

namespace glidewright {
namespace {

constexpr double k_bytes_of_a_mb = 1048576.0;
constexpr const char* k_json_name = "records.json";
constexpr const char* k_logs_folder = "logs/";

/// The logs of one archive, each once.
class LogsTogether {
 public:
  /// What these come to with those that are there already.
  std::size_t with(const std::map<std::string, std::size_t>& logs) const {
    std::size_t bytes = bytes_;
    for (const auto& [sha, size] : logs) bytes += known_.count(sha) == 0 ? size : 0;
    return bytes;
  }
  void add(const std::map<std::string, std::size_t>& logs) {
    bytes_ = with(logs);
    for (const auto& [sha, size] : logs) known_.insert(sha);
  }
  std::size_t count() const { return known_.size(); }

 private:
  std::set<std::string> known_;
  std::size_t bytes_ = 0;
};

ArchivedFiles texts_of(const Archive& archive) {
  ArchivedFiles files;
  files[k_json_name] = archive_to_json(archive).dump(1) + "\n";
  files["index.html"] = archive_index_html(archive);
  files["attempts.csv"] = attempts_csv(archive.students);
  return files;
}

std::size_t text_bytes(const Archive& archive) {
  std::size_t bytes = 0;
  for (const auto& [name, content] : texts_of(archive)) bytes += content.size();
  return bytes;
}

/// Before any log is read.
std::optional<Error> too_large(Records& records, const Archive& archive, const ArchivedFiles& texts,
                               std::size_t largest_bytes) {
  LogsTogether together;
  for (const StudentArchive& one : archive.students) {
    const auto logs = records.log_sizes_of(one.student.number);
    if (!logs) return logs.error();
    together.add(*logs);
  }
  std::size_t bytes = together.with({});
  for (const auto& [name, content] : texts) bytes += content.size();
  if (bytes <= largest_bytes) return std::nullopt;
  return Error{fmt::format(
      "logs and records come to {:.1f} MB, and an archive of at most {:.1f} MB was expected",
      static_cast<double>(bytes) / k_bytes_of_a_mb, static_cast<double>(largest_bytes) / k_bytes_of_a_mb)};
}

}  // namespace

Result<std::vector<ArchivePart>> archive_parts(Records& records, const std::vector<long long>& students,
                                               std::size_t largest_bytes, const Archive& beside) {
  std::vector<ArchivePart> parts;
  LogsTogether together;
  const std::size_t beside_bytes = text_bytes(beside);
  for (const long long student : students) {
    const auto logs = records.log_sizes_of(student);
    if (!logs) return logs.error();
    auto archive = records.archive_of(student);
    if (!archive) return archive.error();
    // An archive of this student alone, with what only this one brings along: a little more than the student
    // adds to one of several.
    Archive alone{beside.made, {std::move(*archive)}};
    auto fleet = fleet_flown_by(records, alone.students);
    if (!fleet) return fleet.error();
    alone.fleet = std::move(*fleet);
    alone.standards = standards_of(alone.students);
    const std::size_t text = text_bytes(alone);
    if (parts.empty() || together.with(*logs) + parts.back().text_bytes + text > largest_bytes) {
      parts.emplace_back();
      parts.back().text_bytes = beside_bytes;
      together = {};
    }
    together.add(*logs);
    ArchivePart& part = parts.back();
    part.students.push_back(student);
    part.logs = together.count();
    part.log_bytes = together.with({});
    part.text_bytes += text;
  }
  return parts;
}

Result<std::string> archive_zip(Records& records, const Archive& archive, std::size_t largest_bytes) {
  ArchivedFiles files = texts_of(archive);
  if (const auto refused = too_large(records, archive, files, largest_bytes)) return *refused;
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

std::vector<KeptStandard> standards_of(const std::vector<StudentArchive>& students) {
  std::map<std::string, KeptStandard> by_text;
  for (const StudentArchive& student : students)
    for (const KeptStandard& one : student.standards) by_text.emplace(one.sha256, one);
  std::vector<KeptStandard> found;
  for (auto& [sha, one] : by_text) found.push_back(std::move(one));
  return found;
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
