#include "apps/cli/inputs/data_folder.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>

#include "formats/airplane_json.hpp"
#include "formats/file.hpp"
#include "formats/shown.hpp"
#include "formats/standard_json.hpp"

namespace glidewright {
namespace {

namespace fs = std::filesystem;

bool is_data_folder(const fs::path& folder) {
  std::error_code ignored;
  return fs::is_directory(folder / "airplanes", ignored);
}

/// "a, b or c": the ids in a folder, in order.
std::string known_ids(const fs::path& folder) {
  std::vector<std::string> ids;
  std::error_code failed;
  for (const auto& entry : fs::directory_iterator(folder, failed)) {
    if (entry.path().extension() == ".json") ids.push_back(entry.path().stem().string());
  }
  std::sort(ids.begin(), ids.end());
  std::string list;
  for (std::size_t i = 0; i < ids.size(); ++i) {
    if (i > 0) list += i + 1 == ids.size() ? " or " : ", ";
    list += ids[i];
  }
  return list;
}

/// The file that is meant: one that is there, or one of a data folder by its id.
Result<std::string> find_file(const std::string& file_or_id, const std::string& kind,
                              const std::string& folder) {
  const bool is_path =
      file_or_id.find('/') != std::string::npos || fs::path(file_or_id).extension() == ".json";
  std::error_code ignored;
  if (is_path || fs::is_regular_file(file_or_id, ignored)) return file_or_id;
  const auto data = data_folder();
  if (!data) return data.error();
  const fs::path known = *data / folder / (file_or_id + ".json");
  if (!file_or_id.empty() && fs::is_regular_file(known, ignored)) return shown_path(known);
  return Error{fmt::format("no {} '{}'; expected a JSON file, or {}", kind, shown(file_or_id),
                           known_ids(*data / folder))};
}

/// Every number that does not go with the others, for one sentence.
std::string all_of(const std::vector<Inconsistency>& problems) {
  std::string sentence;
  for (const auto& problem : problems) {
    sentence += (sentence.empty() ? "" : "; ") + problem.field + ": " + problem.sentence;
  }
  return sentence;
}

}  // namespace

Result<fs::path> data_folder() {
  if (const char* told = std::getenv("GLIDEWRIGHT_DATA"); told != nullptr && *told != '\0') {
    if (is_data_folder(told)) return fs::path(told);
    return Error{fmt::format("GLIDEWRIGHT_DATA names {}, which has no folder airplanes", told)};
  }
  std::error_code failed;
  const fs::path program = fs::read_symlink("/proc/self/exe", failed);
  if (!failed) {
    const fs::path beside = program.parent_path();
    // build/PRESET/glidewright in a clone, bin/glidewright where it is installed, or both in one folder.
    for (const char* way : {"data", "../share/glidewright", "../../data"}) {
      if (is_data_folder(beside / way)) return (beside / way).lexically_normal();
    }
  }
  if (is_data_folder(GLIDEWRIGHT_DATA_DIR)) return fs::path(GLIDEWRIGHT_DATA_DIR);
  return Error{"the folder with airplanes and standards is not found; set GLIDEWRIGHT_DATA to it"};
}

std::string shown_path(const fs::path& path) {
  std::error_code failed;
  const auto here = fs::current_path(failed);
  if (failed) return path.string();
  const std::string relative = path.lexically_relative(here).string();
  return relative.empty() || relative.size() > path.string().size() ? path.string() : relative;
}

Result<AirplaneFile> find_unchecked_airplane_file(const std::string& file_or_id) {
  const auto path = find_file(file_or_id, "airplane", "airplanes");
  if (!path) return path.error();
  auto bytes = read_file(*path);
  if (!bytes) return bytes.error();
  auto handbook = read_airplane_json(*bytes, *path);
  if (!handbook) return handbook.error();
  return AirplaneFile{*path, std::move(*bytes), std::move(*handbook)};
}

Result<AirplaneFile> find_airplane_file(const std::string& file_or_id) {
  auto file = find_unchecked_airplane_file(file_or_id);
  if (!file) return file;
  if (const auto problems = check(file->handbook); !problems.empty())
    return Error{fmt::format("{}: {}", file->path, all_of(problems))};
  return file;
}

Result<Airplane> find_airplane(const std::string& file_or_id) {
  const auto file = find_airplane_file(file_or_id);
  if (!file) return file.error();
  return fit_airplane(file->handbook);
}

Result<StandardFile> find_standard_file(const std::string& file_or_id) {
  const auto path = find_file(file_or_id, "standard", "standards");
  if (!path) return path.error();
  auto bytes = read_file(*path);
  if (!bytes) return bytes.error();
  auto standard = read_standard_json(*bytes, *path);
  if (!standard) return standard.error();
  return StandardFile{*path, std::move(*bytes), std::move(*standard)};
}

Result<Standard> find_standard(const std::string& file_or_id) {
  auto file = find_standard_file(file_or_id);
  if (!file) return file.error();
  return std::move(file->standard);
}

Result<std::vector<Standard>> all_standards() {
  const auto data = data_folder();
  if (!data) return data.error();
  std::vector<fs::path> files;
  std::error_code failed;
  for (const auto& entry : fs::directory_iterator(*data / "standards", failed)) {
    if (entry.path().extension() == ".json") files.push_back(entry.path());
  }
  if (files.empty()) return Error{fmt::format("no standards in {}", (*data / "standards").string())};
  std::sort(files.begin(), files.end());
  std::vector<Standard> standards;
  for (const auto& file : files) {
    auto standard = find_standard(file.string());
    if (!standard) return standard.error();
    standards.push_back(*standard);
  }
  return standards;
}

}  // namespace glidewright
