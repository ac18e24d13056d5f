#include "apps/cli/inputs/log_file.hpp"

#include "formats/file.hpp"
#include "formats/track_log.hpp"

namespace glidewright {

Result<TrackLog> read_log(const std::string& file, const std::string& panel_file) {
  const auto bytes = read_file(file);
  if (!bytes) return bytes.error();
  auto log = read_track_log(*bytes, file);
  if (!log) return log.error();
  if (!panel_file.empty()) {
    const auto panel_bytes = read_file(panel_file);
    if (!panel_bytes) return panel_bytes.error();
    auto panel = read_panel(*panel_bytes, panel_file);
    if (!panel) return panel.error();
    log->panel = std::move(*panel);
  }
  return log;
}

}  // namespace glidewright
