// Report and ramp card as PDF, read back with poppler's tools: what is on paper is what the JSON says.

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cctype>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <nlohmann/json.hpp>
#include <regex>
#include <string>
#include <vector>

#include "formats/words/numbers.hpp"
#include "formats/words/sentences.hpp"
#include "tests/apps/program.hpp"
#include "tests/formats/test_files.hpp"

namespace glidewright {
namespace {

using nlohmann::json;
using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;
using Arguments = std::vector<std::string>;

/// A folder of its own that goes with the test.
class Folder {
 public:
  Folder() {
    std::string name = std::filesystem::temp_directory_path() / "glidewright-paper-XXXXXX";
    path_ = mkdtemp(name.data());
  }
  ~Folder() { std::filesystem::remove_all(path_); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  std::string file(const std::string& name) const { return path_ / name; }
  std::ptrdiff_t files() const {
    return std::distance(std::filesystem::directory_iterator(path_), std::filesystem::directory_iterator());
  }

 private:
  std::filesystem::path path_;
};

std::string output_of(const std::string& command) {
  const std::unique_ptr<FILE, int (*)(FILE*)> pipe(popen(command.c_str(), "r"), pclose);
  std::string output;
  for (int c = fgetc(pipe.get()); c != EOF; c = fgetc(pipe.get())) output += static_cast<char>(c);
  return output;
}

/// Without its blanks: where a line ends is the layout's business.
std::string close_set(const std::string& text) {
  std::string close;
  for (const char c : text)
    if (!std::isspace(static_cast<unsigned char>(c))) close += c;
  return close;
}

/// In the order in which it was drawn, so that columns do not mix.
std::string words_on(const std::string& pdf) {
  return close_set(output_of("pdftotext -raw '" + pdf + "' -"));
}

struct Pages {
  int count = 0;
  double width_pt = 0.0;
  double height_pt = 0.0;
};

Pages pages_of(const std::string& pdf) {
  const std::string about = output_of("pdfinfo '" + pdf + "'");
  Pages pages;
  std::smatch found;
  if (std::regex_search(about, found, std::regex(R"(Pages:\s+(\d+))"))) pages.count = std::stoi(found[1]);
  if (std::regex_search(about, found, std::regex(R"(Page size:\s+([\d.]+) x ([\d.]+))"))) {
    pages.width_pt = std::stod(found[1]);
    pages.height_pt = std::stod(found[2]);
  }
  return pages;
}

/// Every word lies whole on its page, a quarter of an inch from its edges, where printers still print.
void expect_nothing_cut_off(const std::string& pdf) {
  constexpr double printable_pt = 12.0;
  const std::string boxes = output_of("pdftotext -bbox '" + pdf + "' -");
  const Pages pages = pages_of(pdf);
  const std::regex word(R"re(xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">([^<]*))re");
  int words = 0;
  for (std::sregex_iterator one(boxes.begin(), boxes.end(), word), end; one != end; ++one, ++words) {
    const auto& found = *one;
    EXPECT_GE(std::stod(found[1]), printable_pt) << found[5];
    EXPECT_GE(std::stod(found[2]), printable_pt) << found[5];
    EXPECT_LE(std::stod(found[3]), pages.width_pt - printable_pt) << found[5];
    EXPECT_LE(std::stod(found[4]), pages.height_pt - printable_pt) << found[5];
  }
  EXPECT_GT(words, 50);
}

/// The demonstration's flight of three landings, the third of them seen.
Arguments lesson(const std::string& report) {
  return {"debrief",
          "data/demo/reference-flight/touch-and-goes.gpx",
          "--runway",
          "data/demo/reference-flight/runway.json",
          "--touchdown-point-ft",
          "600",
          "--wind",
          "210/9",
          "--touchdown-seen",
          "3:+90~15",
          "--json",
          "--report",
          report};
}

Arguments plan(const std::string& wind, const Arguments& more) {
  Arguments arguments{"brief",  "--runway", "data/demo/harrow-fen-24.json", "--airplane", "demo-trainer",
                      "--wind", wind};
  arguments.insert(arguments.end(), more.begin(), more.end());
  return arguments;
}

TEST(PaperReport, ThreeAttemptsPrintOnTwoPagesOfA4) {
  const Folder folder;
  const std::string pdf = folder.file("lesson.pdf");
  ASSERT_EQ(run_program(lesson(pdf)).exit_code, 0);
  EXPECT_THAT(bytes_of(pdf), StartsWith("%PDF-"));
  const Pages pages = pages_of(pdf);
  EXPECT_LE(pages.count, 2);
  EXPECT_NEAR(pages.width_pt, 595.28, 0.1);  // ISO 216: 210 x 297 mm
  EXPECT_NEAR(pages.height_pt, 841.89, 0.1);
  EXPECT_EQ(folder.files(), 1) << "a temporary file was left";
}

TEST(PaperReport, SaysWhatTheJsonSays) {
  const Folder folder;
  const std::string pdf = folder.file("lesson.pdf");
  const auto run = run_program(lesson(pdf));
  ASSERT_EQ(run.exit_code, 0) << run.errors;
  const json debrief = json::parse(run.output);
  const std::string words = words_on(pdf);
  const auto expect_said = [&](const std::string& text) {
    EXPECT_NE(words.find(close_set(text)), std::string::npos) << text;
  };
  ASSERT_EQ(debrief.at("attempts").size(), 3u);
  for (const json& attempt : debrief.at("attempts")) {
    expect_said(fmt::format("Attempt {}", attempt.at("index").get<int>()));
    const json& touchdown = attempt.at("touchdown");
    expect_said(
        feet_with_interval(touchdown.at("along_ft"), touchdown.at("low95_ft"), touchdown.at("high95_ft")));
    for (const json& finding : attempt.at("findings")) expect_said(finding.at("sentence"));
    ASSERT_FALSE(attempt.at("causes").empty());
    for (const json& cause : attempt.at("causes")) {
      expect_said(cause.at("sentence"));
      expect_said(signed_feet(cause.at("effect_ft")));
    }
    for (const json& grade : attempt.at("grades"))
      if (grade.at("box").is_null()) expect_said(grade.at("source_state"));
    expect_said(attempt.at("airmanship").at("verdict"));
    expect_said(attempt.at("lesson"));
  }
  for (const json& assumed : debrief.at("assumed")) expect_said(assumed);
  expect_said(debrief.at("log").at("sha256"));
  expect_said(debrief_safety_sentence());
  EXPECT_LT(words.find("Safetyfirst"), words.find("Runwayruler"));
}

TEST(PaperReport, CutsNothingOff) {
  const Folder folder;
  const std::string pdf = folder.file("lesson.pdf");
  ASSERT_EQ(run_program(lesson(pdf)).exit_code, 0);
  expect_nothing_cut_off(pdf);
}

TEST(PaperReport, SameLogSameBytes) {
  const Folder folder;
  ASSERT_EQ(run_program(lesson(folder.file("one.pdf"))).exit_code, 0);
  ASSERT_EQ(run_program(lesson(folder.file("two.pdf"))).exit_code, 0);
  EXPECT_TRUE(bytes_of(folder.file("one.pdf")) == bytes_of(folder.file("two.pdf")));
  // Two runs within one second would hide a clock.
  EXPECT_THAT(bytes_of(folder.file("one.pdf")), Not(HasSubstr("/CreationDate")));
}

TEST(PaperReport, SetsWhatIsForeignAsWords) {
  const Folder folder;
  const std::string log = folder.file("a <b> & c.gpx"), pdf = folder.file("lesson.pdf");
  std::filesystem::copy_file(k_clone / "data/demo/reference-flight/touch-and-goes.gpx", log);
  ASSERT_EQ(run_program({"debrief", log, "--report", pdf}).exit_code, 0);
  EXPECT_THAT(words_on(pdf), HasSubstr(close_set("a <b> & c.gpx")));
}

TEST(PaperReport, WhereItCannotBeWrittenSaysSo) {
  const Folder folder;
  const auto run = run_program(lesson(folder.file("missing/lesson.pdf")));
  EXPECT_EQ(run.exit_code, 1);
  EXPECT_THAT(run.errors, HasSubstr("no such file or folder"));
  EXPECT_EQ(run.output, "");
  EXPECT_EQ(folder.files(), 0);
}

TEST(PaperCard, IsOnePageOfA5WithThePlansNumbers) {
  const Folder folder;
  const std::string pdf = folder.file("card.pdf");
  const auto run = run_program(plan("270/10", {"--json", "--card", pdf}));
  ASSERT_EQ(run.exit_code, 0) << run.errors;
  const Pages pages = pages_of(pdf);
  EXPECT_EQ(pages.count, 1);
  EXPECT_NEAR(pages.width_pt, 419.53, 0.1);  // ISO 216: 148 x 210 mm
  EXPECT_NEAR(pages.height_pt, 595.28, 0.1);
  expect_nothing_cut_off(pdf);
  const std::string words = words_on(pdf);
  const json brief = json::parse(run.output);
  EXPECT_THAT(words, HasSubstr(fmt::format("{:.0f}spastabeam",
                                           brief.at("cue").at("seconds_past_abeam").get<double>())));
  EXPECT_THAT(words,
              HasSubstr(whole(brief.at("cue").at("angle_behind_wing_deg").get<double>()) + "°behindthewing"));
  for (const json& point : brief.at("key_points"))
    EXPECT_THAT(words, HasSubstr(feet(point.at("height_ft").get<double>()))) << point;
  EXPECT_THAT(words, HasSubstr(close_set("Any one missing: go around.")));
  EXPECT_THAT(words, HasSubstr(close_set(safety_sentence())));
}

TEST(PaperCard, ForThePhoneIsOnePageAsWideAsOne) {
  const Folder folder;
  const std::string pdf = folder.file("card.pdf");
  ASSERT_EQ(run_program(plan("240/12", {"--quick", "--card", pdf, "--card-size", "phone"})).exit_code, 0);
  const Pages pages = pages_of(pdf);
  EXPECT_EQ(pages.count, 1);
  EXPECT_LT(pages.width_pt, 300.0);
  EXPECT_GT(pages.height_pt, pages.width_pt);
  expect_nothing_cut_off(pdf);
}

TEST(PaperCard, SamePlanSameBytes) {
  const Folder folder;
  for (const char* name : {"one.pdf", "two.pdf"})
    ASSERT_EQ(run_program(plan("270/10", {"--quick", "--card", folder.file(name)})).exit_code, 0);
  EXPECT_TRUE(bytes_of(folder.file("one.pdf")) == bytes_of(folder.file("two.pdf")));
}

TEST(PaperCard, WithoutAPlanSaysWhyAndOffersNoNumber) {
  const Folder folder;
  const std::string pdf = folder.file("card.pdf");
  EXPECT_EQ(run_program(plan("060/20", {"--card", pdf})).exit_code, 1);
  const std::string words = words_on(pdf);
  EXPECT_THAT(words, HasSubstr("Noplanisoffered"));
  EXPECT_THAT(words, Not(HasSubstr("pastabeam")));
}

TEST(PaperCard, AnUnknownSizeOrEndingIsRefused) {
  const Folder folder;
  const auto size = run_program(plan("270/10", {"--card", folder.file("card.pdf"), "--card-size", "a3"}));
  EXPECT_EQ(size.exit_code, 2);
  EXPECT_THAT(size.errors, HasSubstr("--card-size"));
  const auto html = run_program(plan("270/10", {"--card", folder.file("card.html"), "--card-size", "a5"}));
  EXPECT_EQ(html.exit_code, 2);
  EXPECT_THAT(html.errors, HasSubstr("--card-size goes with --card FILE.pdf"));
  const auto ending = run_program(plan("270/10", {"--card", folder.file("card.txt")}));
  EXPECT_EQ(ending.exit_code, 2);
  EXPECT_THAT(ending.errors, HasSubstr("ends in .html or .pdf"));
  EXPECT_EQ(folder.files(), 0);
}

}  // namespace
}  // namespace glidewright
