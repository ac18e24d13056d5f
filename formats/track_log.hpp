#pragma once
// A track log from bytes: what kind it is shows in the content, not in the file's name.

#include <optional>
#include <string_view>
#include <vector>

#include "engine/track/log.hpp"
#include "formats/result.hpp"

namespace glidewright {

struct CsvMapping;

/// Reads GPX 1.1 (and 1.0), KML tracks, IGC, NMEA 0183 and CSV. At least two fixes, times strictly
/// increasing, every repair in `notes`. Any of them may be packed (formats/unpack.hpp). name: as the user
/// knows the file; it stands at the front of an error.
/// columns: how to read it where it is a CSV; none: guessed from its header.
/// heights: what somebody who knows the device says they are written in, where format or header say
/// otherwise; then a note says so.
Result<TrackLog> read_track_log(std::string_view bytes, std::string_view name,
                                const CsvMapping* columns = nullptr,
                                std::optional<HeightUnit> heights = std::nullopt);

/// Columns without positions (a panel's recording) from a CSV with a time column. heights: as for
/// read_track_log.
Result<std::vector<PanelSample>> read_panel(std::string_view bytes, std::string_view name,
                                            const CsvMapping* columns = nullptr,
                                            std::optional<HeightUnit> heights = std::nullopt);

}  // namespace glidewright
