// Airplanes and airfields of the school from the command line.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>
#include <string>

#include "tests/apps/records_of_a_test.hpp"
#include "tests/apps/reference_flights.hpp"
#include "tests/apps/schema.hpp"

namespace glidewright {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;
using ::testing::Not;

class FleetCommandsTest : public RecordsOfATest, public ::testing::Test {
 protected:
  json object(std::vector<std::string> words, const std::string& schema,
              const std::string& file = "records") const {
    words.emplace_back("--json");
    const auto run = record(words, file);
    EXPECT_EQ(run.exit_code, 0) << run.errors;
    const json found = json::parse(run.output);
    EXPECT_EQ(objections(schema, found), "");
    return found;
  }
  ProgramRun file_lesson(const std::string& airplane, const std::string& runway) const {
    return record_by({"file", "data/demo/reference-flight/touch-and-goes.gpx", "--runway", runway,
                      "--touchdown-point-ft", "600", "--airplane", airplane, "--student", "Demo Student",
                      "--add-student"});
  }
};

TEST_F(FleetCommandsTest, AnAirplaneIsAddedChangedShownRemovedAndTakenBack) {
  const std::string name = "Demo '; drop table airplanes; -- דוגמה";
  EXPECT_EQ(record({"airplane", "list"}).exit_code, 1) << "looking makes no records";
  ASSERT_EQ(record_by({"airplane", "add", name, "demo-trainer"}).exit_code, 0);
  EXPECT_THAT(record_by({"airplane", "add", name, "demo-trainer"}).errors, HasSubstr("there already"));
  EXPECT_EQ(record_by({"airplane", "add", "Demo 2", "data/demo/harrow-fen-24.json"}).exit_code, 1);
  EXPECT_EQ(record_by({"airplane", "add", "Demo 2", "no-such-airplane"}).exit_code, 1);
  json changed = json::parse(bytes_of(k_clone / "data/airplanes/demo-trainer.json"));
  changed["best_glide_ratio"]["value"] = 8.8;
  const std::string file = folder.with("changed.json", changed.dump());
  EXPECT_EQ(record_by({"airplane", "change", name, file}).exit_code, 2) << "without a reason";
  ASSERT_EQ(record_by({"airplane", "change", name, file, "--reason", "flown and timed"}).exit_code, 0);
  EXPECT_THAT(record_by({"airplane", "change", "1", file, "--reason", "again"}).errors,
              HasSubstr("so already"));
  const json list = object({"airplane", "list"}, "fleet");
  EXPECT_EQ(list.at("items").at(0).at("name"), name);
  EXPECT_EQ(list.at("items").at(0).at("versions").size(), 2U);
  const json shown = object({"airplane", "show", name}, "fleet-item");
  EXPECT_EQ(shown.at("item").at("versions").at(1).at("profile").at("best_glide_ratio").at("value"), 8.8);
  EXPECT_EQ(shown.at("item").at("versions").at(1).at("by"), "Demo Instructor");
  const auto told = record({"airplane", "show", "1"}).output;
  EXPECT_THAT(told, HasSubstr("8.8 at 70 kt"));
  EXPECT_THAT(told, HasSubstr("flown and timed"));
  ASSERT_EQ(record_by({"airplane", "remove", name}).exit_code, 0);
  EXPECT_THAT(record({"airplane", "list"}).output, HasSubstr("No airplanes yet"));
  EXPECT_THAT(record({"airplane", "list", "--trash"}).output, HasSubstr("drop table"));
  EXPECT_EQ(record({"airplane", "show", name}).exit_code, 1);
  EXPECT_THAT(record_by({"undo"}).output, HasSubstr("airplane 1"));
  EXPECT_EQ(record({"airplane", "show", name}).exit_code, 0);
}

TEST_F(FleetCommandsTest, AFlightIsFiledUnderAirplaneAndAirfieldByTheirNames) {
  const std::string runway_file = "data/demo/reference-flight/runway.json";
  ASSERT_EQ(record_by({"airplane", "add", "Demo 1", "demo-trainer"}).exit_code, 0);
  ASSERT_EQ(record_by({"airfield", "add", "Home", runway_file}).exit_code, 0);
  EXPECT_EQ(record_by({"airfield", "add", "Twice", runway_file, runway_file}).exit_code, 1);
  ASSERT_EQ(record_by({"airfield", "add", "Two", runway_file, "data/demo/harrow-fen-24.json"}).exit_code, 0);
  EXPECT_EQ(file_lesson("Demo 9", "Home").exit_code, 1);
  EXPECT_THAT(file_lesson("Demo 1", "Two").errors, HasSubstr("expected one of its runways"));
  const std::string designator =
      json::parse(bytes_of(k_clone / runway_file)).at("designator").get<std::string>();
  const auto filed = file_lesson("Demo 1", "Two/" + designator);
  ASSERT_EQ(filed.exit_code, 0) << filed.errors;
  EXPECT_THAT(file_lesson("Demo 1", "Home").output, HasSubstr("filed before")) << "the same runway";
  const json airplane = object({"airplane", "show", "Demo 1"}, "fleet-item");
  ASSERT_EQ(airplane.at("filed_last").size(), 3U);
  const json record_of = object({"show", "Demo Student"}, "record");
  const json assessment = record_of.at("student").at("attempts").at(0).at("assessments").at(0);
  EXPECT_EQ(assessment.at("airplane"), "Demo 1");
  EXPECT_EQ(assessment.at("fleet_airplane"), airplane.at("item").at("uid"));
  EXPECT_EQ(assessment.at("airplane_profile"), airplane.at("item").at("versions").at(0).at("sha256"));
  EXPECT_EQ(record_of.at("progress").at("by_airplane").size(), 0U) << "one airplane is no comparison";
  const json field = object({"airfield", "show", "Two"}, "fleet-item");
  EXPECT_EQ(field.at("item").at("versions").at(0).at("runways").size(), 2U);

  // Out with the student and with everybody, in again once.
  const std::string one = folder.path() + "/one.zip", all = folder.path() + "/all.zip";
  ASSERT_EQ(record_by({"export", one, "Demo Student"}).exit_code, 0);
  ASSERT_EQ(record_by({"export", all, "--all"}).exit_code, 0);
  EXPECT_THAT(record_by({"import", one}, "other").output, HasSubstr("1 airplane and 0 airfields new here"));
  EXPECT_THAT(record_by({"import", all}, "other").output, HasSubstr("0 airplanes and 2 airfields new here"));
  const auto again = record_by({"import", all}, "other").output;
  EXPECT_THAT(again, Not(HasSubstr("new here")));
  EXPECT_EQ(object({"show", "Demo Student"}, "record", "other"), record_of);
  EXPECT_EQ(object({"airfield", "list"}, "fleet", "other").at("items").at(1).at("uid"),
            object({"airfield", "list"}, "fleet").at("items").at(1).at("uid"));

  // A backup brings the fleet back.
  ASSERT_EQ(record({"backup", folder.path() + "/copy"}).exit_code, 0);
  ASSERT_EQ(record_by({"airplane", "remove", "Demo 1"}).exit_code, 0);
  ASSERT_EQ(record({"restore", folder.path() + "/copy", "--replace"}).exit_code, 0);
  EXPECT_EQ(object({"airplane", "show", "Demo 1"}, "fleet-item"), airplane);
}

/// One file with what receiver and panel wrote of a simulated flight, a row a second.
std::string with_panel(const std::string& flight_name) {
  const auto lines_of = [](const std::string& file) {
    std::map<std::string, std::string> lines;
    std::istringstream text(bytes_of(file));
    for (std::string line; std::getline(text, line);) {
      if (!line.empty() && line.back() == '\r') line.pop_back();
      const auto comma = line.find(',');
      std::string time = line.substr(0, comma);
      if (const auto whole_second = time.find(".000Z"); whole_second != std::string::npos)
        time = time.substr(0, whole_second) + "Z";
      lines[time] = line.substr(comma + 1);
    }
    return lines;
  };
  const auto flown = k_clone / "tests/data/flights" / flight_name;
  const auto fixes = lines_of((flown / (flight_name + ".csv")).string());
  const auto panel = lines_of((flown / (flight_name + "_avionics.csv")).string());
  std::string joined = "time_utc," + fixes.at("time_utc") + "," + panel.at("time_utc") + "\n";
  for (const auto& [time, columns] : fixes)
    if (const auto same = panel.find(time); same != panel.end() && time != "time_utc")
      joined += time + "," + columns + "," + same->second + "\n";
  return joined;
}

/// The shared calibration of an airplane: from all logs filed under it, whoever flew them.
class FleetFitTest : public FleetCommandsTest {
 protected:
  FleetFitTest() { record_by({"airplane", "add", "Demo 1", "demo-trainer"}); }
  void file_flight(const std::string& flight_name, const std::string& student) {
    const std::string log =
        folder.with("flown by " + student + " " + flight_name + ".csv", with_panel(flight_name));
    const auto run = record_by({"file", log, "--airplane", "Demo 1", "--student", student, "--add-student"});
    ASSERT_EQ(run.exit_code, 0) << run.errors;
  }
  ProgramRun fit(std::vector<std::string> more = {}) const {
    more.insert(more.begin(), {"airplane", "fit", "Demo 1", "--weight-lb", "2200"});
    return record_by(more);
  }
  std::size_t versions() const {
    return object({"airplane", "show", "Demo 1"}, "fleet-item").at("item").at("versions").size();
  }
};

TEST_F(FleetFitTest, RefusesWithAReasonWhereThereIsTooLittle) {
  EXPECT_THAT(fit().errors, HasSubstr("nothing is filed under it"));
  ASSERT_EQ(file_lesson("Demo 1", "data/demo/reference-flight/runway.json").exit_code, 0);
  EXPECT_THAT(fit().errors, HasSubstr("no glide can be used in 1 log"));
  file_flight("F18", "Demo Student");
  EXPECT_THAT(fit().errors, HasSubstr("2 glides only in 2 logs"));
  EXPECT_EQ(versions(), 1U);
}

TEST_F(FleetFitTest, RefusesWhatWouldChangeNothing) {
  file_flight("F08", "Demo Student");
  const auto run = fit();
  EXPECT_EQ(run.exit_code, 1);
  EXPECT_THAT(run.errors, HasSubstr("too little to change anything"));
  EXPECT_EQ(versions(), 1U);
}

TEST_F(FleetFitTest, KeepsWhatTheLogsOfAllStudentsSayAndUsesIt) {
  const auto plan = [&](const std::vector<std::string>& more) {
    std::vector<std::string> words = {
        "brief",  "--quick", "--json",     "--runway", "data/demo/harrow-fen-24.json",
        "--wind", "250/11",  "--airplane", "Demo 1"};
    words.insert(words.end(), more.begin(), more.end());
    const auto run = run_program(words);
    EXPECT_EQ(run.exit_code, 0) << run.errors;
    return json::parse(run.output);
  };
  const std::string records = folder.path() + "/records";
  file_flight("F20", "Demo Student");
  file_flight("F08", "Another Demo");
  const double before = plan({"--records", records}).at("airplane").at("drag_sd_relative");

  const auto run = fit({"--json"});
  ASSERT_EQ(run.exit_code, 0) << run.errors;
  const json told = json::parse(run.output);
  EXPECT_EQ(objections("fit", told), "");
  EXPECT_EQ(told.at("logs").size(), 2U);
  const json airplane = object({"airplane", "show", "Demo 1"}, "fleet-item").at("item");
  ASSERT_EQ(airplane.at("versions").size(), 2U);
  const json& fitted = airplane.at("versions").at(1);
  EXPECT_TRUE(fitted.at("fitted").get<bool>());
  EXPECT_FALSE(airplane.at("versions").at(0).at("fitted").get<bool>());
  EXPECT_THAT(fitted.at("reason").get<std::string>(), HasSubstr("of 2 logs"));
  // Which logs it used, by their content alone: a name may say who flew.
  std::set<std::string> used, filed;
  for (const auto& log : fitted.at("profile").at("fitted").at("logs")) used.insert(log.at("sha256"));
  const json shown = object({"airplane", "show", "Demo 1"}, "fleet-item");
  for (const auto& one : shown.at("filed_last")) filed.insert(one.at("log"));
  EXPECT_EQ(used, filed);
  EXPECT_THAT(fitted.dump(), Not(HasSubstr("flown by")));

  const double after = plan({"--records", records}).at("airplane").at("drag_sd_relative");
  EXPECT_LT(after, before) << "plans that ask for it are surer of its drag";
  EXPECT_EQ(run_program({"brief", "--runway", "data/demo/harrow-fen-24.json", "--wind", "250/11",
                         "--airplane", "Demo 1"})
                .exit_code,
            1)
      << "elsewhere nobody knows it";

  // Again: all logs from the beginning, so that none counts twice.
  EXPECT_THAT(fit().output, HasSubstr("nothing was changed"));
  EXPECT_EQ(versions(), 2U);
  // The same plan before and after its flight: the saved plan names the airplane.
  const std::string saved = folder.with("plan.json", plan({"--records", records}).dump());
  const auto debriefed =
      run_program({"debrief", "data/demo/reference-flight/touch-and-goes.gpx", "--plan", saved, "--runway",
                   "data/demo/reference-flight/runway.json", "--records", records, "--json"});
  ASSERT_EQ(debriefed.exit_code, 0) << debriefed.errors;
  EXPECT_EQ(json::parse(debriefed.output).at("airplane").at("id"), "Demo 1");
  // Filed before the fit: debriefed again, it takes the new numbers and says so.
  const std::string log = folder.path() + "/flown by Another Demo F08.csv";
  EXPECT_THAT(record_by({"file", log, "--airplane", "Demo 1", "--student", "Another Demo"}).output,
              HasSubstr("judged anew"));
  // What a person gives later counts, and the next fit begins there.
  ASSERT_EQ(record_by({"airplane", "change", "Demo 1", "generic-trainer", "--reason", "another propeller"})
                .exit_code,
            0);
  ASSERT_EQ(fit().exit_code, 0);
  EXPECT_EQ(versions(), 4U);
}

/// Metres under headers that say feet, told when the log was filed: its glides are those of the right log.
TEST_F(FleetFitTest, TakesHeightsAsTheyWereTold) {
  const auto in_metres = [](const std::string& table) {
    std::istringstream lines(table);
    std::string line, mended;
    std::set<std::size_t> heights;
    for (bool header = true; std::getline(lines, line); header = false) {
      std::istringstream cells(line);
      std::string cell;
      for (std::size_t i = 0; std::getline(cells, cell, ','); ++i) {
        if (header && cell.find("alt") != std::string::npos) heights.insert(i);
        if (!header && heights.count(i) != 0) cell = std::to_string(0.3048 * std::stod(cell));
        mended += (i == 0 ? "" : ",") + cell;
      }
      mended += "\n";
    }
    EXPECT_EQ(heights.size(), 2U) << "of the receiver and of the panel";
    return mended;
  };
  const auto estimates = [&](const std::string& records) {
    const auto run = run_program({"record", "airplane", "fit", "Demo 1", "--weight-lb", "2200", "--json",
                                  "--records", folder.path() + "/" + records, "--by", "Demo Instructor"});
    EXPECT_EQ(run.exit_code, 0) << run.errors;
    return json::parse(run.output).at("estimates");
  };
  record_by({"airplane", "add", "Demo 1", "demo-trainer"}, "metres");
  for (const char* flight_name : {"F20", "F08"}) {
    file_flight(flight_name, "Demo Student");
    const std::string log =
        folder.with(std::string(flight_name) + ".csv", in_metres(with_panel(flight_name)));
    const auto run = record_by({"file", log, "--airplane", "Demo 1", "--student", "Demo Student",
                                "--add-student", "--height-unit", "m"},
                               "metres");
    ASSERT_EQ(run.exit_code, 0) << run.errors;
  }
  const json right = estimates("records"), told = estimates("metres");
  ASSERT_EQ(told.size(), right.size());
  for (std::size_t i = 0; i < right.size(); ++i) {
    // Written to a millionth of a metre; shown to four digits.
    const double value = right[i]["after"]["value"];
    EXPECT_NEAR(told[i]["after"]["value"].get<double>(), value, 0.001 * std::abs(value)) << right[i]["words"];
  }
}

}  // namespace
}  // namespace glidewright
