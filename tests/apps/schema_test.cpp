// What the program prints with --json is what docs/schema promises, and the numbers in it fit together.

#include "schema.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>

#include "formats/archive.hpp"
#include "program.hpp"
#include "reference_flights.hpp"

namespace glidewright {
namespace {

using nlohmann::json;
using Arguments = std::vector<std::string>;

Arguments joined(Arguments first, const std::initializer_list<Arguments>& others) {
  for (const auto& other : others) first.insert(first.end(), other.begin(), other.end());
  return first;
}

/// The object that the program prints, after it is checked against its schema.
json printed_object(const std::string& schema_name, const Arguments& arguments, int expected_exit_code = 0) {
  const auto run = run_program(joined(arguments, {{"--json"}}));
  EXPECT_EQ(run.exit_code, expected_exit_code) << run.errors;
  if (expected_exit_code == 0) {
    EXPECT_EQ(run.errors, "");
  }
  auto object = json::parse(run.output, nullptr, false);
  EXPECT_FALSE(object.is_discarded()) << "not JSON: " << run.output.substr(0, 200);
  if (object.is_discarded()) return {};
  EXPECT_EQ(object.value("schema", ""), "glidewright." + schema_name + "/1");
  EXPECT_EQ(objections(schema_name, object), "");
  return object;
}

Arguments brief_in(const std::string& wind) {
  return {"brief", "--runway", "data/demo/harrow-fen-24.json", "--airplane", "demo-trainer", "--wind", wind};
}

/// Touchdown, or where a go-around would have touched, minus planned touchdown is shared out among the causes
/// and what is left, without a remainder.
void expect_ledger_closes(const json& attempt) {
  if (attempt.at("causes").empty()) {
    EXPECT_NE(attempt.at("causes_not_offered_because"), "");
    EXPECT_TRUE(attempt.at("unexplained_ft").is_null());
    return;
  }
  double sum_ft = attempt.at("unexplained_ft").get<double>();
  for (const auto& cause : attempt.at("causes")) sum_ft += cause.at("effect_ft").get<double>();
  const bool went_around = attempt.at("outcome") == "go-around";
  const double along_ft =
      attempt.at(went_around ? "projected_touchdown" : "touchdown").at("along_ft").get<double>();
  if (went_around) {
    EXPECT_EQ(attempt.at("unexplained_ft"), 0.0);
  }
  // Every value is rounded to 0.1 ft, so eleven of them can be off by 0.55 ft together.
  EXPECT_NEAR(sum_ft, along_ft - attempt.at("planned_touchdown_ft").get<double>(), 0.6);
  EXPECT_EQ(attempt.at("causes_not_offered_because"), "");
}

void expect_interval_holds_value(const json& object, const char* low, const char* value, const char* high) {
  EXPECT_LE(object.at(low).get<double>(), object.at(value).get<double>()) << object;
  EXPECT_LE(object.at(value).get<double>(), object.at(high).get<double>()) << object;
}

void expect_sound_attempt(const json& attempt) {
  SCOPED_TRACE("attempt " + attempt.at("index").dump());
  if (const auto& touchdown = attempt.at("touchdown"); !touchdown.is_null()) {
    expect_interval_holds_value(touchdown, "low95_ft", "along_ft", "high95_ft");
  }
  for (const auto& cause : attempt.at("causes")) {
    expect_interval_holds_value(cause, "low95_ft", "effect_ft", "high95_ft");
  }
  expect_ledger_closes(attempt);
}

/// The object of a debrief that is sound in itself.
json sound_debrief(const Arguments& arguments) {
  auto object = printed_object("debrief", joined({"debrief"}, {arguments}));
  EXPECT_FALSE(object.value("attempts", json::array()).empty());
  for (const auto& attempt : object.value("attempts", json::array())) expect_sound_attempt(attempt);
  return object;
}

class DebriefOf : public testing::TestWithParam<std::string> {
 protected:
  std::string flight = flight_of(GetParam());
  std::string log = flight_file(flight, GetParam());
  FlightSetting setting = flight_setting(flight);

