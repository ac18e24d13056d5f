// Slips on the reference flights: marked in a go-around, and seen in a recorded heading.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdio>
#include <nlohmann/json.hpp>

#include "program.hpp"
#include "reference_flights.hpp"

namespace glidewright {
namespace {

using nlohmann::json;
using testing::HasSubstr;

json truth_of(const std::string& flight) {
  return json::parse(test_file("flights/" + flight + "/truth.json")).at("attempts").at(0);
}

/// The first attempt with flaps and slip marked as they were.
json first_attempt(const std::vector<std::string>& logs, const std::string& flight, const json& marks) {
  const TemporaryFolder folder;
  const FlightSetting setting = flight_setting(flight);
  std::vector<std::string> arguments{"debrief"};
  arguments.insert(arguments.end(), logs.begin(), logs.end());
  for (const auto* part : {&setting.runway_and_point, &setting.wind})
    arguments.insert(arguments.end(), part->begin(), part->end());
  arguments.push_back("--json");
  if (!marks.is_null()) {
    arguments.push_back("--marks");
    arguments.push_back(folder.with("marks.json", json{{"attempts", {marks}}}.dump()));
  }
  const auto run = run_program(arguments);
  EXPECT_EQ(run.exit_code, 0) << run.errors;
  return json::parse(run.output).at("attempts").at(0);
}

json cause_of(const json& attempt, const std::string& name) {
  for (const json& cause : attempt.at("causes"))
    if (cause.at("cause") == name) return cause;
  return nullptr;
}

TEST(Slip, ShortensWhereAGoAroundWasHeading) {
  const json truth = truth_of("F15");
  json marks = {{"attempt", 1}, {"flaps", json::array()}};
  for (const json& flap : truth.at("flaps"))
    if (flap.at("t_s") < truth.at("go_around").at("t_s"))
      marks["flaps"].push_back({{"setting_deg", flap.at("deg")}, {"time", flap.at("utc")}});
  marks["slips"] = {{{"in", {{"time", truth.at("slip").at("start_utc")}}},
                     {"out", {{"time", truth.at("slip").at("end_utc")}}}}};
  const json attempt = first_attempt({flight_file("F15", "F15.gpx")}, "F15", marks);
  EXPECT_EQ(attempt.at("outcome"), "go-around");
  const json slip = cause_of(attempt, "slip");
  ASSERT_FALSE(slip.is_null()) << attempt.at("causes_not_offered_because");
  EXPECT_LT(slip.at("high95_ft"), 0.0);
  double sum_ft = attempt.at("planned_touchdown_ft").get<double>();
  for (const json& cause : attempt.at("causes")) sum_ft += cause.at("effect_ft").get<double>();
  // Nothing is unexplained of where it would have touched; each cause is rounded to a tenth of a foot.
  EXPECT_NEAR(sum_ft, attempt.at("projected_touchdown").at("along_ft").get<double>(), 1.0);
  // Sent around by traffic, nothing was missed.
  marks["go_around_forced"] = true;
  const json forced = first_attempt({flight_file("F15", "F15.gpx")}, "F15", marks);
  EXPECT_TRUE(forced.at("causes").empty());
  EXPECT_THAT(forced.at("causes_not_offered_because").get<std::string>(), HasSubstr("Sent around"));
}

TEST(Slip, ShowsInTheRecordedHeading) {
  const json truth = truth_of("F02").at("slip");
  const json with = cause_of(
      first_attempt({flight_file("F02", "F02.gpx"), "--with", flight_file("F02", "F02_avionics.csv")}, "F02",
                    nullptr),
      "slip");
  ASSERT_FALSE(with.is_null());
  double in_ft = 0.0, out_ft = 0.0;
  ASSERT_EQ(std::sscanf(with.at("sentence").get<std::string>().c_str(), "Slipped from %lf to %lf ft", &in_ft,
                        &out_ft),
            2);
  // The heading is recorded once a second, in which it sinks some 20 ft.
  EXPECT_NEAR(in_ft, truth.at("start_height_agl_ft").get<double>(), 50.0);
  EXPECT_NEAR(out_ft, truth.at("end_height_agl_ft").get<double>(), 50.0);
  const json without = cause_of(
      first_attempt({flight_file("F08", "F08.gpx"), "--with", flight_file("F08", "F08_avionics.csv")}, "F08",
                    nullptr),
      "slip");
  EXPECT_EQ(without.at("sentence"), "No slip, as planned.");
}

}  // namespace
}  // namespace glidewright
