// Records as an instructor keeps them from the command line.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <regex>

#include "formats/time.hpp"
#include "store/records.hpp"
#include "tests/apps/records_of_a_test.hpp"
#include "tests/apps/reference_flights.hpp"

namespace glidewright {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

class RecordTest : public RecordsOfATest, public ::testing::Test {
 protected:
  ProgramRun file_lesson(std::vector<std::string> more = {}) const {
    std::vector<std::string> words = {"file",
                                      "data/demo/reference-flight/touch-and-goes.gpx",
                                      "--runway",
                                      "data/demo/reference-flight/runway.json",
                                      "--touchdown-point-ft",
                                      "600",
                                      "--student",
                                      "Demo Student",
                                      "--by",
                                      "Demo Instructor"};
    words.insert(words.end(), more.begin(), more.end());
    return record(words);
  }
  nlohmann::json shown() const {
    return nlohmann::json::parse(record({"show", "Demo Student", "--json"}).output).at("readiness");
  }
  std::string told(std::vector<std::string> more = {}) const {
    more.insert(more.begin(), {"show", "Demo Student"});
    return std::regex_replace(record(more).output, std::regex("\\s+"), " ");
  }
};

TEST_F(RecordTest, FilesALogOnce) {
  EXPECT_EQ(file_lesson().exit_code, 1) << "nobody has that name";
  EXPECT_THAT(file_lesson({"--add-student"}).output, HasSubstr("3 new attempts"));
  EXPECT_THAT(file_lesson({"--add-student"}).output, HasSubstr("0 new attempts"));
  EXPECT_EQ(record({"list"}).output, "student 1: Demo Student\n");
}

TEST_F(RecordTest, ANamesakeIsPointedOut) {
  EXPECT_EQ(record_by({"add", "Demo Student"}).output, "Demo Student is student 1.\n");
  EXPECT_EQ(record_by({"add", "Demo Student Two"}).output, "Demo Student Two is student 2.\n");
  EXPECT_THAT(record_by({"add", "Demo Student"}).output, HasSubstr("already student 1:"));
  EXPECT_THAT(record({"show", "2"}).output, Not(HasSubstr("Filed"))) << "no headings over nothing";
}

/// A powered flight round the pattern is a log without a power-off attempt: nothing of it is kept.
TEST_F(RecordTest, ALogWithoutAnAttemptIsNobodys) {
  std::vector<std::string> words = {"file", "tests/data/flights/F24/F24.gpx", "--student", "Demo Student",
                                    "--add-student"};
  const auto setting = flight_setting("F24").runway_and_point;
  words.insert(words.end(), setting.begin(), setting.end());
  const auto run = record_by(words);
  ASSERT_EQ(run.exit_code, 0) << run.errors;
  EXPECT_THAT(run.output, HasSubstr("No power-off attempt was found in"));
  EXPECT_THAT(record({"check"}).output, HasSubstr("the bytes of 0 logs"));
}

/// A season's folder: what is no log is named and passed over, the rest is filed, and a second time nothing
/// is.
TEST_F(RecordTest, FilesAFolderOfLogs) {
  const std::string season = folder.path() + "/season";
  std::filesystem::create_directories(season + "/may");
  folder.with("season/a.gpx", test_file("flights/F22/F22.gpx"));
  folder.with("season/a.gpx.marks.json", "{\"schema\": \"glidewright.marks/1\", \"attempts\": []}");
  folder.with("season/may/b.kml", test_file("flights/F22/F22.kml"));
  folder.with("season/notes.txt", "hand-written");
  folder.with("season/.hidden", "not looked at");
  const auto file_season = [&](const std::string& path) {
    return record_by({"file", path, "--runway", "-31.7246522,81.9427774,182.3,2400,7000",
                      "--touchdown-point-ft", "600", "--student", "Demo Student", "--add-student"});
  };
  const auto first = file_season(season);
  ASSERT_EQ(first.exit_code, 0) << first.errors;
  EXPECT_THAT(first.output, HasSubstr("1 file not filed:"));
  EXPECT_THAT(first.output, HasSubstr("notes.txt"));
  EXPECT_THAT(first.output, Not(HasSubstr("marks.json")));
  const auto attempts = shown().at("attempts").size();
  EXPECT_GE(attempts, 2U);
  const auto second = file_season(season);
  EXPECT_THAT(second.output, HasSubstr("0 new attempts"));
  EXPECT_EQ(shown().at("attempts").size(), attempts);
  // Named one by one they are filed all or none.
  EXPECT_EQ(
      record_by({"file", season + "/a.gpx", season + "/notes.txt", "--student", "Demo Student"}).exit_code,
      1);
  std::filesystem::create_directory(folder.path() + "/empty");
  EXPECT_THAT(file_season(folder.path() + "/empty").errors, HasSubstr("no file in this folder"));
  folder.with("empty/x.txt", "x");
  EXPECT_THAT(file_season(folder.path() + "/empty").errors, HasSubstr("none of 1 file can be filed"));
}

/// The records and the logs themselves prove the same.
TEST_F(RecordTest, ShowsWhatReadinessSays) {
  ASSERT_EQ(file_lesson({"--add-student"}).exit_code, 0);
  auto direct = nlohmann::json::parse(
      run_program({"readiness", "data/demo/reference-flight/touch-and-goes.gpx", "--runway",
                   "data/demo/reference-flight/runway.json", "--touchdown-point-ft", "600", "--json"})
          .output);
  auto kept = shown();
  for (auto* object : {&direct, &kept})
    for (auto& attempt : object->at("attempts")) attempt.erase("file");
  EXPECT_EQ(kept, direct);
}

TEST_F(RecordTest, ACorrectionCountsAndSaysWhy) {
  ASSERT_EQ(file_lesson({"--add-student"}).exit_code, 0);
  EXPECT_EQ(shown().at("met").at("of"), 3);
  EXPECT_EQ(
      record({"correct", "Demo Student", "2", "--flown-by", "student_prompted", "--by", "B. Demo"}).exit_code,
      2)
      << "without a reason";
  EXPECT_EQ(record({"correct", "Demo Student", "99", "--flown-by", "student_prompted", "--by", "B. Demo",
                    "--reason", "x"})
                .exit_code,
            1);
  EXPECT_EQ(record({"correct", "Demo Student", "2", "--by", "B. Demo", "--reason", "x"}).exit_code, 2)
      << "nothing is corrected";
  const auto run = record({"correct", "Demo Student", "2", "--flown-by", "student_prompted", "--by",
                           "B. Demo", "--reason", "prompted at the turn"});
  EXPECT_EQ(run.exit_code, 0) << run.errors;
  EXPECT_EQ(shown().at("met").at("of"), 2);
  EXPECT_EQ(shown().at("left_out").at("not_alone"), 1);
  EXPECT_EQ(shown().at("left_out").at("flown_by").at("student_prompted"), 1);
  EXPECT_THAT(told(),
              HasSubstr("by B. Demo, flown by the student with prompts, version 2: prompted at the turn"));
  EXPECT_EQ(
      record({"correct", "Demo Student", "2", "--flown-by", "not_alone", "--by", "B. Demo", "--reason", "x"})
          .exit_code,
      2)
      << "whoever says it now knows who";
  ASSERT_EQ(record({"correct", "Demo Student", "2", "--flown-by", "student", "--by", "B. Demo", "--reason",
                    "mistaken"})
                .exit_code,
            0);
  EXPECT_EQ(shown().at("met").at("of"), 3);
}

TEST_F(RecordTest, ABackupOpensAndIsNotWrittenOver) {
  ASSERT_EQ(file_lesson({"--add-student"}).exit_code, 0);
  const std::string copy = folder.path() + "/copy";
  EXPECT_EQ(record({"backup", copy}).exit_code, 0);
  EXPECT_EQ(record({"backup", copy}).exit_code, 1);
  EXPECT_EQ(run_program({"record", "list", "--records", copy}).output, "student 1: Demo Student\n");
}

TEST_F(RecordTest, LookingMakesNoRecords) {
  const auto run = record({"show", "Demo Student"});
  EXPECT_EQ(run.exit_code, 1);
  EXPECT_THAT(run.errors, HasSubstr("no such file of records"));
  EXPECT_FALSE(std::filesystem::exists(folder.path() + "/records"));
}

TEST_F(RecordTest, APackedLogIsTheSameFlight) {
  ASSERT_EQ(file_lesson({"--add-student"}).exit_code, 0);
  const std::string packed = folder.path() + "/lesson.gpx.gz";
  ASSERT_EQ(std::system(("gzip -c " + (k_clone / "data/demo/reference-flight/touch-and-goes.gpx").string() +
                         " > " + packed)
                            .c_str()),
            0);
  const auto run =
      record({"file", packed, "--runway", "data/demo/reference-flight/runway.json", "--touchdown-point-ft",
              "600", "--student", "Demo Student", "--by", "Demo Instructor"});
  EXPECT_THAT(run.output, HasSubstr("0 new attempts")) << run.errors;
  EXPECT_EQ(shown().at("attempts").size(), 3U);
}

TEST_F(RecordTest, AnotherPointJudgesAnewAndKeepsWhatWasSaid) {
  ASSERT_EQ(file_lesson({"--add-student"}).exit_code, 0);
  ASSERT_EQ(
      record_by({"correct", "Demo Student", "1", "--flown-by", "student_prompted", "--reason", "prompted"})
          .exit_code,
      0);
  const auto run = record_by({"file", "data/demo/reference-flight/touch-and-goes.gpx", "--runway",
                              "data/demo/reference-flight/runway.json", "--touchdown-point-ft", "900",
                              "--student", "Demo Student"});
  EXPECT_THAT(run.output, HasSubstr("3 attempts judged anew")) << run.errors;
  EXPECT_THAT(told(), HasSubstr("point 600 ft to 900 ft"));
  EXPECT_EQ(shown().at("left_out").at("not_alone"), 1);
}

/// The marks beside the log are kept: without their file what was seen still stands, here and in another
/// copy.
TEST_F(RecordTest, MarksAreKeptAndHoldWhenTheirFileIsGone) {
  const std::string log =
      folder.with("lesson.gpx", bytes_of(k_clone / "data/demo/reference-flight/touch-and-goes.gpx"));
  const auto file = [&](const std::string& point, const std::string& records) {
    return run_program({"record", "file", log, "--runway", "data/demo/reference-flight/runway.json",
                        "--touchdown-point-ft", point, "--student", "Demo Student", "--add-student", "--by",
                        "Demo Instructor", "--records", folder.path() + "/" + records});
  };
  const auto first_along = [&](const std::string& records) {
    const auto run =
        run_program({"record", "show", "Demo Student", "--json", "--records", folder.path() + "/" + records});
    return nlohmann::json::parse(run.output).at("student").at("attempts").at(0).at("assessments").back();
  };
  ASSERT_EQ(file("600", "unmarked").exit_code, 0);
  const double by_log = first_along("unmarked").at("along_ft");
  const std::string marks = folder.with(
      "lesson.gpx.marks.json",
      R"({"schema": "glidewright.marks/1", "attempts": [{"attempt": 1, "touchdown_ft": 130.5, "touchdown_sd_ft": 20,)"
      R"( "flown_by": "student_prompted", "note": "counted stripes", "marked_by": "Demo Instructor"}]})");
  const auto filed = file("600", "records");
  ASSERT_EQ(filed.exit_code, 0) << filed.errors;
  const auto seen = first_along("records");
  EXPECT_EQ(seen.at("marks").at("touchdown_ft"), 130.5);
  EXPECT_EQ(seen.at("marks").at("note"), "counted stripes");
  EXPECT_EQ(seen.at("flown_by"), "student_prompted");
  EXPECT_NEAR(seen.at("along_ft").get<double>(), 130.5, 1.0);
  EXPECT_GT(std::abs(by_log - 130.5), 100.0) << "the log alone says otherwise";
  EXPECT_THAT(told(), HasSubstr("with marks, flown by the student with prompts"));
  std::filesystem::remove(marks);
  EXPECT_THAT(file("600", "records").output, HasSubstr("what the logs hold was filed before"));
  ASSERT_EQ(record_by({"export", folder.path() + "/all.zip", "--all"}).exit_code, 0);
  ASSERT_EQ(run_program({"record", "import", folder.path() + "/all.zip", "--records",
                         folder.path() + "/other", "--by", "Demo Instructor"})
                .exit_code,
            0);
  EXPECT_EQ(first_along("other"), seen);
  EXPECT_THAT(file("600", "other").output, HasSubstr("what the logs hold was filed before"));
}

TEST_F(RecordTest, WhatSomebodySawDecidesBoxAndStandard) {
  ASSERT_EQ(file_lesson({"--add-student"}).exit_code, 0);
  const auto newest = [&](const char* key) {
    const auto all = nlohmann::json::parse(record({"show", "Demo Student", "--json"}).output)
                         .at("student")
                         .at("attempts")
                         .at(0)
                         .at("assessments");
    return all.back().at(key).get<double>();
  };
  ASSERT_EQ(record_by({"correct", "Demo Student", "1", "--in-box", "no", "--reason", "seen"}).exit_code, 0);
  EXPECT_EQ(newest("probability_in_box"), 0.0);
  EXPECT_EQ(newest("probability_met"), 0.0) << "beyond the box nothing is met";
  ASSERT_EQ(record_by({"correct", "Demo Student", "1", "--met", "yes", "--reason", "seen better"}).exit_code,
            0);
  EXPECT_EQ(newest("probability_in_box"), 1.0);
  EXPECT_EQ(newest("probability_met"), 1.0);
  EXPECT_EQ(record_by({"correct", "Demo Student", "1", "--met", "yes", "--in-box", "no", "--reason", "x"})
                .exit_code,
            1);
  EXPECT_EQ(record_by({"correct", "Demo Student", "1", "--met", "yes", "--reason", "x", "--standard",
                       "us-commercial-short-field"})
                .exit_code,
            1)
      << "never judged by that";
}

TEST_F(RecordTest, NotesAndSignOffsAreShown) {
  ASSERT_EQ(file_lesson({"--add-student"}).exit_code, 0);
  EXPECT_EQ(record_by({"note", "Demo Student", "looked late", "--attempt", "2"}).exit_code, 0);
  EXPECT_EQ(record_by({"note", "Demo Student", "x", "--attempt", "77"}).exit_code, 1);
  EXPECT_EQ(
      record_by({"sign-off", "Demo Student", "--for", "accuracy landings", "--on", "2026-05-20"}).exit_code,
      2)
      << "nobody signs";
  EXPECT_EQ(record_by({"sign-off", "Demo Student", "--for", "accuracy landings", "--signed-by", "C. Demo",
                       "--on", "last week"})
                .exit_code,
            1);
  EXPECT_THAT(record_by({"sign-off", "Demo Student", "--for", "accuracy landings", "--signed-by", "C. Demo",
                         "--on", "2126-05-20"})
                  .errors,
              HasSubstr("2126-05-20: lies ahead"));
  EXPECT_EQ(record_by({"sign-off", "Demo Student", "--for", "accuracy landings", "--signed-by", "C. Demo",
                       "--on", "2026-05-20"})
                .exit_code,
            0);
  EXPECT_THAT(told(), HasSubstr("of attempt 2: looked late"));
  EXPECT_THAT(told(), HasSubstr("2026-05-20: accuracy landings, signed by C. Demo"));
  EXPECT_EQ(record_by({"sign-off", "Demo Student", "--withdraw", "1", "--signed-by", "C. Demo", "--on",
                       "2026-05-21"})
                .exit_code,
            0);
  EXPECT_THAT(told(), HasSubstr("withdrawn 2026-05-21 by C. Demo"));
  EXPECT_THAT(record({"history", "Demo Student"}).output,
              HasSubstr("sign-off 2 withdrawn, by Demo Instructor"));
}

TEST_F(RecordTest, TheTrashGivesBack) {
  ASSERT_EQ(file_lesson({"--add-student"}).exit_code, 0);
  ASSERT_EQ(record_by({"trash", "Demo Student", "--attempt", "2"}).exit_code, 0);
  EXPECT_EQ(shown().at("attempts").size(), 2U);
  ASSERT_EQ(record_by({"trash", "Demo Student"}).exit_code, 0);
  EXPECT_THAT(record({"list"}).output, HasSubstr("No students yet"));
  EXPECT_THAT(record({"list", "--trash"}).output, HasSubstr("Demo Student"));
  EXPECT_THAT(record({"show", "1"}).errors, HasSubstr("in the trash"));
  EXPECT_EQ(file_lesson({"--add-student"}).exit_code, 1) << "no second one of that name";
  EXPECT_EQ(record_by({"undo"}).exit_code, 0);
  EXPECT_EQ(record_by({"undo"}).exit_code, 0);
  EXPECT_EQ(shown().at("attempts").size(), 3U);
  EXPECT_EQ(record_by({"undo"}).exit_code, 1);
}

TEST_F(RecordTest, AnArchiveComesBackAsItWas) {
  ASSERT_EQ(file_lesson({"--add-student"}).exit_code, 0);
  ASSERT_EQ(record_by({"note", "Demo Student", "looked late", "--attempt", "2"}).exit_code, 0);
  ASSERT_EQ(record_by({"correct", "Demo Student", "1", "--met", "no", "--reason", "seen"}).exit_code, 0);
  const std::string archive = folder.path() + "/all.zip", other = folder.path() + "/other";
  ASSERT_EQ(record_by({"export", archive, "--all"}).exit_code, 0);
  EXPECT_EQ(record_by({"export", archive, "--all"}).exit_code, 1) << "nothing is written over";
  EXPECT_EQ(record_by({"export", folder.path() + "/none.zip"}).exit_code, 2) << "of whom";
  const auto bring = [&](const std::string& from) {
    return run_program({"record", "import", from, "--records", other, "--by", "Demo Instructor"});
  };
  EXPECT_THAT(bring(archive).output, HasSubstr("(new here): 3 attempts, 4 assessments, 1 note"));
  EXPECT_THAT(bring(archive).output, HasSubstr("nothing new"));
  const auto in = [&](const std::string& file) {
    return run_program({"record", "show", "Demo Student", "--json", "--records", file}).output;
  };
  EXPECT_EQ(in(other), in(folder.path() + "/records"));
  EXPECT_EQ(run_program({"record", "check", "--records", other}).exit_code, 0);
  EXPECT_EQ(bring(folder.with("x.zip", "not a zip")).exit_code, 1);
  EXPECT_EQ(bring("data/demo/reference-flight/runway.json").exit_code, 1);
}

/// What is too much for one archive goes into several, each whole for its students.
TEST_F(RecordTest, ALargeSchoolGoesIntoSeveralArchives) {
  ASSERT_EQ(file_lesson({"--add-student"}).exit_code, 0);
  ASSERT_EQ(record_by({"add", "Another Student"}).exit_code, 0);
  ASSERT_EQ(record_by({"file", "tests/data/flights/F22/F22.gpx", "--runway",
                       "-31.7246522,81.9427774,182.3,2400,7000", "--student", "Another Student"})
                .exit_code,
            0);
  const std::string archive = folder.path() + "/all.zip", second = folder.path() + "/all-2.zip";
  const auto run = record_by({"export", archive, "--all", "--part-mb", "0.01"});
  ASSERT_EQ(run.exit_code, 0) << run.errors;
  EXPECT_THAT(std::regex_replace(run.output, std::regex("\\s+"), " "), HasSubstr("2 students in 2 archives"));
  EXPECT_THAT(std::regex_replace(run.output, std::regex("\\s+"), " "),
              testing::ContainsRegex("all-2.zip: 1 student, 1 log, [0-9.]+ MB before packing"));
  EXPECT_EQ(record_by({"export", archive, "--all", "--part-mb", "much"}).exit_code, 2);
  EXPECT_EQ(record_by({"export", folder.path() + "/x.zip", "--all", "--part-mb", "9000"}).exit_code, 1);
  const std::string other = folder.path() + "/other";
  const auto bring = [&](const std::vector<std::string>& files) {
    std::vector<std::string> words = {"record", "import", "--records", other, "--by", "Demo Instructor"};
    words.insert(words.begin() + 2, files.begin(), files.end());
    return run_program(words);
  };
  const auto first = bring({archive, folder.with("x.zip", "not a zip"), second});
  EXPECT_EQ(first.exit_code, 1);
  EXPECT_THAT(first.errors, HasSubstr("x.zip: is no zip archive"));
  EXPECT_THAT(first.output, HasSubstr("Demo Student (new here): 3 attempts"));
  EXPECT_THAT(first.output, HasSubstr("Another Student (new here)"));
  EXPECT_THAT(bring({second, archive}).output, Not(HasSubstr("new here")));
  for (const char* name : {"Demo Student", "Another Student"}) {
    const auto in = [&](const std::string& file) {
      auto shown =
          nlohmann::json::parse(run_program({"record", "show", name, "--json", "--records", file}).output);
      shown.erase("number");  // here and there they may be counted in another order
      for (auto& attempt : shown["student"]["attempts"]) attempt.erase("number");
      return shown;
    };
    EXPECT_EQ(in(other), in(folder.path() + "/records")) << name;
  }
}

TEST_F(RecordTest, ATableForASpreadsheetHasARowForEachAttempt) {
  ASSERT_EQ(file_lesson({"--add-student"}).exit_code, 0);
  ASSERT_EQ(record_by({"rename", "Demo Student", "=cmd,\"x\""}).exit_code, 0);
  const std::string table = folder.path() + "/attempts.csv";
  ASSERT_EQ(record_by({"export", table, "--all"}).exit_code, 0);
  const std::string text = bytes_of(table);
  EXPECT_EQ(std::count(text.begin(), text.end(), '\n'), 4);
  EXPECT_THAT(text, HasSubstr("\"'=cmd,\"\"x\"\"\",")) << "no formula";
}

TEST_F(RecordTest, APersonIsDeletedWithACertificate) {
  ASSERT_EQ(file_lesson({"--add-student"}).exit_code, 0);
  const std::string today = iso8601_utc(static_cast<double>(std::time(nullptr)), 0).substr(0, 10);
  ASSERT_EQ(record_by({"sign-off", "Demo Student", "--for", "accuracy landings", "--signed-by", "C. Demo",
                       "--on", today})
                .exit_code,
            0);
  EXPECT_THAT(record({"remembered"}).output, HasSubstr("Nobody was deleted"));
  const std::string paper = folder.path() + "/certificate.txt";
  EXPECT_EQ(record_by({"delete", "Demo Student", "--confirm", "Demo", "--certificate", paper}).exit_code, 1);
  const auto kept =
      record_by({"delete", "Demo Student", "--confirm", "Demo Student", "--certificate", paper});
  EXPECT_EQ(kept.exit_code, 1);
  EXPECT_THAT(kept.errors, HasSubstr("three years"));
  EXPECT_EQ(record_by({"delete", "Demo Student", "--confirm", "Demo Student", "--certificate", paper,
                       "--although-kept"})
                .exit_code,
            0);
  EXPECT_THAT(bytes_of(paper), HasSubstr("3 attempts, 3 assessments"));
  EXPECT_EQ(record({"show", "Demo Student"}).exit_code, 1);
  const auto remembered = record({"remembered"}).output;
  EXPECT_THAT(remembered, HasSubstr("2026, us-commercial-power-off-180: 3 attempts counted"));
  EXPECT_THAT(remembered, Not(HasSubstr("Demo Student")));
}

/// 14 CFR 61.189(c): three years. What is older is named, and nothing goes by itself.
TEST_F(RecordTest, SaysWhoseRecordsAreOlderThanTheyNeedBeKept) {
  constexpr double k_day_s = 86400.0, k_year_s = 365.25 * k_day_s;
  const double now = static_cast<double>(std::time(nullptr));
  {
    Records records = *Records::open(folder.path() + "/records");
    for (const auto& [name, years] :
         {std::pair("Long Ago", 3.1), {"Not Long Ago", 2.9}, {"Signed Since", 3.1}})
      ASSERT_TRUE(records.add_student(name, {"Demo Instructor", now - years * k_year_s}));
    SignOff signed_off;
    signed_off.what = "accuracy landings";
    signed_off.signed_by = "C. Demo";
    signed_off.signed_on = iso8601_utc(now - 2.9 * k_year_s, 0).substr(0, 10);
    ASSERT_TRUE(records.add_sign_off(records.find_student("Signed Since")->number, signed_off,
                                     {"Demo Instructor", now - 2.9 * k_year_s}));
  }
  const auto run = record({"due"});
  EXPECT_THAT(run.output, HasSubstr("Long Ago, nothing since"));
  EXPECT_THAT(run.output, HasSubstr("Nothing is deleted by itself"));
  EXPECT_THAT(run.output, Not(HasSubstr("Not Long Ago")));
  EXPECT_THAT(run.output, Not(HasSubstr("Signed Since")));
  EXPECT_THAT(record({"due", "--years", "2"}).output, HasSubstr("Signed Since"));
  EXPECT_THAT(record({"due", "--years", "5"}).output, HasSubstr("Nobody's records are older than 5 years"));
  EXPECT_EQ(record({"due", "--years", "0"}).exit_code, 1);
  const std::string paper = folder.path() + "/certificate.txt";
  EXPECT_EQ(
      record_by({"delete", "Signed Since", "--confirm", "Signed Since", "--certificate", paper}).exit_code, 1)
      << "within the three years";
  EXPECT_EQ(record_by({"delete", "Long Ago", "--confirm", "Long Ago", "--certificate", paper}).exit_code, 0);
}

TEST_F(RecordTest, ABackupIsRestoredWhole) {
  ASSERT_EQ(file_lesson({"--add-student"}).exit_code, 0);
  const std::string copy = folder.path() + "/copy";
  ASSERT_EQ(record({"backup", copy}).exit_code, 0);
  ASSERT_EQ(record_by({"trash", "Demo Student"}).exit_code, 0);
  EXPECT_EQ(record({"restore", copy}).exit_code, 1) << "it is there";
  EXPECT_EQ(record({"restore", folder.with("x", "no records at all, " + std::string(5000, 'x')), "--replace"})
                .exit_code,
            1);
  EXPECT_THAT(record({"list"}).output, HasSubstr("No students yet")) << "as before";
  const auto run = record({"restore", copy, "--replace"});
  EXPECT_EQ(run.exit_code, 0) << run.errors;
  EXPECT_THAT(record({"list"}).output, HasSubstr("Demo Student"));
}

}  // namespace
}  // namespace glidewright
