#pragma once
// Numbers as an instructor says them. Signs are the true ones; `printed` has the plain substitutes.

#include <string>
#include <vector>

#include "engine/air/wind.hpp"
#include "engine/plan/plan.hpp"

namespace glidewright {

/// Whole number with thousands set apart: "1,090", "−60".
std::string whole(double value);
/// To the nearest 10 ft: "1,090".
std::string feet(double value_ft);
/// A difference to the nearest 10 ft, with its sign; none on zero.
std::string signed_feet(double value_ft);
/// What must be printed for the last part, so that parts printed to 10 ft add up to their printed total.
double remainder_as_printed_ft(const std::vector<double>& parts_ft, double total_ft);
/// With so many decimals and a true minus.
std::string decimal(double value, int decimals);
/// A value and its 95 % interval, to 10 ft: "+540 ± 150", or "+540 (+480 to +820)" where it is lopsided by 30
/// ft or more.
std::string feet_with_interval(double value_ft, double low_ft, double high_ft);
/// "11 in 20", "19 in 20"; never "20 in 20" or "0 in 20" where it is not certain ("more than 19 in 20").
std::string chance_in_20(double probability);
/// "11 in 20 (10 to 12)".
std::string chance_in_20(const Chance& chance);
/// "270° 10 kt, gusts to 18", or "calm".
std::string wind_words(const WindProfile& wind);
/// "9 head, 5 from right"; parts under half a knot are left out; "none along or across".
std::string components_words(const Wind& wind, Degrees landing_direction_true);
/// "0 to +200 ft".
std::string box_words(const Box& box);
/// "20:05:31", UTC.
std::string time_of_day(double unix_s);

}  // namespace glidewright
