#include "apps/cli/inputs/log_file.hpp"

#include <optional>

#include "formats/file.hpp"
#include "formats/track_log.hpp"

namespace glidewright {

Result<CsvMapping> read_columns(const std::string& file) {
  const auto bytes = read_file(file);
  if (!bytes) return bytes.error();
  return read_csv_mapping_json(*bytes, file);
}

Result<TrackLog> read_log(const LogFiles& files) {
  std::optional<CsvMapping> mapping;
  if (!files.columns.empty()) {
    auto columns = read_columns(files.columns);
    if (!columns) return columns.error();
    mapping = *std::move(columns);
  }
  const CsvMapping* columns = mapping ? &*mapping : nullptr;
  const auto bytes = read_file(files.log);
  if (!bytes) return bytes.error();
  std::optional<HeightUnit> heights;
  if (!files.height_unit.empty()) heights = files.height_unit == "m" ? HeightUnit::metres : HeightUnit::feet;
  auto log = read_track_log(*bytes, files.log, files.panel.empty() ? columns : nullptr, heights);
  if (!log) return log.error();
  if (!files.panel.empty()) {
    const auto panel_bytes = read_file(files.panel);
    if (!panel_bytes) return panel_bytes.error();
    auto panel = read_panel(*panel_bytes, files.panel, columns);
    if (!panel) return panel.error();
    log->panel = std::move(*panel);
  }
  return log;
}

}  // namespace glidewright
