// Bad input is normal: one plain sentence on standard error, nothing on standard output, and the exit code
// that says whose fault it is.

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "program.hpp"
#include "tests/formats/test_files.hpp"
#include "tests/where.hpp"

namespace glidewright {
namespace {

using Arguments = std::vector<std::string>;

constexpr const char* k_log = "tests/data/flights/F08/F08.gpx";
constexpr const char* k_runway = "data/demo/harrow-fen-24.json";

/// One line that names the program and `what`; nothing else anywhere.
void expect_one_sentence(const Arguments& arguments, int exit_code, const std::string& what) {
  SCOPED_TRACE(testing::PrintToString(arguments));
  const auto run = run_program(arguments);
  EXPECT_EQ(run.exit_code, exit_code);
  EXPECT_EQ(run.output, "");
  EXPECT_EQ(run.errors.rfind("glidewright: ", 0), 0U) << run.errors;
  EXPECT_EQ(std::count(run.errors.begin(), run.errors.end(), '\n'), 1) << run.errors;
  EXPECT_EQ(run.errors.find("should not have happened"), std::string::npos) << run.errors;
  EXPECT_NE(run.errors.find(what), std::string::npos) << run.errors << "does not say: " << what;
}

void expect_input_at_fault(const Arguments& arguments, const std::string& what) {
  expect_one_sentence(arguments, 1, what);
}

void expect_wrong_usage(const Arguments& arguments, const std::string& what) {
  expect_one_sentence(arguments, 2, what);
}

/// A log with these bytes is refused, and the sentence names the file.
void expect_log_refused(const std::string& name, const std::string& bytes, const std::string& what) {
  const TemporaryFolder folder;
  const auto path = folder.with(name, bytes);
  expect_input_at_fault({"debrief", path}, path);
  expect_input_at_fault({"debrief", path}, what);
}

std::string reference_log() {
  return bytes_of(k_clone / k_log);
}

/// The reference log with only its first fixes, ended as it should be.
std::string first_fixes(int count) {
  const auto whole = reference_log();
  std::size_t end = whole.find("<trkpt");
  for (int i = 0; i < count; ++i) end = whole.find("</trkpt>", end) + 8;
  return whole.substr(0, end) + whole.substr(whole.rfind("</trkpt>") + 8);
}

TEST(BadLog, ThatIsEmptyIsRefused) {
  expect_log_refused("empty.gpx", "", "the file is empty");
  expect_log_refused("blank.gpx", " \n\t\n", "the file is empty");
}

TEST(BadLog, ThatIsNoTrackIsCalledWhatItIs) {
  expect_log_refused("a.gpx", "%PDF-1.4\n%\xE2\xE3\xCF\xD3\n", "is a PDF");
  expect_log_refused("a.gpx", "<!DOCTYPE html><html><body>Sign in</body></html>", "is an HTML page");
  expect_log_refused("a.gpx", std::string("\x01\x00\x02\x00\x7F\x45", 6) + std::string(3000, '\0'),
                     "is binary");
  expect_log_refused("a.zip", "PK\x03\x04 and so on", "zip archive is damaged");
  expect_log_refused("a.json", "{\"type\": \"Feature\"}", "looks like JSON");
  expect_log_refused("a.txt", "Dear instructor,\nthis is not a log.\n", "expected");
}

TEST(BadLog, WithoutPlacesIsRefused) {
  expect_log_refused("none.gpx", first_fixes(0), "<trkpt>");
  expect_log_refused("one.gpx", first_fixes(1), "expected at least 2");
  expect_input_at_fault({"debrief", "tests/data/flights/F08/F08_avionics.csv"}, "without positions");
}

TEST(BadLog, WithALatitudeOutOfRangeIsRefusedWithItsLine) {
  const auto whole = reference_log();
  const auto at = whole.find("lat=\"", whole.size() / 2);
  const auto line =
      std::to_string(1 + std::count(whole.begin(), whole.begin() + static_cast<long>(at), '\n'));
  auto wrong = whole;
  wrong.replace(at, whole.find('"', at + 5) + 1 - at, "lat=\"-95.0\"");
  expect_log_refused("latitude.gpx", wrong, ":" + line + ": latitude -95.0; expected -90 to 90");
}

TEST(BadLog, WhoseTimeRunsBackwardsIsRefused) {
  const auto lines = lines_of(bytes_of(k_clone / "tests/data/flights/F08/F08.csv"));
  std::string backwards = lines.front() + "\n";
  for (auto line = lines.rbegin(); line + 1 != lines.rend(); ++line) backwards += *line + "\n";
  expect_log_refused("backwards.csv", backwards, "time runs backwards");
}

/// 100 s after the start the airplane is still climbing.
TEST(BadLog, WithoutAnApproachIsRefused) {
  expect_log_refused("climb.gpx", first_fixes(100), "no approach");
}

TEST(BadLog, ThatIsCutOffKeepsWhatCanBeReadAndSaysSo) {
  const TemporaryFolder folder;
  const auto path = folder.with("cut.gpx", reference_log().substr(0, 20000));
  const auto run = run_program({"debrief", path});
  EXPECT_EQ(run.exit_code, 0) << run.errors;
  EXPECT_EQ(run.errors, "");
  EXPECT_NE(run.output.find("the file ends inside a tag; the 195 fixes before it are kept"),
            std::string::npos)
      << run.output;
}

/// Nothing is printed of the good log that stands before a bad one.
TEST(BadLog, AmongSeveralLeavesStandardOutputEmpty) {
  const TemporaryFolder folder;
  expect_input_at_fault({"debrief", k_log, folder.with("empty.gpx", "")}, "empty.gpx");
}

TEST(BadFile, ThatIsMissingOrAFolderIsRefused) {
  // A folder of logs is debriefed as a whole; everywhere else a file is meant.
  expect_input_at_fault({"debrief", "tests/no-such.json"}, "tests/no-such.json: no such file");
  for (const Arguments& before : {Arguments{"debrief", k_log, "--with"},
                                  {"debrief", k_log, "--runway"},
                                  {"debrief", k_log, "--airplane"},
                                  {"debrief", k_log, "--standard"},
                                  {"fly", "--technique"}}) {
    auto arguments = before;
    arguments.emplace_back("tests/no-such.json");
    expect_input_at_fault(arguments, "tests/no-such.json: no such file");
    arguments.back() = "tests/data";
    expect_input_at_fault(arguments, "tests/data: is a folder");
  }
}

TEST(BadFile, OfTheWrongKindIsRefused) {
  expect_input_at_fault({"brief", "--wind", "calm", "--runway", k_log}, k_log);
  expect_input_at_fault({"fly", "--airplane", k_runway}, k_runway);
  expect_input_at_fault({"debrief", k_log, "--with", k_log}, k_log);
  expect_input_at_fault({"debrief", k_log, "--with", "tests/data/flights/glide.csv"}, "glide.csv");
}

TEST(BadStandard, IsRefusedWithTheFieldOrTheName) {
  const TemporaryFolder folder;
  const std::string reversed =
      folder.with("house.json", replaced(bytes_of(where::data() + "/demo/house-standard.json"),
                                         "\"high_ft\": 300", "\"high_ft\": -300"));
  expect_input_at_fault({"debrief", k_log, "--standard", reversed},
                        "house.json:8: box from -100 to -300 ft; expected the low end first");
  expect_input_at_fault({"debrief", k_log, "--standard", "data/demo/house-standard.json", "--standard",
                         "data/demo/house-standard.json"},
                        "a standard called house-standard is already named");
}

TEST(BadPlan, IsRefused) {
  const TemporaryFolder folder;
  const std::string plan =
      folder.with("plan.json", run_program({"brief", "--runway", k_runway, "--airplane", "demo-trainer",
                                            "--wind", "270/10", "--quick", "--json"})
                                   .output);
  const auto asked = [&](Arguments more) {
    more.insert(more.begin(), {"debrief", k_log, "--plan"});
    return more;
  };
  expect_input_at_fault(asked({folder.path() + "/none.json"}), "no such file");
  expect_input_at_fault(asked({k_runway}), "no saved plan");
  expect_input_at_fault(asked({plan, "--touchdown-point-ft", "600"}), "the plan is for 1000 ft");
  expect_input_at_fault(asked({plan, "--airplane", "generic-low-wing"}),
                        "the plan is for the airplane demo-trainer");
  // Its own runway, where none is named: this log is from elsewhere.
  expect_input_at_fault(asked({plan}), "5 NM of the runway");
}

TEST(BadRunway, IsRefused) {
  expect_input_at_fault({"debrief", k_log, "--runway", "51,0,240,100,4000"}, "within 5 NM of the runway");
  expect_input_at_fault({"debrief", k_log, "--runway", "51,0,240,100"}, "five numbers");
  expect_input_at_fault({"debrief", k_log, "--runway", "91,0,240,100,4000"},
                        "latitude 91; expected -90 to 90");
  expect_input_at_fault({"brief", "--wind", "calm", "--runway", "51,0,240,100,nan"}, "length");
  expect_input_at_fault({"brief", "--wind", "calm", "--runway", k_runway, "--touchdown-point-ft", "4200"},
                        "past the end of the runway");
}

TEST(BadWind, IsRefused) {
  for (const char* wind :
       {"400/10", "abc", "240/200", "240", "240/", "/10", "-10/5", "240/nan", "240/12G8"}) {
    expect_input_at_fault({"brief", "--runway", k_runway, "--wind", wind}, "--wind: wind");
    expect_input_at_fault({"debrief", k_log, "--wind", wind}, "--wind: wind");
    expect_input_at_fault({"fly", "--wind", wind}, "--wind: wind");
  }
}

struct ImpossibleNumber {
  std::string field;  ///< the profile is changed behind this
  std::string from;
  std::string to;
  std::string what;
};

/// From the demonstration's airplane: stall 50 kt flaps up, best glide 70 kt, 9.1 to 1.
TEST(BadAirplane, WithImpossibleNumbersIsRefused) {
  const auto good = bytes_of(k_clone / "data/airplanes/demo-trainer.json");
  for (const auto& [field, from, to, what] :
       {ImpossibleNumber{"best_glide_speed_kcas", "70", "45",
                         "best glide 45 kt lies below the stall at 50 kt; expected 60 to 110 kt"},
        {"best_glide_ratio", "9.1", "40", "best glide ratio 40"},
        {"best_glide_ratio", "9.1", "0", "best_glide_ratio 0"},
        {"maximum_speed_kcas", "110", "40", "flap limit 40 kt"},
        {"approach_speed_kcas", "65", "40", "approach speed 40 kt"},
        {"maximum_weight_lb", "2500", "-1", "maximum_weight_lb -1"},
        {"landing_flap_deg", "30", "25", "landing flap 25"}}) {
    SCOPED_TRACE(what);
    auto wrong = good;
    const auto at = wrong.find("\"value\": " + from, wrong.find("\"" + field + "\""));
    ASSERT_NE(at, std::string::npos);
    wrong.replace(at + 9, from.size(), to);
    const TemporaryFolder folder;
    const auto path = folder.with("wrong.json", wrong);
    expect_input_at_fault({"fly", "--airplane", path}, what);
    expect_input_at_fault({"brief", "--runway", k_runway, "--wind", "calm", "--airplane", path}, what);
    expect_input_at_fault({"debrief", k_log, "--airplane", path}, what);
  }
}

TEST(BadName, GetsTheNamesThatAreKnown) {
  expect_input_at_fault({"debrief", k_log, "--standard", "no-such"}, "us-commercial-power-off-180");
  expect_input_at_fault({"brief", "--runway", k_runway, "--wind", "calm", "--standard", "no-such"},
                        "'no-such'");
  expect_input_at_fault({"fly", "--airplane", "no-such"}, "generic-trainer");
}

/// A standard that limits something else than feet from the point gives nothing to aim for.
TEST(BadName, OfAStandardWithoutABoxCannotBePlannedFor) {
  expect_input_at_fault(
      {"brief", "--runway", k_runway, "--wind", "calm", "--standard", "eu-uk-approach-speed"},
      "no touchdown limit");
}

TEST(BadNumber, OutOfRangeIsRefused) {
  for (const auto& [option, value] : {std::pair("--temperature-c", "200"),
                                      {"--temperature-c", "nan"},
                                      {"--weight-lb", "-5"},
                                      {"--touchdown-point-ft", "-1"},
                                      {"--pattern-height-ft", "100000"},
                                      {"--spacing-nm", "0"},
                                      {"--pattern-speed-kt", "inf"},
                                      {"--altimeter-hpa", "29.92"},
                                      {"--altimeter-inhg", "1013"}}) {
    expect_input_at_fault({"brief", "--runway", k_runway, "--wind", "calm", option, value}, option);
  }
  expect_input_at_fault({"fly", "--base-turn-s", "1e9"}, "--base-turn-s");
}

TEST(WrongUsage, SaysWhatAndWhereHelpIs) {
  expect_wrong_usage({"debrief", k_log, "--no-such-option"}, "--no-such-option");
  expect_wrong_usage({"debrief", k_log, "--no-such-option"}, "see glidewright debrief --help");
  expect_wrong_usage({"no-such-command"}, "see glidewright --help");
  expect_wrong_usage({"--json"}, "--json");
  expect_wrong_usage({"demo", "more"}, "more");
}

TEST(WrongUsage, IsToLeaveOutWhatIsNeeded) {
  expect_wrong_usage({"brief", "--runway", k_runway}, "brief needs the wind: --wind 240/12, or --metar");
  expect_wrong_usage({"debrief", k_log, "--report", "page.txt"}, "ends in .html or .pdf");
  expect_wrong_usage({"brief", "--wind", "calm"}, "--runway is required");
  expect_wrong_usage({"debrief"}, "LOG is required");
  expect_wrong_usage({"fly", "--trace"}, "--json");
}

TEST(WrongUsage, IsToSayTwoThingsThatExcludeEachOther) {
  const Arguments both = {"--altimeter-hpa", "1013", "--altimeter-inhg", "29.92"};
  for (const Arguments& before :
       {Arguments{"brief", "--runway", k_runway, "--wind", "calm"}, {"debrief", k_log}, {"fly"}}) {
    auto arguments = before;
    arguments.insert(arguments.end(), both.begin(), both.end());
    expect_wrong_usage(arguments, "--altimeter-hpa excludes --altimeter-inhg");
  }
  expect_wrong_usage({"debrief", k_log, "--picture", "--no-picture"}, "excludes");
  expect_wrong_usage({"debrief", k_log, k_log, "--with", "tests/data/flights/F08/F08_avionics.csv"},
                     "one log");
}

TEST(WrongUsage, IsAValueOfTheWrongKind) {
  expect_wrong_usage({"fly", "--base-turn-s", "soon"}, "--base-turn-s = soon");
  expect_wrong_usage({"fly", "--traffic", "up"}, "--traffic");
}

/// A shell makes nothing of a variable that is not set; taken as "not given" it would change the answer
/// unseen.
TEST(WrongUsage, IsAnEmptyValue) {
  expect_wrong_usage({"brief", "--runway", "", "--wind", "calm"}, "--runway is empty");
  expect_wrong_usage({"debrief", k_log, "--wind", ""}, "--wind is empty");
  expect_wrong_usage({"debrief", k_log, "--standard", "us-commercial-normal", "--standard", ""},
                     "--standard is empty");
  expect_wrong_usage({"debrief", ""}, "LOG is empty");
  expect_wrong_usage({"fly", "--weight-lb", ""}, "--weight-lb is empty");
}

/// A table of glides with these bytes is refused, and the sentence names the place.
void expect_glides_refused(const std::string& bytes, const std::string& what) {
  const TemporaryFolder folder;
  expect_input_at_fault({"fit", folder.with("glides.csv", bytes), "--airplane", "demo-trainer"}, what);
}

TEST(BadGlides, AreRefusedWithTheirPlace) {
  expect_glides_refused("", "the file is empty");
  expect_glides_refused("cas_kt,sink_fpm\n70,800\n70,x\n", "glides.csv:3: column sink_fpm: 'x' is no number");
  expect_glides_refused("cas_kt,sink_fpm\n", "none of its 0 glides");
  expect_glides_refused("cas_kt,sink_fpm,flap_deg\n110,1900,30\n", "1 are faster than the flap's limit");
  expect_glides_refused("cas_kt,flap_deg\n70,0\n", "a table of glides would name columns");
  expect_input_at_fault({"fit", "no-such.csv"}, "no-such.csv: no such file");
  expect_input_at_fault({"fit", "tests/data/flights/F08/F08.gpx"}, "expected");
  expect_input_at_fault({"fit", "tests/data/flights/F08/F08.csv"}, "no panel column");
}

TEST(BadGlides, AreNotCountedTwice) {
  const char* table = "tests/data/flights/glide.csv";
  expect_input_at_fault({"fit", table, table}, "is the same log as");
  const TemporaryFolder folder;
  const std::string profile = folder.path() + "/club.json";
  ASSERT_EQ(run_program({"fit", table, "--airplane", "demo-trainer", "--write", profile}).exit_code, 0);
  expect_input_at_fault({"fit", table, "--airplane", profile}, "fitted from that log already");
}

TEST(FittedProfile, IsWrittenOnceAndReadByTheOtherCommands) {
  const TemporaryFolder folder;
  const std::string profile = folder.path() + "/club.json";
  const Arguments fit = {"fit",  "tests/data/flights/glide.csv", "--airplane", "demo-trainer", "--write",
                         profile};
  ASSERT_EQ(run_program(fit).exit_code, 0);
  const std::string first = bytes_of(profile);
  expect_input_at_fault(fit, "is there already; --force replaces it");
  EXPECT_EQ(bytes_of(profile), first);
  Arguments forced = fit;
  forced.push_back("--force");
  EXPECT_EQ(run_program(forced).exit_code, 0);
  const auto brief = run_program({"brief", "--runway", k_runway, "--wind", "calm", "--airplane", profile});
  EXPECT_EQ(brief.exit_code, 0) << brief.errors;
  EXPECT_NE(brief.output.find("269 logged glides leave its drag open by 2.0 %"), std::string::npos)
      << brief.output;
  expect_wrong_usage({"fit", "--force"}, "--write");
  expect_input_at_fault({"fit", "--write", folder.path() + "/other.json"}, "nothing to write");
  expect_input_at_fault({"fit", "tests/data/flights/glide.csv", "--write", folder.path() + "/no/such.json"},
                        "no such file or folder");
}

TEST(NoPlan, IsTheInputsFaultAndItsReasonsAreStillPrinted) {
  const auto run = run_program({"brief", "--runway", k_runway, "--wind", "90/10"});
  EXPECT_EQ(run.exit_code, 1);
  EXPECT_EQ(run.errors.rfind("glidewright: no plan is offered: Tailwind", 0), 0U) << run.errors;
  EXPECT_EQ(std::count(run.errors.begin(), run.errors.end(), '\n'), 1) << run.errors;
  EXPECT_NE(run.output.find("Tailwind"), std::string::npos) << run.output;
  EXPECT_EQ(run.output.find("Six numbers"), std::string::npos) << run.output;
}

/// Set to a wrong folder, the program must not work on with other data than was meant.
TEST(BadDataFolder, IsRefused) {
  const auto run = run_program({"fly"}, {"GLIDEWRIGHT_DATA=tests"});
  EXPECT_EQ(run.exit_code, 1);
  EXPECT_EQ(run.output, "");
  EXPECT_NE(run.errors.find("GLIDEWRIGHT_DATA"), std::string::npos) << run.errors;
}

}  // namespace
}  // namespace glidewright
