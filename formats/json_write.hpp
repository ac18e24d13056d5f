#pragma once
// What all JSON writers share: numbers with no more digits than they mean, runway, wind.

#include <nlohmann/json.hpp>
#include <string>

#include "engine/air/wind.hpp"
#include "engine/airplane/airplane.hpp"
#include "engine/track/runway.hpp"

namespace glidewright {

/// Keys stand in the order in which they were added.
using Json = nlohmann::ordered_json;

/// The value with so many decimals, a whole number where that is 0, never "-0". Throws std::domain_error for
/// what is not a finite number: that is a mistake of ours and must not leave as a silent null.
Json number(double value, int decimals);

Json runway_to_json(const Runway& runway, Feet touchdown_point);
/// Wind at 10 m; the gust is what it adds to the mean.
Json wind_to_json(const WindProfile& wind);
/// "left" or "right".
std::string traffic_name(Traffic traffic);

}  // namespace glidewright
