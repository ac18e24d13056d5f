// What the causes of the reference flights must say, debriefed with the glide that their own table shows:
// which way each decision went is in their truth, by how many feet is not.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "reference_debrief.hpp"

namespace glidewright {
namespace {

using nlohmann::json;
using testing::HasSubstr;

class ReferenceCauses : public testing::Test {
 protected:
  ReferenceCauses() {
    const std::string table = "tests/data/flights/glide.csv";
    const auto run = run_program({"fit", table, "--airplane", "generic-trainer", "--write", airplane_});
    EXPECT_EQ(run.exit_code, 0) << run.errors;
  }

  json marked(const std::string& flight) const {
    return first_attempt({flight_file(flight, flight + ".gpx")}, flight, marks_of(truth_of(flight)),
                         {"--airplane", airplane_});
  }

 private:
  TemporaryFolder folder_;
  std::string airplane_ = folder_.path() + "/airplane.json";
};

double effect_ft(const json& attempt, const std::string& cause) {
  return cause_of(attempt, cause).at("effect_ft").get<double>();
}

/// Decisions alone: wind and airplane together are nobody's.
std::string largest_decision(const json& attempt) {
  std::string name;
  double largest_ft = 0.0;
  for (const json& cause : attempt.at("causes")) {
    const double size_ft = std::abs(cause.at("effect_ft").get<double>());
    if (cause.at("cause") == "wind and airplane together" || size_ft <= largest_ft) continue;
    largest_ft = size_ft;
    name = cause.at("cause");
  }
  return name;
}

TEST_F(ReferenceCauses, AnEarlyTurnFlapsKeptBackAndSpeedEachCarryOn) {
  const json attempt = marked("F08");
  EXPECT_GT(cause_of(attempt, "base turn").at("low95_ft"), 0.0);
  EXPECT_GT(cause_of(attempt, "flaps").at("low95_ft"), 0.0);
  // Nine knots too many float farther than the nose that is down for them costs.
  EXPECT_GT(effect_ft(attempt, "speed held, net"), 0.0);
}

TEST_F(ReferenceCauses, ALateBaseTurnIsTheLargestOfALandingThatIsShort) {
  for (const char* flight : {"F11", "F12"}) {
    const json attempt = marked(flight);
    EXPECT_LT(cause_of(attempt, "base turn").at("high95_ft"), 0.0) << flight;
    EXPECT_EQ(largest_decision(attempt), "base turn") << flight;
  }
}

TEST_F(ReferenceCauses, ASlipShortens) {
  EXPECT_LT(cause_of(marked("F15"), "slip").at("high95_ft"), 0.0);
}

TEST_F(ReferenceCauses, ATurnSteeperThanTheModelHasNoFeet) {
  const json attempt = marked("F18");
  EXPECT_TRUE(attempt.at("causes").empty());
  EXPECT_THAT(attempt.at("causes_not_offered_because").get<std::string>(), HasSubstr("bank"));
}

}  // namespace
}  // namespace glidewright
