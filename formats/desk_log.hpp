#pragma once
// A desk flight as a track log: like any other, and marked, so that nobody files it as a flight.

#include <string>
#include <string_view>
#include <vector>

#include "engine/desk/desk_flight.hpp"
#include "engine/track/runway.hpp"

namespace glidewright {

/// A CSV of five rows a second with what a panel would have recorded. `abeam_unix_s`: when the point was
/// abeam.
std::string write_desk_log(const DeskFlight& flight, const RunwayFrame& frame, double abeam_unix_s);

/// Whether the bytes of an unpacked log are one's, and whether notes of a log say so.
bool is_desk_log(std::string_view bytes);
extern const std::string k_desk_note;
bool is_desk_flight(const std::vector<std::string>& notes_of_log);

}  // namespace glidewright
