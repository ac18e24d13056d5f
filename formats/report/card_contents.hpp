#pragma once
// What the ramp card says, in its order; HTML and paper only lay it out.

#include <array>
#include <string>
#include <vector>

#include "engine/plan/other_winds.hpp"
#include "formats/brief_json.hpp"
#include "formats/report/runs.hpp"

namespace glidewright::report {

/// One of the two numbers that say when to turn base.
struct CueNumber {
  Run above;
  std::string value;
  std::string unit;  ///< "s"; empty where the value has it
  std::string below;
  std::string small;  ///< may be empty
};

struct Rung {
  bool one_of_six = false;  ///< of the numbers to say
  /// Place, altimeter, above the field, in reach; the last may be empty.
  std::array<std::string, 4> values;
};

struct GateWords {
  std::string title;
  std::string above_field;
  std::string altimeter;
  std::string conditions;
  std::string else_what;
};

struct WindCue {
  std::string wind;
  std::string cue;
  bool today = false;
};

/// Of a plan; without one there is none of it.
struct PlannedCard {
  std::array<CueNumber, 2> cue;
  std::array<std::string, 4> ladder_header;
  std::vector<Rung> ladder;
  std::string ladder_note;       ///< may be empty
  std::vector<Runs> how_to_fly;  ///< speed and looking spot, flaps, slip
  std::string strip_title;       ///< over the drawings, on paper
  std::string sketch_title;
  Runs rules;  ///< only what was shown to help; may be empty
  GateWords gate;
  std::string winds_title;
  std::vector<WindCue> winds;  ///< fewer than two: not shown
  Runs shifts;                 ///< may be empty
  Runs odds;
  std::string marks_title;  ///< over the rulers to mark by hand
  std::string marks_about;
};

struct CardContents {
  std::string name;
  std::string traffic;
  Runs wind;
  std::string about;  ///< airplane, weight, air
  std::optional<PlannedCard> planned;
  std::string no_plan;
  std::vector<std::string> refusals;
  std::vector<std::string> cautions;
  std::string safety_sentence;
};

CardContents card_contents(const Brief& brief, const std::vector<CueAtWind>& other_winds);

}  // namespace glidewright::report
