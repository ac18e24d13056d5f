// A flight's positions and a phone's accelerometer beside it, through the program.

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "formats/time.hpp"
#include "formats/track_writers.hpp"
#include "schema.hpp"
#include "tests/engine/debrief/felt_landings.hpp"

namespace glidewright {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

/// One simulated flight as files.
struct Files {
  TemporaryFolder folder;
  std::string track, phone;
  double touched_ft = 0.0;
  std::vector<testing::PhoneReading> readings;

  explicit Files(unsigned seed = 11) {
    testing::Dice dice(seed);
    testing::FeltFlight flight = testing::felt_flight(1.0, dice);
    testing::PhoneRecipe recipe;
    recipe.gust_mps2 = 0.2;
    recipe.rate_hz = 50.0;
    recipe.ahead_s = 1.5;
    readings = testing::feel(flight.flight, recipe, dice);
    touched_ft = flight.truth_ft;
    track = folder.with("flight.gpx", write_gpx(flight.log));
    phone = folder.with("phone.csv", text(1.0));
  }
  std::string text(double scale) const {
    std::string csv = "time,accel_x,accel_y,accel_z\n";
    for (const auto& one : readings)
      csv += fmt::format("{},{:.3f},{:.3f},{:.3f}\n", iso8601_utc(one.time_s, 4), scale * one.mps2[0],
                         scale * one.mps2[1], scale * one.mps2[2]);
    return csv;
  }
  ProgramRun debrief(std::vector<std::string> more) const {
    std::vector<std::string> all{
        "debrief", track, "--runway", "41.3,-88.2,47,700,5000", "--touchdown-point-ft", "500"};
    all.insert(all.end(), more.begin(), more.end());
    return run_program(all);
  }
};

TEST(Accelerometer, NarrowsTheTouchdownAndKeepsThePositionsOwn) {
  const Files files;
  for (const std::vector<std::string>& clock :
       {std::vector<std::string>{}, std::vector<std::string>{"--with-clock", "+1.5"}}) {
    std::vector<std::string> asked{"--with", files.phone, "--json"};
    asked.insert(asked.end(), clock.begin(), clock.end());
    const auto run = files.debrief(asked);
    ASSERT_EQ(run.exit_code, 0) << run.errors;
    const auto object = nlohmann::json::parse(run.output);
    EXPECT_EQ(objections("debrief", object), "");
    const auto& attempt = object.at("attempts").back();
    ASSERT_TRUE(attempt.at("felt").at("used").get<bool>()) << attempt.at("felt");
    EXPECT_NEAR(attempt.at("felt").at("clock_ahead_s").get<double>(), 1.5, 1.2);
    const auto width = [](const nlohmann::json& touchdown) {
      return touchdown.at("high95_ft").get<double>() - touchdown.at("low95_ft").get<double>();
    };
    EXPECT_LT(width(attempt.at("touchdown")), 0.6 * width(attempt.at("touchdown_from_positions")));
    EXPECT_LE(attempt.at("touchdown").at("low95_ft").get<double>(), files.touched_ft);
    EXPECT_GE(attempt.at("touchdown").at("high95_ft").get<double>(), files.touched_ft);
    EXPECT_THAT(attempt.at("touchdown").at("basis").get<std::string>(),
                HasSubstr("From the phone's accelerometer"));
  }
}

TEST(Accelerometer, IsToldInWordsAndInTheReport) {
  const Files files;
  const auto report = files.folder.path() + "/lesson.html";
  const auto run = files.debrief({"--with", files.phone, "--report", report});
  ASSERT_EQ(run.exit_code, 0) << run.errors;
  EXPECT_THAT(run.output, HasSubstr("From the phone's accelerometer: wheels"));
  EXPECT_THAT(run.output, HasSubstr("Positions alone:"));
  EXPECT_THAT(bytes_of(report), HasSubstr("accelerometer"));
}

TEST(Accelerometer, AMarkStandsAboveItAndAllThreeAreKept) {
  const Files files;
  const auto run = files.debrief({"--with", files.phone, "--touchdown-seen", "1:+130", "--json"});
  ASSERT_EQ(run.exit_code, 0) << run.errors;
  const auto attempt = nlohmann::json::parse(run.output).at("attempts").back();
  EXPECT_NEAR(attempt.at("touchdown").at("along_ft").get<double>(), 130.0, 0.1);
  EXPECT_FALSE(attempt.at("touchdown_from_log").is_null());
  EXPECT_FALSE(attempt.at("touchdown_from_positions").is_null());
}

TEST(Accelerometer, IsLeftOutWithItsReasonWhereNothingGoesTogether) {
  const Files files;
  std::string table = "time,accel_x,accel_y,accel_z\n";
  testing::Dice dice(4);
  for (double t = files.readings.front().time_s; t < files.readings.back().time_s; t += 0.02)
    table += fmt::format("{},{:.3f},{:.3f},{:.3f}\n", iso8601_utc(t, 3), dice.normal(0.0, 0.02),
                         dice.normal(0.0, 0.02), dice.normal(9.81, 0.02));
  const auto on_table = files.folder.with("table.csv", table);
  const auto run = files.debrief({"--with", on_table, "--json"});
  ASSERT_EQ(run.exit_code, 0) << run.errors;
  const auto object = nlohmann::json::parse(run.output);
  EXPECT_EQ(objections("debrief", object), "");
  EXPECT_FALSE(object.at("attempts").back().at("felt").at("used").get<bool>());
  EXPECT_TRUE(object.at("attempts").back().at("touchdown_from_positions").is_null());
  EXPECT_THAT(object.at("log").at("quality").dump(), HasSubstr("the accelerometer is left out"));
  // Otherwise it is the debrief without it.
  const auto without = nlohmann::json::parse(files.debrief({"--json"}).output);
  EXPECT_EQ(object.at("attempts").back().at("touchdown"), without.at("attempts").back().at("touchdown"));
}

TEST(Accelerometer, ACountNeedsItsMomentOrIsCompared) {
  const Files files;
  std::string counted = "seconds_elapsed,accel_x,accel_y,accel_z\n";
  for (const auto& one : files.readings)
    counted += fmt::format("{:.4f},{:.3f},{:.3f},{:.3f}\n", one.time_s - files.readings.front().time_s,
                           one.mps2[0], one.mps2[1], one.mps2[2]);
  const auto file = files.folder.with("counted.csv", counted);
  const auto same = files.debrief({"--with", file, "--with-clock", "same"});
  EXPECT_EQ(same.exit_code, 1);
  EXPECT_THAT(same.errors, HasSubstr("the moment of its 0"));
  for (const std::vector<std::string>& clock :
       {std::vector<std::string>{},
        std::vector<std::string>{"--with-clock", iso8601_utc(files.readings.front().time_s - 20.0, 0)}}) {
    std::vector<std::string> asked{"--with", file, "--json"};
    asked.insert(asked.end(), clock.begin(), clock.end());
    const auto run = files.debrief(asked);
    ASSERT_EQ(run.exit_code, 0) << run.errors;
    EXPECT_TRUE(nlohmann::json::parse(run.output).at("attempts").back().at("felt").at("used").get<bool>())
        << run.output;
  }
}

TEST(Accelerometer, WrongFilesAndOptionsAreNamed) {
  const Files files;
  const auto said = [&](const std::vector<std::string>& more, int exit_code) {
    const auto run = files.debrief(more);
    EXPECT_EQ(run.exit_code, exit_code) << run.output;
    return run.errors;
  };
  EXPECT_THAT(said({"--with", files.phone, "--with", files.phone}, 1), HasSubstr("second one of its kind"));
  EXPECT_THAT(said({"--with", files.phone, "--with-clock", "noon"}, 1),
              HasSubstr("--with-clock 'noon': expected same"));
  EXPECT_THAT(said({"--with-clock", "same"}, 1), HasSubstr("expected one behind --with"));
  const auto alone = run_program({"debrief", files.phone});
  EXPECT_EQ(alone.exit_code, 1);
  EXPECT_THAT(alone.errors, HasSubstr("without positions; open it together with the flight's track log"));
  const auto shown = files.debrief({"--with", files.phone, "--show-columns"});
  EXPECT_EQ(shown.exit_code, 0) << shown.errors;
  EXPECT_THAT(shown.output, HasSubstr("acceleration_x, m/s2 (assumed)"));
}

}  // namespace
}  // namespace glidewright
