#pragma once
// Airplane profiles: the handbook's numbers as a JSON file.

#include <string>
#include <string_view>

#include "engine/airplane/handbook.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// Reads a profile, `glidewright.airplane/1`. Every number is {"value", "sd", "source"}, with the source in
/// words and sd (one standard deviation, same unit) taken as 0 where it is left out. Unknown fields are
/// refused. id is the file name without its ending. Each number is checked against what any light airplane
/// may have; whether the numbers go together is for `check(handbook)` to say.
Result<Handbook> read_airplane_json(std::string_view bytes, std::string_view name);

/// The profile as it was read, with the fitted numbers in their places and `fitted` added; all else, such as
/// the sources of other numbers, stays as it stands there. original: bytes that read_airplane_json has read.
std::string write_fitted_airplane_json(std::string_view original, const Handbook& fitted);

}  // namespace glidewright
