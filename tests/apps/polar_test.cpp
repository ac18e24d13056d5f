// What a profile's numbers make of an airplane, as a user asks for it: as docs/schema promises, and which
// numbers do not go together.

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "program.hpp"
#include "schema.hpp"

namespace glidewright {
namespace {

using nlohmann::json;
using Arguments = std::vector<std::string>;

json polar_of_airplane(const std::string& airplane, int expected_exit_code = 0, const Arguments& more = {}) {
  Arguments asked = {"polar", "--airplane", airplane, "--json"};
  asked.insert(asked.end(), more.begin(), more.end());
  const auto run = run_program(asked);
  EXPECT_EQ(run.exit_code, expected_exit_code) << run.errors;
  EXPECT_EQ(run.errors, "");
  auto object = json::parse(run.output, nullptr, false);
  EXPECT_FALSE(object.is_discarded()) << run.output.substr(0, 200);
  EXPECT_EQ(objections("polar", object), "");
  return object;
}

/// The demonstration's airplane with one number replaced, as a person would mistype it.
std::string mistyped(const TemporaryFolder& folder, const std::string& from, const std::string& to) {
  std::string profile = bytes_of(k_clone / "data" / "airplanes" / "demo-trainer.json");
  const auto at = profile.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return folder.with("mistyped.json", profile.replace(at, from.size(), to));
}

TEST(Polar, IsAsPromisedForEveryAirplaneOfTheProgram) {
  for (const std::string airplane : {"demo-trainer", "generic-trainer", "generic-low-wing"}) {
    SCOPED_TRACE(airplane);
    const auto object = polar_of_airplane(airplane, 0, {"--density-altitude-ft", "3000"});
    EXPECT_EQ(object.at("problems"), json::array());
    EXPECT_EQ(object.at("density_altitude_ft"), 3000);
    for (const auto& flap : object.at("flaps")) {
      EXPECT_EQ(flap.at("lost_ft_per_nm_by_wind").size(), object.at("headwinds_kt").size());
      EXPECT_EQ(flap.at("lost_ft_per_nm_by_speed").size(), object.at("speeds_kcas").size());
      // More headwind costs more height.
      const auto by_wind = flap.at("lost_ft_per_nm_by_wind").get<std::vector<double>>();
      EXPECT_TRUE(std::is_sorted(by_wind.begin(), by_wind.end())) << flap.at("lost_ft_per_nm_by_wind");
    }
  }
}

// A mile of 6076.1 ft over the glide ratio. 0.2 %: the ratio is printed with two decimals.
TEST(Polar, LosesAMileOverTheRatioAtEverySpeedOfItsTable) {
  const auto object = polar_of_airplane("demo-trainer");
  const auto& clean = object.at("flaps").at(0);
  int compared = 0;
  for (std::size_t i = 0; i < object.at("speeds_kcas").size(); ++i) {
    for (const auto& one : clean.at("curve")) {
      if (one.at("speed_kcas") != object.at("speeds_kcas").at(i)) continue;
      const double lost_ft = clean.at("lost_ft_per_nm_by_speed").at(i).get<double>();
      EXPECT_NEAR(lost_ft * one.at("glide_ratio").get<double>() / 6076.1, 1.0, 0.002) << one;
      ++compared;
    }
  }
  EXPECT_GE(compared, 8);
}

TEST(Polar, NamesTheFieldsThatDoNotGoTogetherAndReckonsNothing) {
  const TemporaryFolder folder;
  const auto object = polar_of_airplane(mistyped(folder, R"("best_glide_speed_kcas": {"value": 70)",
                                                 R"("best_glide_speed_kcas": {"value": 45)"),
                                        1);
  EXPECT_EQ(object.at("problems").at(0).at("field"), "best_glide_speed_kcas");
  EXPECT_NE(object.at("problems").dump().find("best glide 45 kt lies below the stall at 50 kt"),
            std::string::npos);
  EXPECT_EQ(object.at("flaps"), json::array());
  const auto steep = polar_of_airplane(
      mistyped(folder, R"("best_glide_ratio": {"value": 9.1)", R"("best_glide_ratio": {"value": 40)"), 1);
  EXPECT_EQ(steep.at("problems").at(0).at("field"), "best_glide_ratio");
  const auto limit = polar_of_airplane(
      mistyped(folder, R"("maximum_speed_kcas": {"value": 85)", R"("maximum_speed_kcas": {"value": 40)"), 1);
  EXPECT_NE(limit.at("problems").dump().find("flaps[3].maximum_speed_kcas"), std::string::npos);
}

TEST(Polar, SaysTheSameInWords) {
  const TemporaryFolder folder;
  const auto wrong = run_program({"polar", "--airplane",
                                  mistyped(folder, R"("best_glide_speed_kcas": {"value": 70)",
                                           R"("best_glide_speed_kcas": {"value": 45)")});
  EXPECT_EQ(wrong.exit_code, 1);
  EXPECT_NE(wrong.output.find("best_glide_speed_kcas: best glide 45 kt lies below"), std::string::npos)
      << wrong.output;
  const auto narrow = run_program({"polar", "--airplane", "demo-trainer"}, {"LC_ALL=C", "COLUMNS=80"});
  EXPECT_EQ(narrow.exit_code, 0);
  for (const auto& line : lines_of(narrow.output)) {
    EXPECT_LE(line.size(), 80U) << line;
    EXPECT_TRUE(std::all_of(line.begin(), line.end(), [](char c) {
      return static_cast<unsigned char>(c) < 0x80;
    })) << line;
  }
}

TEST(Polar, HasExamplesThatRun) {
  int ran = 0;
  for (const auto& line : lines_of(run_program({"polar", "--help"}).output)) {
    const std::string before = "  glidewright ";
    if (line.rfind(before, 0) != 0) continue;
    SCOPED_TRACE(line);
    const auto run = run_program(words_of(line.substr(before.size())));
    EXPECT_EQ(run.exit_code, 0);
    EXPECT_EQ(run.errors, "");
    ++ran;
  }
  EXPECT_GE(ran, 2);
}

TEST(Polar, RefusesWhatNoAirplaneWeighs) {
  const auto run = run_program({"polar", "--airplane", "demo-trainer", "--weight-lb", "3"});
  EXPECT_EQ(run.exit_code, 1);
  EXPECT_EQ(run.output, "");
  EXPECT_NE(run.errors.find("--weight-lb 3 lb; expected 400 to 12500"), std::string::npos) << run.errors;
}

}  // namespace
}  // namespace glidewright