  /// Attempts in the truth.
  std::size_t flown() const {
    return json::parse(test_file("flights/" + flight + "/truth.json")).at("attempts").size();
  }
};

/// "F08_5s.gpx" -> "F08_5s_gpx": only such names may a test have.
std::string test_name(const testing::TestParamInfo<std::string>& log) {
  std::string name = log.param;
  std::replace(name.begin(), name.end(), '.', '_');
  return name;
}

TEST_P(DebriefOf, WithRunwayAndWindIsAsPromised) {
  const auto object = sound_debrief(joined({log}, {setting.runway_and_point, setting.wind}));
  EXPECT_EQ(object.at("attempts").size(), flown());
  EXPECT_EQ(object.at("log").at("file"), log);
}

TEST_P(DebriefOf, WithoutWindOffersNoCauses) {
  const auto object = sound_debrief(joined({log}, {setting.runway_and_point}));
  for (const auto& attempt : object.at("attempts")) EXPECT_EQ(attempt.at("causes"), json::array());
}

TEST_P(DebriefOf, WithoutRunwaySaysThatItWasFound) {
  const auto object = sound_debrief(joined({log}, {setting.wind}));
  EXPECT_NE(object.at("assumed").dump().find("runway found in the log"), std::string::npos);
}

INSTANTIATE_TEST_SUITE_P(Schema, DebriefOf, testing::ValuesIn(reference_logs()), test_name);

TEST(DebriefJson, OffersCausesWhereThereIsAPlan) {
  const auto setting = flight_setting("F08");
  const auto object =
      sound_debrief(joined({flight_file("F08", "F08.gpx")}, {setting.runway_and_point, setting.wind}));
  EXPECT_GE(object.at("attempts").at(0).at("causes").size(), 4U);
}

TEST(DebriefJson, WithThePathHoldsEveryKeyPointOfTheAttempt) {
  const auto setting = flight_setting("F02");
  const Arguments asked = joined({flight_file("F02", "F02.gpx")}, {setting.runway_and_point, setting.wind});
  const auto plain = sound_debrief(asked);
  const auto object = sound_debrief(joined(asked, {{"--with-path"}}));
  ASSERT_EQ(plain.at("attempts").size(), object.at("attempts").size());
  for (std::size_t i = 0; i < plain.at("attempts").size(); ++i) {
    auto attempt = object.at("attempts").at(i);
    ASSERT_FALSE(attempt.at("flown").empty());
    const auto& first = attempt.at("flown").front();
    EXPECT_LE(first.at("t_s").get<double>(), 0.0);
    if (const auto& abeam = attempt.at("abeam"); !abeam.is_null()) {
      EXPECT_EQ(attempt.at("flown_from"), abeam.at("time"));
    }
    // Beyond the path it says what it said without it.
    for (const char* key : {"flown_from", "flown", "planned"}) attempt.erase(key);
    EXPECT_EQ(attempt, plain.at("attempts").at(i));
  }
}

TEST(DebriefJson, GradesAgainstAHouseStandardAndSaysWhose) {
  EXPECT_EQ(objections("standard", json::parse(bytes_of(k_clone / "data/demo/house-standard.json"))), "");
  const auto setting = flight_setting("F08");
  const auto object = sound_debrief(
      joined({flight_file("F08", "F08.gpx")},
             {setting.runway_and_point,
              {"--standard", "data/demo/house-standard.json", "--touchdown-seen", "1:+250~5"}}));
  const auto& grades = object.at("attempts").at(0).at("grades");
  ASSERT_EQ(grades.size(), 1U);
  // Seen at +250 ft with 5 ft of doubt: inside -100 to +300 ft, and outside any published box.
  EXPECT_EQ(grades.at(0).at("verdict"), "meets");
  EXPECT_EQ(grades.at(0).at("version"), "2");
  EXPECT_EQ(grades.at(0).at("set_by"), "the chief instructor");
  EXPECT_TRUE(grades.at(0).at("edition").is_null());
}

TEST(StandardFile, DeliveredOnesAreAsPromised) {
  for (const auto& entry : std::filesystem::directory_iterator(k_clone / "data/standards"))
    EXPECT_EQ(objections("standard", json::parse(bytes_of(entry.path()))), "") << entry.path();
}

TEST(DebriefJson, OffersNoCausesForATurnThatTheModelDoesNotFly) {
  const auto setting = flight_setting("F18");
  const auto object =
      sound_debrief(joined({flight_file("F18", "F18.gpx")}, {setting.runway_and_point, setting.wind}));
  const auto& attempt = object.at("attempts").at(0);
  EXPECT_TRUE(attempt.at("causes").empty());
  EXPECT_NE(attempt.at("causes_not_offered_because").get<std::string>().find("of bank"), std::string::npos);
  EXPECT_FALSE(attempt.at("findings").empty());
}

TEST(DebriefJson, WithThePanelIsAsPromised) {
  for (const std::string flight : {"F02", "F08", "F18", "F20"}) {
    SCOPED_TRACE(flight);
    const auto setting = flight_setting(flight);
    const Arguments with_panel = {flight_file(flight, flight + ".csv"), "--with",
                                  flight_file(flight, flight + "_avionics.csv")};
    sound_debrief(joined(with_panel, {setting.runway_and_point, setting.wind}));
  }
}

TEST(DebriefJson, OfSeveralLogsIsAListInTheOrderGiven) {
  const Arguments logs = {flight_file("F15", "F15.gpx"), flight_file("F03", "F03.gpx")};
  const auto object = printed_object("debriefs", joined({"debrief"}, {logs, {"--wind", "180/8"}}));
  ASSERT_EQ(object.at("debriefs").size(), 2U);
  EXPECT_EQ(object.at("debriefs").at(0).at("log").at("file"), logs[0]);
  EXPECT_EQ(object.at("debriefs").at(1).at("log").at("file"), logs[1]);
}

TEST(DebriefJson, OfALogThatEndsOnDownwindIsAsPromised) {
  const TemporaryFolder folder;
  const auto whole = test_file("flights/F08/F08.gpx");
  sound_debrief({folder.with("cut.gpx", whole.substr(0, 20000))});
}

TEST(BriefJson, IsAsPromisedInAnyWind) {
  for (const char* wind : {"calm", "270/10", "240/12G18", "200/8", "243/14"}) {
    SCOPED_TRACE(wind);
    const auto object = printed_object("brief", brief_in(wind));
    EXPECT_EQ(object.at("refusals"), json::array());
    EXPECT_TRUE(object.at("cue").is_object());
    expect_interval_holds_value(object.at("success"), "low95", "probability", "high95");
    expect_interval_holds_value(object.at("success"), "low80_ft", "median_touchdown_ft", "high80_ft");
    for (const auto& point : object.at("key_points")) {
      expect_interval_holds_value(point, "low_ft", "height_ft", "high_ft");
    }
  }
}

/// 90 degrees on runway 24 is a tailwind.
TEST(ReadinessJson, IsAsPromisedAndCountsWhatWasFlown) {
  const Arguments logs = {"readiness",
                          "data/demo/reference-flight/touch-and-goes.gpx",
                          "--runway",
                          "data/demo/reference-flight/runway.json",
                          "--touchdown-point-ft",
                          "600"};
  const auto object = printed_object("readiness", logs);
  EXPECT_EQ(object.at("attempts").size(), 3U);
  EXPECT_EQ(object.at("met").at("of"), 3);
  EXPECT_LT(object.at("at_least").get<double>(), object.at("next").at("probability").get<double>());
  EXPECT_TRUE(object.at("attempts")[0].at("first_of_day").get<bool>());
  EXPECT_FALSE(object.at("attempts")[1].at("first_of_day").get<bool>());
  const auto last_one = printed_object("readiness", joined(logs, {{"--window", "1"}}));
  EXPECT_EQ(last_one.at("met").at("of"), 1);
}

Arguments band_in(const std::string& wind) {
  return {"band", "--runway", "data/demo/harrow-fen-24.json", "--airplane", "demo-trainer", "--wind", wind};
}

TEST(BandJson, IsAsPromisedInAnyWind) {
  for (const std::string wind : {"calm", "270/10", "240/18G26", "150/8"}) {
    SCOPED_TRACE(wind);
    const auto object = printed_object("band", band_in(wind));
    ASSERT_FALSE(object.at("along").at("places").empty());
    for (const auto& place : object.at("along").at("places")) {
      const auto& edges = place.at("mean");
      EXPECT_LE(edges.at("highest_by_path_ft").get<double>(), edges.at("highest_by_flaps_ft").get<double>());
      EXPECT_LE(edges.at("highest_by_flaps_ft").get<double>(), edges.at("highest_by_slip_ft").get<double>());
      EXPECT_GE(place.at("height_ft").get<double>(), object.at("means").at("gate_height_ft").get<double>());
    }
  }
}

TEST(BandJson, IsThereWhereNoPlanIsOffered) {
  const auto object = printed_object("band", band_in("330/30"));
  EXPECT_FALSE(object.at("planned").get<bool>());
  EXPECT_FALSE(object.at("refusals").empty());
}

TEST(BandJson, WithFewerMeansIsNotHigher) {
  const auto all = printed_object("band", band_in("270/10"));
  const auto fewer =
      printed_object("band", joined(band_in("270/10"), {{"--no-slip", "--extend-ft", "3500"}}));
  EXPECT_LT(fewer.at("key_points")[0].at("mean").at("highest_by_slip_ft").get<double>(),
            all.at("key_points")[0].at("mean").at("highest_by_slip_ft").get<double>());
}

TEST(BandJson, SaysWhereAnObstacleDecides) {
  const auto free = printed_object("band", band_in("270/10"));
  EXPECT_TRUE(free.at("obstacles").empty());
  const auto passed = printed_object("band", joined(band_in("270/10"), {{"--obstacle=-1500,0,10"}}));
  EXPECT_EQ(passed.at("key_points")[0].at("raised_by_obstacles_ft").get<double>(), 0.0);
  // Beside the planned path, or another plan would be made and its places would be others.
  const auto mast = printed_object(
      "band", joined(band_in("270/10"), {{"--obstacle=-1500,0,10", "--obstacle=-2900,-400,700"}}));
  EXPECT_EQ(mast.at("obstacles").size(), 2U);
  EXPECT_TRUE(mast.at("planned").get<bool>());
  const auto wall = printed_object("band", joined(band_in("270/10"), {{"--obstacle=-100,0,150"}}));
  EXPECT_THAT(wall.at("along").at("empty_because").get<std::string>(),
              testing::HasSubstr("Past these obstacles"));
  for (std::size_t i = 0; i < free.at("key_points").size(); ++i) {
    const auto lowest_ft = [&](const auto& band) {
      return band.at("key_points")[i].at("nine_in_ten").at("lowest_ft").template get<double>();
    };
    const double raised_ft = mast.at("key_points")[i].at("raised_by_obstacles_ft").get<double>();
    EXPECT_GE(raised_ft, 0.0);
    // Both edges are rounded to a foot, and so is their difference.
    EXPECT_NEAR(lowest_ft(mast) - lowest_ft(free), raised_ft, 1.5);
    EXPECT_FALSE(passed.at("key_points")[i].at("closed_by_obstacles").get<bool>());
  }
  EXPECT_TRUE(wall.at("key_points")[0].at("closed_by_obstacles").get<bool>());
}

TEST(DebriefJson, HasTheBandAlongEveryPowerOffAttempt) {
  const auto object = sound_debrief({"data/demo/reference-flight/touch-and-goes.gpx", "--runway",
                                     "data/demo/reference-flight/runway.json", "--touchdown-point-ft", "600",
                                     "--wind", "210/9"});
  for (const auto& attempt : object.at("attempts")) {
    ASSERT_FALSE(attempt.at("band").is_null());
    EXPECT_GT(attempt.at("band").at("places").size(), 10U);
  }
  // The first landing was long: its path could not lose the height any more, then flaps, then a slip.
  double before_s = 0.0;
  for (const auto& chance : object.at("attempts")[0].at("band").at("last_chances")) {
    EXPECT_NE(chance.at("mean"), "shortest_way");
    EXPECT_GE(chance.at("time_s").get<double>(), before_s);
    before_s = chance.at("time_s").get<double>();
  }
  EXPECT_GT(before_s, 0.0);
}

TEST(BriefJson, OfARefusalHasReasonsAndNoCue) {
  const auto object = printed_object("brief", brief_in("90/10"), 1);
  EXPECT_FALSE(object.at("refusals").empty());
  EXPECT_TRUE(object.at("cue").is_null());
  EXPECT_EQ(object.at("flaps"), json::array());
}

TEST(BriefJson, IsAsPromisedForEveryAirplaneOfTheShelf) {
  for (const auto& airplane : delivered_files("airplanes")) {
    SCOPED_TRACE(airplane);
    auto arguments = brief_in("240/10");
    arguments[4] = airplane.string();
    printed_object("brief", arguments);
  }
}

TEST(FlyJson, IsAsPromisedHoweverItEnds) {
  std::vector<std::string> ends;
  for (const Arguments& how : {Arguments{"--base-turn-s", "14"},
                               {"--base-turn-s", "-10"},
                               {"--base-turn-s", "60"},
                               {"--wind", "360/30"},
                               {"--wind", "150/20", "--traffic", "right"}}) {
    SCOPED_TRACE(how.at(1));
    const auto object = printed_object("fly", joined({"fly"}, {how}));
    EXPECT_FALSE(object.contains("trace"));
    ends.push_back(object.at("end"));
  }
  EXPECT_NE(std::count(ends.begin(), ends.end(), "touchdown"), 0);
  EXPECT_LT(std::count(ends.begin(), ends.end(), "touchdown"), static_cast<long>(ends.size()));
}

TEST(FlyJson, HasATraceOnlyWhenAskedFor) {
  const auto object = printed_object("fly", {"fly", "--trace", "--base-turn-s", "14"});
  EXPECT_GT(object.at("trace").size(), 100U);
}

TEST(BriefJson, AfterADryRunIsAsPromised) {
  const auto dry_run = [](const Arguments& told) {
    return printed_object("brief", joined(brief_in("270/10"), {told})).at("dry_run");
  };
  const auto long_glide = dry_run({"--dry-run-ft", "400", "--dry-run-power", "none"});
  EXPECT_EQ(long_glide.at("told"), "something");
  EXPECT_LT(long_glide.at("drag_relative").at("after"), 0.0);
  EXPECT_GT(long_glide.at("cue_after_s"), long_glide.at("cue_before_s"));
  const auto nothing_known = dry_run({"--dry-run-ft", "400", "--dry-run-power", "assisted"});
  EXPECT_EQ(nothing_known.at("told"), "little");
  EXPECT_EQ(nothing_known.at("cue_after_s"), nothing_known.at("cue_before_s"));
  EXPECT_EQ(dry_run({"--dry-run-ft", "3000"}).at("told"), "does-not-fit");
}

TEST(BriefJson, AfterADryRunFromALogIsAsPromised) {
  const auto object = printed_object(
      "brief", {"brief", "--runway", "data/demo/reference-flight/runway.json", "--wind", "210/9",
                "--dry-run-log", "data/demo/reference-flight/touch-and-goes.gpx", "--dry-run-attempt", "2"});
  const auto& dry_run = object.at("dry_run");
  EXPECT_EQ(dry_run.at("source"), "data/demo/reference-flight/touch-and-goes.gpx, attempt 2");
  EXPECT_EQ(dry_run.at("power"), "none");
  // The log knows its wind; 2 kt of scatter become less.
  EXPECT_LT(dry_run.at("headwind_kt").at("after_sd"), dry_run.at("headwind_kt").at("before_sd"));
}

/// Outside of what brief would plan for, the model flies on, but not silently.
TEST(FlyJson, SaysWhereNoPlanWouldBeOffered) {
  const auto heavy = printed_object("fly", {"fly", "--weight-lb", "9000"});
  EXPECT_NE(heavy.at("cautions").dump().find("above the maximum"), std::string::npos);
  const auto usual = printed_object("fly", {"fly"});
  EXPECT_EQ(usual.at("cautions"), json::array());
}

TEST(ColumnsJson, IsAsPromised) {
  const auto mapping =
      printed_object("columns", {"debrief", "tests/data/flights/F08/F08.csv", "--show-columns"});
  EXPECT_EQ(mapping.at("columns").size(), 6U);
}

TEST(ConvertJson, IsAsPromised) {
  const TemporaryFolder folder;
  const auto report = printed_object(
      "convert", {"convert", "tests/data/flights/F03/F03_gap7.gpx", "--to", folder.path() + "/a.geojson"});
  EXPECT_GT(report.at("fixes"), 200);
}

TEST(SummaryJson, IsAsPromised) {
  const auto summary = printed_object("summary", {"debrief", "tests/data/flights/F15"});
  EXPECT_EQ(summary.at("logs").size(), 2U);           // GPX and CSV
  EXPECT_EQ(summary.at("not_debriefed").size(), 1U);  // truth.json
}

TEST(FitJson, IsAsPromised) {
  const auto table =
      printed_object("fit", {"fit", "tests/data/flights/glide.csv", "--airplane", "demo-trainer"});
  EXPECT_EQ(table.at("logs").at(0).at("glides_used").get<std::size_t>(), table.at("glides").size());
  EXPECT_LT(table.at("drag_sd_relative").at("after"), table.at("drag_sd_relative").at("before"));
  for (const auto& estimate : table.at("estimates")) {
    expect_interval_holds_value(estimate.at("before"), "low95", "value", "high95");
    expect_interval_holds_value(estimate.at("after"), "low95", "value", "high95");
  }
  const auto alone = printed_object("fit", {"fit"});
  EXPECT_EQ(alone.at("logs"), json::array());
  EXPECT_NE(alone.at("assumed").dump().find("generic trainer"), std::string::npos);
  const auto panel = printed_object(
      "fit", {"fit", flight_file("F08", "F08_avionics.csv"), flight_file("F20", "F20_avionics.csv"),
              "--airplane", "demo-trainer", "--weight-lb", "2300"});
  EXPECT_EQ(panel.at("logs").at(1).at("kind"), "panel");
}

struct Example {
  std::string schema;
  json object;
};

/// One real object of each kind, for the tests that break it.
const std::vector<Example>& examples() {
  static const std::vector<Example> all = [] {
    const auto setting = flight_setting("F03");
    const Arguments debrief =
        joined({"debrief", flight_file("F03", "F03.gpx")}, {setting.runway_and_point, setting.wind});
    return std::vector<Example>{{"brief", printed_object("brief", brief_in("270/10"))},
                                {"debrief", printed_object("debrief", debrief)},
                                {"fly", printed_object("fly", {"fly"})},
                                {"fit", printed_object("fit", {"fit", flight_file("F08", "F08_avionics.csv"),
                                                               "--airplane", "demo-trainer"})}};
  }();
  return all;
}

/// Every object in the document, the document first: "" or "/attempts/0/gate".
void find_objects(const json& node, const json::json_pointer& at, std::vector<json::json_pointer>& found) {
  if (node.is_object()) found.push_back(at);
  if (!node.is_structured()) return;
  for (const auto& [key, value] : node.items()) {
    find_objects(value, node.is_array() ? at / std::stoul(key) : at / key, found);
  }
}

TEST(Schema, NoticesAnUnknownKeyAnywhere) {
  for (const auto& [schema, object] : examples()) {
    std::vector<json::json_pointer> objects;
    find_objects(object, json::json_pointer(), objects);
    EXPECT_GT(objects.size(), 5U);
    for (const auto& place : objects) {
      json extra = object;
      extra[place]["something_new"] = 1;
      EXPECT_NE(objections(schema, extra), "") << schema << " " << place;
    }
  }
}

TEST(Schema, NoticesAMissingKeyAnywhere) {
  for (const auto& [schema, object] : examples()) {
    std::vector<json::json_pointer> objects;
    find_objects(object, json::json_pointer(), objects);
    for (const auto& place : objects) {
      for (const auto& [key, value] : object[place].items()) {
        json without = object;
        without[place].erase(key);
        EXPECT_NE(objections(schema, without), "") << schema << " " << place << " without " << key;
      }
    }
  }
}

TEST(Schema, RefusesWordsAndNumbersOutOfRange) {
  json brief = examples()[0].object;
  brief["success"]["probability"] = 1.2;
  EXPECT_NE(objections("brief", brief), "");
  json wrong = examples()[1].object;
  wrong["attempts"][0]["outcome"] = "crashed";
  EXPECT_NE(objections("debrief", wrong), "");
  wrong = examples()[1].object;
  wrong["attempts"][0]["touchdown"]["time"] = "2026-05-14 20:06:50";
  EXPECT_NE(objections("debrief", wrong), "");
  json fly = examples()[2].object;
  fly["schema"] = "glidewright.fly/2";
  EXPECT_NE(objections("fly", fly), "");
}

/// A reference to another schema that is silently not followed would take anything.
TEST(Schema, LooksIntoTheListOfSeveralLogs) {
  json several = {{"schema", "glidewright.debriefs/1"},
                  {"debriefs", {examples()[1].object, examples()[1].object}}};
  EXPECT_EQ(objections("debriefs", several), "");
  several["debriefs"][1]["attempts"][0]["outcome"] = "crashed";
  EXPECT_NE(objections("debriefs", several), "");
}

TEST(Schema, Drill) {
  const auto drill =
      printed_object("drill", {"drill", "--runway", "data/demo/harrow-fen-24.json", "--airplane",
                               "demo-trainer", "--wind", "250/11", "--count", "4", "--seed", "7"});
  ASSERT_EQ(drill.at("situations").size(), 4U);
  for (const auto& one : drill.at("situations")) {
    const auto& answer = one.at("answer");
    EXPECT_EQ(answer.at("to_come").back().at("along_ft"), answer.at("touchdown_ft"));
    EXPECT_EQ(one.at("flown").back().at("time_s"), one.at("now").at("time_s"));
  }
}

TEST(Schema, RecordsAndTheirArchive) {
  const TemporaryFolder folder;
  const Arguments records{"--records", folder.path() + "/records"};
  const Arguments by{"--by", "Demo Instructor"};
  const auto done = [&](const Arguments& words) {
    return run_program(joined({"record"}, {words, records, by})).exit_code == 0;
  };
  ASSERT_TRUE(done({"file", "data/demo/reference-flight/touch-and-goes.gpx", "--runway",
                    "data/demo/reference-flight/runway.json", "--touchdown-point-ft", "600", "--student",
                    "Demo Student", "--add-student"}));
  ASSERT_TRUE(done({"note", "Demo Student", "looked late", "--attempt", "2"}));
  ASSERT_TRUE(done({"correct", "Demo Student", "1", "--met", "no", "--reason", "seen"}));
  ASSERT_TRUE(done(
      {"sign-off", "Demo Student", "--for", "landings", "--signed-by", "C. Demo", "--on", "2026-05-20"}));
  printed_object("record", joined({"record", "show", "Demo Student"}, {records}));
  printed_object("students", joined({"record", "list"}, {records}));
  const auto history = printed_object("history", joined({"record", "history", "1"}, {records}));
  EXPECT_EQ(history.at("changes").size(), 7U);
  const std::string archive = folder.path() + "/all.zip";
  ASSERT_TRUE(done({"export", archive, "--all"}));
  const auto files = unzip_archive(bytes_of(archive), archive);
  ASSERT_TRUE(files);
  EXPECT_EQ(objections("archive", json::parse(files->at("records.json"))), "");
  const std::string& page = files->at("index.html");
  for (const char* told :
       {"Demo Student", "looked late", "landings, signed by C. Demo", "touch-and-goes.gpx", "seen"})
    EXPECT_NE(page.find(told), std::string::npos) << told << " is not on the page to read";
  EXPECT_EQ(page.find("<script"), std::string::npos);
  EXPECT_EQ(page.find("http"), std::string::npos) << "it fetches nothing";
  EXPECT_EQ(files->at("logs/" + json::parse(files->at("records.json"))
                                    .at("students")
                                    .at(0)
                                    .at("attempts")
                                    .at(0)
                                    .at("log")
                                    .get<std::string>()),
            bytes_of(k_clone / "data/demo/reference-flight/touch-and-goes.gpx"));
}

}  // namespace
}  // namespace glidewright
