#pragma once
// How the approach is flown, and how people scatter about it, as JSON files.

#include <string_view>

#include "engine/technique/technique.hpp"
#include "formats/json_write.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// Reads `glidewright.technique/1`: any of the fields of Technique by name; those left out keep their
/// defaults. "flaps" replaces the whole list; each step has setting_deg, when ("wings-level-base",
/// "final-turn", "wings-level-final", "at-height" with height_ft) and only_if_high_enough.
Result<Technique> read_technique_json(std::string_view bytes, std::string_view name);

/// All fields, as read_technique_json reads them.
Json technique_to_json(const Technique& technique);
class JsonFields;
/// The fields of an object inside another document.
Technique read_technique(JsonFields& fields);

/// Reads `glidewright.scatter/1`: any of the fields of Scatter by name; those left out stay as in `usual`.
/// "name" and "note" are for people.
Result<Scatter> read_scatter_json(std::string_view bytes, std::string_view name, const Scatter& usual = {});

/// The same fields, without "name", "note" and schema.
Json scatter_to_json(const Scatter& scatter);

}  // namespace glidewright
