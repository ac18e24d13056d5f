// Slips on the reference flights: marked in a go-around, and seen in a recorded heading.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdio>
#include <nlohmann/json.hpp>

#include "reference_debrief.hpp"

namespace glidewright {
namespace {

using nlohmann::json;
using testing::HasSubstr;

TEST(Slip, ShortensWhereAGoAroundWasHeading) {
  json marks = marks_of(truth_of("F15"));
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
