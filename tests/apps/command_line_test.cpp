// What every command gives: help with examples that run, pictures for terminals only, characters that the
// reader's terminal has, and no number that is none.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <regex>
#include <string>
#include <vector>

#include "program.hpp"

namespace glidewright {
namespace {

using testing::HasSubstr;
using testing::Not;
using Arguments = std::vector<std::string>;

const Arguments k_demo_debrief = {"debrief",
                                  "data/demo/reference-flight/touch-and-goes.gpx",
                                  "--runway",
                                  "data/demo/reference-flight/runway.json",
                                  "--touchdown-point-ft",
                                  "600",
                                  "--wind",
                                  "210/9"};

Arguments with(Arguments arguments, const std::string& option) {
  arguments.push_back(option);
  return arguments;
}

std::string help_of(const std::string& command) {
  const auto run = run_program({command, "--help"});
  EXPECT_EQ(run.exit_code, 0) << command;
  EXPECT_EQ(run.errors, "") << command;
  return run.output;
}

/// The examples of a command's help, each as it would be typed.
std::vector<std::string> examples_of(const std::string& command) {
  std::vector<std::string> examples;
  for (const auto& line : lines_of(help_of(command))) {
    const std::string before = "  glidewright ";
    if (line.rfind(before, 0) == 0) examples.push_back(line.substr(before.size()));
  }
  return examples;
}

TEST(Help, OfTheProgramNamesItsCommandsAndExitCodes) {
  for (const Arguments& asked : {Arguments{"--help"}, {"-h"}, {}}) {
    const auto run = run_program(asked);
    EXPECT_EQ(run.exit_code, 0);
    EXPECT_EQ(run.errors, "");
    for (const char* word : {"brief", "debrief", "fly", "fit", "convert", "demo", "--version", "Exit code"}) {
      EXPECT_THAT(run.output, HasSubstr(word));
    }
    EXPECT_THAT(run.output, HasSubstr("never guidance in flight"));
  }
}

TEST(Help, OfEachCommandNamesItsOptions) {
  const Arguments setting = {
      "--runway",         "--wind",      "--airplane",           "--temperature-c", "--altimeter-hpa",
      "--altimeter-inhg", "--weight-lb", "--touchdown-point-ft", "--traffic",       "--json"};
  for (const auto& [command, own] :
       {std::pair<std::string, Arguments>{
            "brief",
            {"--standard", "--technique", "--pattern-height-ft", "--spacing-nm", "--pattern-speed-kt"}},
        {"debrief", {"LOG", "--with", "--standard", "--picture", "--no-picture"}},
        {"fly", {"--base-turn-s", "--trace", "--technique"}}}) {
    const auto help = help_of(command);
    for (const auto& option : setting) EXPECT_THAT(help, HasSubstr("  " + option + " ")) << command;
    for (const auto& option : own) EXPECT_THAT(help, HasSubstr("  " + option + " ")) << command;
  }
  for (const char* option :
       {"GLIDES", "--airplane", "--weight-lb", "--flap-deg", "--write", "--force", "--json"})
    EXPECT_THAT(help_of("fit"), HasSubstr(std::string("  ") + option + " "));
  EXPECT_THAT(help_of("demo"), HasSubstr("invented"));
}

TEST(Help, HasExamplesThatRun) {
  for (const std::string command : {"brief", "debrief", "fly", "fit", "convert", "record"}) {
    const auto examples = examples_of(command);
    EXPECT_GE(examples.size(), 2U) << command;
    for (const auto& example : examples) {
      SCOPED_TRACE(example);
      const auto run = run_program(words_of(example));
      EXPECT_EQ(run.exit_code, 0);
      EXPECT_EQ(run.errors, "");
      EXPECT_NE(run.output, "");
    }
  }
}

TEST(Version, IsOneLine) {
  const auto run = run_program({"--version"});
  EXPECT_EQ(run.exit_code, 0);
  EXPECT_TRUE(std::regex_match(run.output, std::regex("glidewright \\d+\\.\\d+\\.\\d+\n"))) << run.output;
}

/// The runway ruler's title and, below each picture, what its bars mean.
bool has_picture(const std::string& output) {
  const bool ruler = output.find("Runway ruler") != std::string::npos;
  const bool bars = output.find("bars 95 in 100") != std::string::npos;
  EXPECT_EQ(ruler, bars) << "half a picture";
  return ruler && bars;
}

TEST(Picture, IsDrawnIntoAPipeOnlyWhenAskedFor) {
  EXPECT_FALSE(has_picture(run_program(k_demo_debrief).output));
  EXPECT_TRUE(has_picture(run_program(with(k_demo_debrief, "--picture")).output));
  EXPECT_FALSE(has_picture(run_program(with(k_demo_debrief, "--no-picture")).output));
}

TEST(Picture, IsDrawnOnATerminalUnlessRefused) {
  const Environment terminal = {"TERM=xterm"};
  EXPECT_TRUE(has_picture(run_program_on_a_terminal(k_demo_debrief, terminal).output));
  EXPECT_FALSE(has_picture(run_program_on_a_terminal(with(k_demo_debrief, "--no-picture"), terminal).output));
}

/// The amounts at the left of the ledger's lines, such as "+290".
std::vector<std::string> ledger_amounts(const std::string& with_picture) {
  static const std::regex amount_and_words("^ {2,8}((?:[+]|\u2212)[0-9,]+) .*(planned|\u00b1|touchdown \\()");
  std::vector<std::string> amounts;
  for (const auto& line : lines_of(with_picture)) {
    std::smatch found;
    const bool is_drawn = line.find(" ft ") == std::string::npos;
    if (is_drawn && std::regex_search(line, found, amount_and_words)) amounts.push_back(found[1]);
  }
  return amounts;
}

/// The words stay when the picture goes: every amount of the ledger can still be read.
TEST(Picture, AddsNothingThatTheWordsDoNotSay) {
  const auto words = run_program(with(k_demo_debrief, "--no-picture")).output;
  const auto amounts = ledger_amounts(run_program(with(k_demo_debrief, "--picture")).output);
  EXPECT_GE(amounts.size(), 15U);
  for (const auto& amount : amounts) {
    EXPECT_THAT(words,
                AnyOf(HasSubstr(amount + " ft"), HasSubstr(amount + " \u00b1"), HasSubstr(amount + " (")));
  }
}

TEST(Colour, IsForTerminalsThatHaveItAndWantIt) {
  const auto on = [](const Environment& environment) {
    return run_program_on_a_terminal(k_demo_debrief, environment).output;
  };
  EXPECT_THAT(on({"TERM=xterm"}), HasSubstr("\x1b["));
  // On every terminal the line that tells of progress is wiped, on standard error, with this one sequence.
  const auto without_progress = [](const std::string& output) {
    return std::regex_replace(output, std::regex("\r\x1b\\[K"), "");
  };
  EXPECT_THAT(without_progress(on({"TERM=dumb"})), Not(HasSubstr("\x1b")));
  EXPECT_THAT(without_progress(on({"TERM=xterm", "NO_COLOR=1"})), Not(HasSubstr("\x1b")));
}

bool is_ascii(const std::string& text) {
  return std::all_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x80; });
}

