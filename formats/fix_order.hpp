#pragma once
// The end of every position reader: order in time, and the errors and repairs that only the whole log shows.

#include <string_view>
#include <vector>

#include "engine/track/log.hpp"
#include "formats/repairs.hpp"
#include "formats/result.hpp"
#include "formats/time_order.hpp"

namespace glidewright {

/// What a log's fixes are after it.
struct OrderedFixes {
  std::vector<Fix> fixes;
  std::vector<Freeze> freezes;
};

/// Segments sorted by their first time where they do not overlap, then times made strictly increasing, then
/// positions dropped that a frozen receiver repeated (engine/track/frozen_positions.hpp).
/// An error where fewer than two fixes remain or most of the log runs backwards.
Result<OrderedFixes> order_fixes(std::vector<Placed<Fix>> fixes, Repairs& repairs, std::string_view name);

}  // namespace glidewright
