// Airplanes and airfields of the school from the command line.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/apps/program.hpp"
#include "tests/apps/reference_flights.hpp"
#include "tests/apps/schema.hpp"

namespace glidewright {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;
using ::testing::Not;

class FleetCommandsTest : public ::testing::Test {
 protected:
  ProgramRun record(std::vector<std::string> words, const std::string& file = "records") const {
    words.insert(words.begin(), "record");
    words.insert(words.end(), {"--records", folder.path() + "/" + file});
    return run_program(words);
  }
  ProgramRun record_by(std::vector<std::string> words, const std::string& file = "records") const {
    words.insert(words.end(), {"--by", "Demo Instructor"});
    return record(words, file);
  }
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

  TemporaryFolder folder;
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

}  // namespace
}  // namespace glidewright