/// "nan", "inf", or a zero with a minus: "-0", "-0.0 ft", but not "-0.4" or "2026-05-04".
bool has_a_number_that_is_none(const std::string& output) {
  static const std::regex none(R"((^|[^A-Za-z])(nan|NaN|inf|Inf|infinity)([^A-Za-z]|$))");
  static const std::regex minus_zero("(^|[ (:\\[])(-|\u2212)0+(\\.0+)?([^0-9.]|$)");
  const auto lines = lines_of(output);
  return std::any_of(lines.begin(), lines.end(), [](const std::string& line) {
    return std::regex_search(line, none) || std::regex_search(line, minus_zero);
  });
}

TEST(Numbers, ThatAreNoneAreNoticed) {
  for (const char* wrong : {"  -0 ft", "\"x\": -0.0,", "\u22120 ft", "nan kt", "(-inf to 3)", "about -0"}) {
    EXPECT_TRUE(has_a_number_that_is_none(wrong)) << wrong;
  }
  for (const char* right : {"-0.4 ft", "\u22120.5", "2026-05-04", "information", "-10", "+10/-5", "0"}) {
    EXPECT_FALSE(has_a_number_that_is_none(right)) << right;
  }
}

struct Said {
  std::string name;
  Arguments arguments;
};

/// What a command prints for people and for programs; among them refusals, negative numbers and missing
/// values.
class Printed : public testing::TestWithParam<Said> {};

TEST_P(Printed, SuitsAPipeInAPlainLocale) {
  const auto run = run_program(GetParam().arguments, {"LC_ALL=C", "TERM=xterm"});
  for (const auto& text : {run.output, run.errors}) {
    EXPECT_TRUE(is_ascii(text)) << text;
    EXPECT_THAT(text, Not(HasSubstr("\x1b")));
    EXPECT_FALSE(has_a_number_that_is_none(text)) << text;
  }
  EXPECT_NE(run.output + run.errors, "");
}

class PrintedAsJson : public Printed {};

/// JSON is UTF-8 whatever the locale.
TEST_P(PrintedAsJson, HasNumbersThatAreSome) {
  const auto run = run_program(with(GetParam().arguments, "--json"), {"LC_ALL=C", "TERM=xterm"});
  EXPECT_EQ(run.output.rfind("{\n  \"schema\": \"glidewright.", 0), 0U) << run.errors;
  EXPECT_THAT(run.output, Not(HasSubstr("\x1b")));
  EXPECT_FALSE(has_a_number_that_is_none(run.output)) << run.output;
}

