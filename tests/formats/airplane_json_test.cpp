#include "formats/airplane_json.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/formats/test_files.hpp"
#include "tests/where.hpp"

namespace glidewright {
namespace {

using testing::HasSubstr;

std::string demo_trainer() {
  return bytes_of(std::filesystem::path(where::data()) / "airplanes" / "demo-trainer.json");
}

std::string error_of(const std::string& bytes) {
  const auto handbook = read_airplane_json(bytes, "club.json");
  return handbook ? "read" : handbook.error().sentence;
}

TEST(AirplaneJson, DemoTrainerAsWritten) {
  const auto handbook = read_airplane_json(demo_trainer(), "data/airplanes/demo-trainer.json");
  ASSERT_TRUE(handbook) << handbook.error().sentence;
  EXPECT_EQ(handbook->id, "demo-trainer");
  EXPECT_TRUE(handbook->invented);
  EXPECT_EQ(handbook->best_glide_ratio.value, 9.1);
  EXPECT_EQ(handbook->best_glide_ratio.sd, 0.3);
  ASSERT_EQ(handbook->flaps.size(), 4u);
  EXPECT_EQ(handbook->flaps[0].maximum_speed_kcas, 0.0);
  EXPECT_EQ(handbook->flaps[3].setting_deg, 30.0);
  EXPECT_EQ(handbook->flaps[3].glide_ratio->value, 7.5);
  EXPECT_EQ(*handbook->flaps[3].glide_speed_kcas, 65.0);
  EXPECT_EQ(handbook->flaps[1].travel_time_s, 2.0);
  EXPECT_EQ(handbook->landing_flap_deg, 30.0);
  EXPECT_EQ(handbook->slip_drag_ratio->value, 0.72);
}

/// Every number of every delivered profile says where it comes from, and says so when it was made up.
TEST(AirplaneJson, DeliveredProfilesReadAndNameTheirSources) {
  int profiles = 0;
  for (const auto& path : delivered_files("airplanes")) {
    const auto handbook = read_airplane_json(bytes_of(path), path.string());
    ASSERT_TRUE(handbook) << handbook.error().sentence;
    EXPECT_TRUE(handbook->invented) << path;
    std::vector<SourcedNumber> numbers = {handbook->maximum_weight_lb, handbook->best_glide_speed_kcas,
                                          handbook->best_glide_ratio,  handbook->approach_speed_kcas,
                                          handbook->wing_span_ft,      handbook->wing_height_ft,
                                          handbook->ground_roll_ft,    *handbook->slip_drag_ratio};
    for (const auto& flap : handbook->flaps) {
      numbers.push_back(flap.stall_speed_kcas);
      numbers.push_back(*flap.glide_ratio);
    }
    for (const auto& number : numbers) {
      EXPECT_TRUE(number.source.starts_with("invented") ||
                  number.source.find("no source") != std::string::npos)
          << path << ": " << number.source;
    }
    ++profiles;
  }
  EXPECT_GE(profiles, 3);
}

TEST(AirplaneJson, FittedProfileIsReadBackAsWritten) {
  const auto original = read_airplane_json(demo_trainer(), "demo-trainer.json");
  ASSERT_TRUE(original);
  Handbook fitted = *original;
  fitted.best_glide_ratio = {8.75, 0.125, "fitted from 12 glides of club.csv"};
  fitted.flaps[3].glide_ratio = SourcedNumber{7.25, 0.25, "fitted from 12 glides of club.csv"};
  fitted.flaps[0].glide_ratio.reset();
  fitted.flaps[0].glide_speed_kcas.reset();
  fitted.least_drag_speed_kcas = SourcedNumber{75.5, 1.5, "fitted from 12 glides of club.csv"};
  fitted.near_stall_drag = SourcedNumber{0.5, 0.0625, "x"};
  fitted.turn_drag = SourcedNumber{-0.25, 0.0625, "y"};
  fitted.fitted = FittedFrom{{{"club.csv", std::string(64, 'a'), 12}},
                             {{"best_glide_ratio", {9.1, 0.3, "handbook, section 3"}}},
                             0.03,
                             0.015,
                             {{"best_glide_ratio", "turn_drag", -0.125}}};
  const auto bytes = write_fitted_airplane_json(demo_trainer(), fitted);
  const auto again = read_airplane_json(bytes, "club.json");
  ASSERT_TRUE(again) << again.error().sentence;
  EXPECT_EQ(again->best_glide_ratio.value, 8.75);
  EXPECT_EQ(again->best_glide_ratio.sd, 0.125);
  EXPECT_EQ(again->best_glide_ratio.source, "fitted from 12 glides of club.csv");
  EXPECT_EQ(again->flaps[3].glide_ratio->value, 7.25);
  EXPECT_FALSE(again->flaps[0].glide_ratio);
  EXPECT_EQ(again->least_drag_speed_kcas->value, 75.5);
  EXPECT_EQ(again->near_stall_drag->value, 0.5);
  EXPECT_EQ(again->turn_drag->value, -0.25);
  ASSERT_TRUE(again->fitted);
  EXPECT_EQ(again->fitted->logs[0].glides, 12);
  EXPECT_EQ(again->fitted->handbook[0].number.source, "handbook, section 3");
  EXPECT_EQ(again->fitted->drag_sd, 0.03);
  EXPECT_EQ(again->fitted->correlations[0].value, -0.125);
  // What was not fitted stays to the letter, sources included.
  EXPECT_EQ(again->best_glide_speed_kcas.value, original->best_glide_speed_kcas.value);
  EXPECT_THAT(bytes, HasSubstr("slips with every flap setting are allowed"));
}

TEST(AirplaneJson, RefusesWhatIsMissingUnknownOrUnbelievable) {
  EXPECT_THAT(error_of(replaced(demo_trainer(), "\"best_glide_ratio\"", "\"best_glide_ration\"")),
              HasSubstr("field 'best_glide_ratio' is missing"));
  EXPECT_EQ(error_of(replaced(demo_trainer(), "\"name\"", "\"colour\": 1,\n\"name\"")),
            "club.json:3: unknown field 'colour'");
  EXPECT_EQ(error_of(replaced(demo_trainer(), "\"value\": 2500", "\"value\": 25000")),
            "club.json:6: maximum_weight_lb 25000; expected 400 to 12500");
  EXPECT_EQ(error_of(replaced(demo_trainer(), "\"value\": 2500", "\"value\": \"2500\"")),
            "club.json:6: 'value' is text; expected a number");
  EXPECT_EQ(error_of(replaced(demo_trainer(),
                              "{\"value\": 2500, \"sd\": 0, \"source\": \"invented for the demonstration\"}",
                              "2500")),
            "club.json:6: 'maximum_weight_lb' is a number; expected an object");
  EXPECT_EQ(error_of(replaced(demo_trainer(), ", \"source\": \"invented for the demonstration\"", "")),
            "club.json:6: field 'source' is missing");
  EXPECT_THAT(error_of(replaced(demo_trainer(), "\"sd\": 1,", "\"sd\": -1,")),
              HasSubstr("sd -1; expected 0 to"));
  EXPECT_THAT(error_of(replaced(demo_trainer(), "\"setting_deg\": 0", "\"setting_deg\": 5")),
              HasSubstr("first flap setting 5 deg; expected 0"));
  EXPECT_THAT(error_of(replaced(demo_trainer(), "\"setting_deg\": 20", "\"setting_deg\": 10")),
              HasSubstr("flap setting 10 deg follows 10; expected rising settings"));
  EXPECT_THAT(error_of(replaced(demo_trainer(), "\"landing_flap_deg\": {\"value\": 30",
                                "\"landing_flap_deg\": {\"value\": 35")),
              HasSubstr("landing flap 35 deg; expected one of the flap settings"));
}

}  // namespace
}  // namespace glidewright
