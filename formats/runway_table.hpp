#pragma once
// Runways of the world from the open table runways.csv (OurAirports, public domain).

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "engine/track/runway.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// One landing direction of a row, as far as the row tells.
struct RunwayEnd {
  Runway runway;                   ///< landing threshold (displaced one), length left to land on
  std::vector<std::string> notes;  ///< what was derived or taken instead, in plain words
};

/// An end that cannot be landed on by what the table tells.
struct LeftOutEnd {
  std::string airfield;
  std::string designator;  ///< as written; may be empty
  std::string reason;      ///< in plain words
};

/// All that the table says of an airfield.
struct AirfieldRunways {
  std::vector<RunwayEnd> ends;
  std::vector<LeftOutEnd> left_out;
};

/// How many rows, or ends of them, can and cannot be used.
struct RunwayTableCounts {
  std::size_t rows = 0;
  std::size_t ends = 0;               ///< usable landing directions
  std::size_t closed = 0;             ///< rows
  std::size_t without_place = 0;      ///< rows where neither end has coordinates
  std::size_t without_direction = 0;  ///< ends whose direction cannot be had
  std::size_t unreadable = 0;         ///< rows
};

/// The whole table checked: the header must be the table's own; an error names what is missing.
Result<RunwayTableCounts> check_runway_table(std::string_view bytes, std::string_view name);

/// Every end of an airfield, by its ident ("EDXX"), any case; nothing where there is none.
/// A direction comes from the coordinates of both ends, whether a heading is written or not, else from the
/// heading (true); a missing end from the other, heading and length. The place is taken as known to 60 ft,
/// worse by half of what ends and length disagree. Closed runways are left out.
Result<AirfieldRunways> runways_of(std::string_view bytes, std::string_view name, std::string_view ident);

/// Idents that begin with the text, at most `most`, in the table's order without repeats.
Result<std::vector<std::string>> idents_beginning(std::string_view bytes, std::string_view name,
                                                  std::string_view text, std::size_t most);

/// "EDXX/24L": ident and designator; false for anything else.
bool is_runway_name(std::string_view text);

}  // namespace glidewright