const std::string k_flights = "tests/data/flights/";
const Arguments k_brief = {"brief", "--runway", "data/demo/harrow-fen-24.json", "--wind"};

const auto k_words_only = testing::Values(Said{"help", {"debrief", "--help"}}, Said{"demo", {"demo"}});
const auto k_both_ways = testing::Values(
    Said{"three_attempts", with(k_demo_debrief, "--picture")},
    Said{"go_around", {"debrief", k_flights + "F15/F15.gpx", "--wind", "100/8", "--picture"}},
    Said{"panel", {"debrief", k_flights + "F20/F20.csv", "--with", k_flights + "F20/F20_avionics.csv"}},
    Said{"power", {"debrief", k_flights + "F24/F24.csv", "--altimeter-inhg", "30.20"}},
    Said{"plan", with(k_brief, "270/10")},
    Said{"dry_run", with(with(with(k_brief, "270/10"), "--dry-run-ft"), "-150")},
    Said{"refusal", with(k_brief, "90/10")}, Said{"strong_wind", {"fly", "--wind", "360/30"}},
    Said{"turn_at_once", {"fly", "--base-turn-s", "0", "--wind", "calm"}},
    Said{"turn_late", {"fly", "--base-turn-s", "60"}});

std::string said_name(const testing::TestParamInfo<Said>& said) {
  return said.param.name;
}

INSTANTIATE_TEST_SUITE_P(WordsOnly, Printed, k_words_only, said_name);
INSTANTIATE_TEST_SUITE_P(BothWays, Printed, k_both_ways, said_name);
INSTANTIATE_TEST_SUITE_P(BothWays, PrintedAsJson, k_both_ways, said_name);

TEST(Characters, AreMoreThanAsciiWhereTheLocaleHasThem) {
  EXPECT_FALSE(is_ascii(run_program({"fly"}).output));
  const Arguments missing = {"debrief", "no-such-\u00DCbung.gpx"};
  EXPECT_FALSE(is_ascii(run_program(missing).errors));
  EXPECT_TRUE(is_ascii(run_program(missing, {"LC_ALL=C"}).errors));
}

/// The debrief's pictures are made for any page; a plan's tables want 80 columns.
TEST(Lines, AreNotLongerThanThePage) {
  const auto picture = with(k_demo_debrief, "--picture");
  for (const auto& [arguments, width] :
       {std::pair(picture, 60), {picture, 80}, {with(k_brief, "270/10"), 80}}) {
    const auto run = run_program(arguments, {"LC_ALL=C", "COLUMNS=" + std::to_string(width)});
    EXPECT_EQ(run.exit_code, 0);
    for (const auto& line : lines_of(run.output))
      EXPECT_LE(line.size(), static_cast<std::size_t>(width)) << line;
  }
}

TEST(Demo, SaysThatTheLessonIsInvented) {
  const auto run = run_program({"demo"});
  EXPECT_EQ(run.exit_code, 0);
  EXPECT_EQ(run.errors, "");
  const auto told = std::regex_replace(run.output, std::regex("\\s+"), " ");
  EXPECT_THAT(told, HasSubstr("An invented lesson with two invented students"));
  EXPECT_THAT(told, HasSubstr("The airfield and the airplane are invented too"));
  EXPECT_THAT(told, HasSubstr("This log is not of the lesson above: it is a reference flight"));
  EXPECT_TRUE(has_picture(run.output));
}

/// Each next command stands in one line, to be copied, and those without a file of the reader's own run.
TEST(Demo, EndsWithCommandsThatRun) {
  const auto lines = lines_of(run_program({"demo"}, {"COLUMNS=60"}).output);
  std::vector<std::string> commands;
  for (auto line = lines.rbegin(); line != lines.rend() && !line->empty(); ++line) commands.push_back(*line);
  ASSERT_GE(commands.size(), 3U);
  int ran = 0;
  for (const auto& command : commands) {
    SCOPED_TRACE(command);
    auto words = words_of(command);
    ASSERT_EQ(words.front(), "build/release/glidewright");
    if (command.find("YOUR") != std::string::npos) continue;
    words.erase(words.begin());
    EXPECT_EQ(run_program(words).exit_code, 0);
    ++ran;
  }
  EXPECT_GE(ran, 2);
}

/// /dev/full takes nothing: not to say so would leave a reader with half a debrief.
TEST(Output, ThatCannotBeWrittenIsNotPassedOver) {
  const program::File full(std::fopen("/dev/full", "w"), &std::fclose);
  ASSERT_TRUE(full);
  const program::File errors(std::tmpfile(), &std::fclose);
  const int code =
      program::exit_code_of(program::start({"fly"}, {}, fileno(full.get()), fileno(errors.get())));
  EXPECT_EQ(code, 3);
  EXPECT_THAT(program::content_of(errors.get()), HasSubstr("standard output cannot be written"));
}

}  // namespace
}  // namespace glidewright
