// A folder of logs: one row for each attempt, whatever is broken beside them; stopped and gone on with.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <csignal>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "program.hpp"
#include "tests/formats/packed.hpp"
#include "tests/formats/test_files.hpp"

namespace glidewright {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using testing::HasSubstr;

/// Two good logs, one of them packed and in a folder of its own, a broken one, an empty one, and a hidden
/// file.
class Folder {
 public:
  Folder() {
    fs::create_directory(folder_.path() + "/may");
    folder_.with("a.gpx", test_file("flights/F08/F08.gpx"));
    folder_.with("may/b.kmz", zipped({{"doc.kml", test_file("flights/F11/F11.kml")}}));
    folder_.with("broken.gpx", "<gpx><trk>");
    folder_.with("empty.igc", "");
    folder_.with(".hidden", "not looked at");
  }
  std::string path() const { return folder_.path(); }
  std::string with(const std::string& name, const std::string& bytes) const {
    return folder_.with(name, bytes);
  }

 private:
  TemporaryFolder folder_;
};

json summary_of(const std::vector<std::string>& arguments) {
  const auto run = run_program(arguments);
  EXPECT_EQ(run.exit_code, 0) << run.errors;
  return json::parse(run.output);
}

TEST(DebriefFolder, ABrokenLogDoesNotStopTheRest) {
  const Folder folder;
  const auto summary = summary_of({"debrief", folder.path(), "--json"});
  EXPECT_EQ(summary.at("complete"), true);
  EXPECT_EQ(summary.at("files"), 4);
  ASSERT_EQ(summary.at("logs").size(), 2U);
  EXPECT_THAT(summary.at("logs")[0].at("file"), HasSubstr("a.gpx"));
  EXPECT_THAT(summary.at("logs")[1].at("file"), HasSubstr("may/b.kmz"));
  ASSERT_EQ(summary.at("not_debriefed").size(), 2U);
  EXPECT_THAT(summary.at("not_debriefed")[1].at("because"), HasSubstr("empty.igc: the file is empty"));
}

TEST(DebriefFolder, ARowSaysWhatTheDebriefOfTheLogSays) {
  const Folder folder;
  const auto row = summary_of({"debrief", folder.path(), "--json"}).at("logs")[0];
  const auto whole = summary_of({"debrief", folder.path() + "/a.gpx", "--json"});
  EXPECT_EQ(row.at("sha256"), whole.at("log").at("sha256"));
  ASSERT_EQ(row.at("attempts").size(), whole.at("attempts").size());
  const auto& attempt = whole.at("attempts")[0];
  // Rows are in whole feet.
  EXPECT_NEAR(row.at("attempts")[0].at("touchdown").at("along_ft").get<double>(),
              attempt.at("touchdown").at("along_ft").get<double>(), 0.51);
  EXPECT_EQ(row.at("attempts")[0].at("outcome"), attempt.at("outcome"));
  EXPECT_EQ(row.at("attempts")[0].at("verdict"), attempt.at("grades")[0].at("verdict"));
}

TEST(DebriefFolder, PrintsARowForEachAttemptAndTheReasons) {
  const Folder folder;
  const auto run = run_program({"debrief", folder.path()});
  EXPECT_EQ(run.exit_code, 0);
  EXPECT_EQ(run.errors, "");
  EXPECT_THAT(run.output, HasSubstr("a.gpx  "));
  EXPECT_THAT(run.output, HasSubstr("2 logs debriefed: 2 attempts, 2 touchdowns."));
  EXPECT_THAT(run.output, HasSubstr("Not debriefed:"));
}

TEST(DebriefFolder, TheJournalAnswersForALogThatWasDone) {
  const Folder folder;
  const std::string journal = folder.path() + "/.season.jsonl";
  const auto first = run_program({"debrief", folder.path(), "--json", "--journal", journal});
  const auto kept = bytes_of(journal);
  EXPECT_EQ(std::count(kept.begin(), kept.end(), '\n'), 4);
  // What comes from the journal is seen by changing it there.
  folder.with(".season.jsonl", replaced(kept, "\"grade\":\"good\"", "\"grade\":\"fair\""));
  const auto second = run_program({"debrief", folder.path(), "--json", "--journal", journal});
  EXPECT_NE(second.output, first.output);
  EXPECT_THAT(second.output, HasSubstr("\"fair\""));
  EXPECT_EQ(bytes_of(journal).size(), kept.size());
}

TEST(DebriefFolder, TheJournalDoesNotAnswerForOtherOptionsOrAnotherLog) {
  const Folder folder;
  const std::string journal = folder.path() + "/.season.jsonl";
  run_program({"debrief", folder.path(), "--journal", journal});
  const auto lines = [&] {
    const auto kept = bytes_of(journal);
    return std::count(kept.begin(), kept.end(), '\n');
  };
  ASSERT_EQ(lines(), 4);
  run_program({"debrief", folder.path(), "--journal", journal, "--touchdown-point-ft", "600"});
  EXPECT_EQ(lines(), 8);
  folder.with("a.gpx", test_file("flights/F02/F02.gpx"));
  const auto summary = summary_of({"debrief", folder.path(), "--journal", journal, "--json"});
  EXPECT_EQ(lines(), 9);
  EXPECT_THAT(summary.at("logs")[0].at("attempts")[0].at("time"), HasSubstr("2026-05-14"));
}

/// What the school's records say of airplane and runway is part of the question; who else is in them is not.
TEST(DebriefFolder, TheJournalAnswersForTheRecordsAirplaneAndRunwayAsTheyWere) {
  const Folder folder;
  const std::string journal = folder.path() + "/.season.jsonl", records = folder.path() + "/.records";
  const auto record = [&](std::vector<std::string> words) {
    words.insert(words.begin(), "record");
    words.insert(words.end(), {"--records", records, "--by", "Demo Instructor"});
    const auto run = run_program(words);
    ASSERT_EQ(run.exit_code, 0) << run.errors;
  };
  const std::string runway_file = "data/demo/reference-flight/runway.json";
  record({"airplane", "add", "Demo 1", "demo-trainer"});
  record({"airplane", "add", "Demo 2", "demo-trainer"});
  record({"airfield", "add", "Home", runway_file});
  const auto rows_after_another_run = [&] {
    run_program({"debrief", folder.path(), "--journal", journal, "--records", records, "--airplane", "Demo 1",
                 "--runway", "Home"});
    const auto kept = bytes_of(journal);
    return std::count(kept.begin(), kept.end(), '\n');
  };
  ASSERT_EQ(rows_after_another_run(), 4);
  EXPECT_EQ(rows_after_another_run(), 4) << "nothing has changed";
  json profile = json::parse(bytes_of(k_clone / "data/airplanes/demo-trainer.json"));
  profile["best_glide_ratio"]["value"] = 8.8;
  const std::string changed = folder.with(".changed.json", profile.dump());
  record({"add", "Demo Student"});
  record({"airplane", "change", "Demo 2", changed, "--reason", "timed"});
  EXPECT_EQ(rows_after_another_run(), 4) << "neither is asked about";
  record({"airplane", "change", "Demo 1", changed, "--reason", "timed"});
  EXPECT_EQ(rows_after_another_run(), 8) << "another version of the airplane";
  json runway = json::parse(bytes_of(k_clone / runway_file));
  runway["elevation_ft"] = runway["elevation_ft"].get<double>() + 10.0;
  record({"airfield", "change", "Home", folder.with(".runway.json", runway.dump()), "--reason", "surveyed"});
  EXPECT_EQ(rows_after_another_run(), 12) << "another version of the runway";
}

TEST(DebriefFolder, GoesOnAfterItWasStopped) {
  const TemporaryFolder folder;
  const auto log = test_file("flights/F22/F22.gpx");
  constexpr int k_logs = 60;
  for (int i = 0; i < k_logs; ++i) folder.with(std::to_string(100 + i) + ".gpx", log);
  const std::string journal = folder.path() + "/.season.jsonl";
  const program::File output(std::tmpfile(), &std::fclose);
  const program::File errors(std::tmpfile(), &std::fclose);
  const auto process = program::start({"debrief", folder.path(), "--json", "--journal", journal}, {},
                                      fileno(output.get()), fileno(errors.get()));
  // Stopped once the first row is kept, whenever that is.
  while (!fs::exists(journal) || fs::file_size(journal) == 0) usleep(1000);
  kill(process, SIGINT);
  const int exit_code = program::exit_code_of(process);
  const auto stopped = json::parse(program::content_of(output.get()));
  EXPECT_EQ(stopped.at("files"), k_logs);
  if (stopped.at("complete") == false) {
    EXPECT_EQ(exit_code, 1);
    EXPECT_THAT(program::content_of(errors.get()), HasSubstr("the same command goes on from there"));
  }
  const auto whole = summary_of({"debrief", folder.path(), "--json", "--journal", journal});
  EXPECT_EQ(whole.at("complete"), true);
  EXPECT_EQ(whole.at("logs").size(), std::size_t{k_logs});
}

TEST(DebriefFolder, SaysWhenNothingIsThere) {
  const TemporaryFolder folder;
  const auto run = run_program({"debrief", folder.path()});
  EXPECT_EQ(run.exit_code, 1);
  EXPECT_THAT(run.errors, HasSubstr("no file in this folder"));
  const auto report = run_program({"debrief", folder.path(), "--report", "a.html"});
  EXPECT_EQ(report.exit_code, 2);
}

}  // namespace
}  // namespace glidewright
