#pragma once
// A drill's situations with their answers, `glidewright.drill/1` (docs/schema/drill.json), and what somebody
// answered, `glidewright.answers/1` (docs/schema/answers.json).

#include <string>
#include <string_view>
#include <vector>

#include "engine/drill/score.hpp"
#include "engine/drill/situation.hpp"
#include "formats/json_write.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// What was asked, and in what air.
struct Drill {
  Runway runway;
  Feet touchdown_point{1000.0};
  DrillSetting setting;
  std::uint64_t seed = 1;
  std::vector<Situation> situations;
  std::vector<std::string> assumed;
};

/// One answer as it is kept: of which situation, in what setting, when.
struct KeptAnswer {
  std::string uid;      ///< 32 hexadecimal digits: the same answer brought in twice is kept once
  std::string setting;  ///< in words: runway, wind, airplane
  std::uint64_t seed = 0;
  int number = 0;
  DrillAnswer answer;
  double touchdown_ft = 0.0;  ///< of the situation, left alone
  double time_unix_s = 0.0;
};

/// With what was answered so far, and what that says of an eye.
Json drill_to_json(const Drill& drill, const std::vector<KeptAnswer>& answers = {});

/// The answer to one of the drill's situations. Its uid follows from what it says and when it was given, so
/// that the same answer is the same wherever it is made.
KeptAnswer kept_answer(const Drill& drill, const Situation& situation, Energy said, Sureness sureness,
                       const std::optional<RunwayPoint>& mark, double time_unix_s);

/// The same of any situation, in what setting and on which runway it lies.
KeptAnswer kept_answer(const std::string& setting, double runway_true_deg, const Situation& situation,
                       Energy said, Sureness sureness, const std::optional<RunwayPoint>& mark,
                       double time_unix_s);

DrillScore score_of_kept(const std::vector<KeptAnswer>& answers);

Json answers_to_json(const std::vector<KeptAnswer>& answers);
/// The parts that an archive shares.
Json answer_to_json(const KeptAnswer& answer);
class JsonFields;
KeptAnswer read_answer(JsonFields& fields);
Result<std::vector<KeptAnswer>> read_answers_json(std::string_view bytes, std::string_view name);

Json score_to_json(const DrillScore& score);
Json drill_place_to_json(const Moment& moment);

// The words of the interface.
std::string energy_name(Energy energy);
std::string sureness_name(Sureness sureness);
std::string leg_name(DrillLeg leg);
std::string remedy_name(Remedy remedy);
std::optional<Energy> energy_named(std::string_view name);
std::optional<Sureness> sureness_named(std::string_view name);

}  // namespace glidewright
