#pragma once
// The first attempt of a reference flight debriefed by the program, with flaps and slip marked as they were.

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "program.hpp"
#include "reference_flights.hpp"

namespace glidewright {

inline nlohmann::json truth_of(const std::string& flight) {
  return nlohmann::json::parse(test_file("flights/" + flight + "/truth.json")).at("attempts").at(0);
}

/// Flaps up to the go-around, if any, and slip.
inline nlohmann::json marks_of(const nlohmann::json& truth) {
  nlohmann::json marks = {{"attempt", 1}, {"flaps", nlohmann::json::array()}};
  const bool went_around = truth.contains("go_around") && !truth.at("go_around").is_null();
  for (const nlohmann::json& flap : truth.at("flaps"))
    if (!went_around || flap.at("t_s") < truth.at("go_around").at("t_s"))
      marks["flaps"].push_back({{"setting_deg", flap.at("deg")}, {"time", flap.at("utc")}});
  if (!truth.at("slip").is_null())
    marks["slips"] = {{{"in", {{"time", truth.at("slip").at("start_utc")}}},
                       {"out", {{"time", truth.at("slip").at("end_utc")}}}}};
  return marks;
}

/// Null for no marks. The wind is the truth's, reported.
inline nlohmann::json first_attempt(const std::vector<std::string>& logs, const std::string& flight,
                                    const nlohmann::json& marks,
                                    const std::vector<std::string>& further = {}) {
  const TemporaryFolder folder;
  const FlightSetting setting = flight_setting(flight);
  std::vector<std::string> arguments{"debrief"};
  for (const auto* part : {&logs, &setting.runway_and_point, &setting.wind, &further})
    arguments.insert(arguments.end(), part->begin(), part->end());
  arguments.push_back("--json");
  if (!marks.is_null()) {
    arguments.push_back("--marks");
    arguments.push_back(folder.with("marks.json", nlohmann::json{{"attempts", {marks}}}.dump()));
  }
  const auto run = run_program(arguments);
  EXPECT_EQ(run.exit_code, 0) << run.errors;
  return nlohmann::json::parse(run.output).at("attempts").at(0);
}

inline nlohmann::json cause_of(const nlohmann::json& attempt, const std::string& name) {
  for (const nlohmann::json& cause : attempt.at("causes"))
    if (cause.at("cause") == name) return cause;
  return nullptr;
}

}  // namespace glidewright
