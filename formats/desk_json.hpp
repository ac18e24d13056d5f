#pragma once
// Hands on a desk flight, `glidewright.hands/1` (docs/schema/hands.json), and how far they have flown it,
// `glidewright.desk/1` (docs/schema/desk.json).

#include <string>
#include <string_view>
#include <vector>

#include "engine/desk/desk_flight.hpp"
#include "engine/plan/plan.hpp"
#include "formats/json_write.hpp"
#include "formats/result.hpp"

namespace glidewright {

struct DeskShown {
  Runway runway;
  Feet touchdown_point{1000.0};
  Airplane airplane;
  Conditions conditions;
  Technique technique;
  Box box;
  DeskFlight flight;
  std::vector<std::string> assumed;
};

Json desk_to_json(const DeskShown& shown);
Result<std::vector<DeskHold>> read_hands_json(std::string_view bytes, std::string_view name);

}  // namespace glidewright
