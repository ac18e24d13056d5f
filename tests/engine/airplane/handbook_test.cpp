#include "engine/airplane/handbook.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <functional>
#include <limits>
#include <string>
#include <vector>

#include "tests/engine/airplane/trainer_handbook.hpp"

namespace glidewright {
namespace {

using testing::HasSubstr;

TEST(CheckHandbook, BelievableNumbersPass) {
  EXPECT_TRUE(check(trainer_handbook()).empty());
}

struct Impossible {
  std::string field;
  std::string said;  ///< in the sentence
  std::function<void(Handbook&)> spoil;
};

std::vector<Impossible> impossible_numbers() {
  return {
      {"best_glide_speed_kcas", "best glide 45 kt",
       [](Handbook& b) { b.best_glide_speed_kcas.value = 45.0; }},
      {"best_glide_speed_kcas", "best glide 130 kt",
       [](Handbook& b) { b.best_glide_speed_kcas.value = 130.0; }},
      {"best_glide_ratio", "ratio 40.0", [](Handbook& b) { b.best_glide_ratio.value = 40.0; }},
      {"best_glide_ratio", "ratio 1.0", [](Handbook& b) { b.best_glide_ratio.value = 1.0; }},
      {"maximum_weight_lb", "weight 90 lb", [](Handbook& b) { b.maximum_weight_lb.value = 90.0; }},
      {"wing_span_ft", "span 110 ft", [](Handbook& b) { b.wing_span_ft.value = 110.0; }},
      {"wing_height_ft", "height 0.0 ft", [](Handbook& b) { b.wing_height_ft.value = 0.0; }},
      {"ground_roll_ft", "roll 0 ft", [](Handbook& b) { b.ground_roll_ft.value = 0.0; }},
      {"maximum_crosswind_kt", "crosswind 0 kt", [](Handbook& b) { b.maximum_crosswind_kt = 0.0; }},
      {"slip_drag_ratio", "1.20", [](Handbook& b) { b.slip_drag_ratio->value = 1.2; }},
      {"flaps[0].stall_speed_kcas", "flaps up, 90 kt",
       [](Handbook& b) {
         b.flaps[0].stall_speed_kcas.value = 90.0;
         b.best_glide_speed_kcas.value = 120.0;
       }},
      {"flaps[1].stall_speed_kcas", "flap 10 at 55 kt",
       [](Handbook& b) { b.flaps[1].stall_speed_kcas.value = 55.0; }},
      {"flaps[2].maximum_speed_kcas", "limit 40 kt",
       [](Handbook& b) { b.flaps[2].maximum_speed_kcas = 40.0; }},
      {"flaps[2].glide_ratio", "ratio with flap 30 12.0",
       [](Handbook& b) { b.flaps[2].glide_ratio->value = 12.0; }},
      {"flaps[2].setting_deg", "flap 10 comes after flap 10",
       [](Handbook& b) { b.flaps[2].setting_deg = 10.0; }},
      {"flaps", "must be 0", [](Handbook& b) { b.flaps[0].setting_deg = 5.0; }},
      {"landing_flap_deg", "landing flap 25", [](Handbook& b) { b.landing_flap_deg = 25.0; }},
      {"approach_speed_kcas", "approach speed 44 kt",
       [](Handbook& b) { b.approach_speed_kcas.value = 44.0; }},
      {"best_glide_speed_kcas", "best glide 45 kt lies below the stall at 50 kt; expected 60 to 110 kt",
       [](Handbook& b) { b.best_glide_speed_kcas.value = 45.0; }},
      {"best_glide_ratio", "ratio 40.0 for a light single; expected 5.0 to 20.0",
       [](Handbook& b) { b.best_glide_ratio.value = 40.0; }},
      {"flaps[2].maximum_speed_kcas", "limit 40 kt at flap 30 lies below the stall with it at 44 kt",
       [](Handbook& b) { b.flaps[2].maximum_speed_kcas = 40.0; }},
      {"approach_speed_kcas", "approach speed 40 kt lies below the stall at 44 kt in landing flap",
       [](Handbook& b) { b.approach_speed_kcas.value = 40.0; }},
      {"approach_speed_kcas", "approach speed 75 kt is faster than the landing flap's limit, 70 kt",
       [](Handbook& b) {
         b.flaps[2].maximum_speed_kcas = 70.0;
         b.approach_speed_kcas.value = 75.0;
       }},
      {"least_drag_speed_kcas", "least drag at 48 kt lies below the stall",
       [](Handbook& b) {
         b.least_drag_speed_kcas = SourcedNumber{48.0, 1.0, "fitted"};
       }},
      // 2,400 lb typed as kilograms; 36 ft typed as metres would be out of range by itself.
      {"maximum_weight_lb", "maximum weight 1089 lb, stall 50 kt and span 36 ft",
       [](Handbook& b) { b.maximum_weight_lb.value = 1089.0; }},
      {"fitted.correlations", "do not go together",
       [](Handbook& b) {
         b.fitted = FittedFrom{};
         b.fitted->correlations = {{"x", "y", 0.9}, {"y", "z", 0.9}, {"x", "z", -0.9}};
       }},
      {"approach_speed_kcas", "approach speed 90 kt",
       [](Handbook& b) { b.approach_speed_kcas.value = 90.0; }},
  };
}

TEST(CheckHandbook, NamesEachImpossibleNumberAndWhatWouldBeBelievable) {
  for (const auto& row : impossible_numbers()) {
    Handbook book = trainer_handbook();
    row.spoil(book);
    const auto found = check(book);
    const auto at = std::find_if(found.begin(), found.end(),
                                 [&](const Inconsistency& problem) { return problem.field == row.field; });
    ASSERT_NE(at, found.end()) << row.field << " " << row.said;
    EXPECT_THAT(at->sentence, HasSubstr(row.said)) << row.field;
    EXPECT_EQ(at->sentence.find('\n'), std::string::npos);
  }
}

TEST(CheckHandbook, NumbersThatAreNoneAreNamed) {
  Handbook book = trainer_handbook();
  book.best_glide_ratio.value = std::numeric_limits<double>::quiet_NaN();
  book.best_glide_speed_kcas.value = std::numeric_limits<double>::quiet_NaN();
  book.approach_speed_kcas.value = std::numeric_limits<double>::quiet_NaN();
  book.flaps[1].stall_speed_kcas.value = std::numeric_limits<double>::quiet_NaN();
  book.flaps[1].maximum_speed_kcas = std::numeric_limits<double>::quiet_NaN();
  std::vector<std::string> fields;
  for (const auto& problem : check(book)) fields.push_back(problem.field);
  for (const char* field : {"best_glide_ratio", "best_glide_speed_kcas", "approach_speed_kcas",
                            "flaps[1].stall_speed_kcas", "flaps[1].maximum_speed_kcas"}) {
    EXPECT_THAT(fields, testing::Contains(field));
  }
}

TEST(CheckHandbook, WithoutFlapsAtAll) {
  Handbook book = trainer_handbook();
  book.flaps.clear();
  const auto found = check(book);
  ASSERT_FALSE(found.empty());
  EXPECT_EQ(found.front().field, "flaps");
}

}  // namespace
}  // namespace glidewright
