#include "apps/cli/picture/runway_ruler.hpp"

#include <gtest/gtest.h>

#include "apps/cli/words/page.hpp"
#include "drawn_lines.hpp"

namespace glidewright {
namespace {

// The pictures below are drawn by hand. On 80 columns one column is 50 ft and -500 ft is column 9 (from 0),
// so a place lies in column 9 + (ft + 500) / 50: 0 in 19, +200 in 23, +1,500 in 49. On 110 columns it is 33.3
// ft, on 60 columns 62.5 ft.

constexpr auto k_unicode = PictureStyle::Characters::unicode;
constexpr auto k_ascii = PictureStyle::Characters::ascii;

PictureStyle style(int columns, PictureStyle::Characters characters) {
  return {columns, characters, PictureStyle::Colour::off};
}

std::vector<RulerRow> six_attempts() {
  return {{1, "10:12", PlaceKind::landed, RunwayPlace{550, 400, 700}, "does not meet"},
          {2, "10:21", PlaceKind::went_around, RunwayPlace{-300, -450, -150}, "not demonstrated"},
          {3, "10:30", PlaceKind::landed, RunwayPlace{300, 150, 450}, "cannot tell"},
          {4, "10:39", PlaceKind::landed, RunwayPlace{100, 50, 150}, "meets"},
          {5, "10:48", PlaceKind::landed, RunwayPlace{-50, -200, 100}, "cannot tell"},
          {6, "10:57", PlaceKind::landed, std::nullopt, "unfinished: the log ends"}};
}

TEST(RunwayRuler, ShowsOneAttemptInItsBox) {
  const std::vector<RulerRow> one{{1, "10:39", PlaceKind::landed, RunwayPlace{100, 50, 150}, "meets"}};
  EXPECT_EQ(draw_runway_ruler(one, Box{}, style(80, k_unicode)),
            " 1 10:39           ░├●┤░                           +100 ± 50 ft  meets\n"
            "         ┬─────────━━━━━─────┬─────────┬─────────┬ ft past the point\n"
            "        −500       0  +200  +500     +1,000    +1,500 bars 95 in 100\n");
}

TEST(RunwayRuler, ShowsSixAttemptsOnEightyColumns) {
  EXPECT_EQ(draw_runway_ruler(six_attempts(), Box{}, style(80, k_unicode)),
            " 1 10:12           ░░░░░   ├──►──┤                 +550 ± 150 ft  does not meet\n"
            " 2 10:21  ╌╌╌∧╌╌╌  ░░░░░                           would have −300 ± 150 ft\n"
            "                   ░░░░░                           not demonstrated\n"
            " 3 10:30           ░░░├──►──┤                      +300 ± 150 ft  cannot tell\n"
            " 4 10:39           ░├●┤░                           +100 ± 50 ft  meets\n"
            " 5 10:48       ├──◁──┤░░                           −50 ± 150 ft  cannot tell\n"
            " 6 10:57           ░░░░░                           unfinished: the log ends\n"
            "         ┬─────────━━━━━─────┬─────────┬─────────┬ ft past the point\n"
            "        −500       0  +200  +500     +1,000    +1,500 bars 95 in 100\n");
}

TEST(RunwayRuler, ShowsSixAttemptsInPlainCharacters) {
  EXPECT_EQ(draw_runway_ruler(six_attempts(), Box{}, style(80, k_ascii)),
            " 1 10:12           :::::   |-->--|                 +550 +- 150 ft  does not meet\n"
            " 2 10:21  ...^...  :::::                           would have -300 +- 150 ft\n"
            "                   :::::                           not demonstrated\n"
            " 3 10:30           :::|-->--|                      +300 +- 150 ft  cannot tell\n"
            " 4 10:39           :|O|:                           +100 +- 50 ft  meets\n"
            " 5 10:48       |--<--|::                           -50 +- 150 ft  cannot tell\n"
            " 6 10:57           :::::                           unfinished: the log ends\n"
            "         +---------=====-----+---------+---------+ ft past the point\n"
            "        -500       0  +200  +500     +1,000    +1,500 bars 95 in 100\n");
}

TEST(RunwayRuler, BreaksWordsOnSixtyColumns) {
  std::vector<RulerRow> two = six_attempts();
  two.resize(2);
  EXPECT_EQ(draw_runway_ruler(two, Box{}, style(60, k_unicode)),
            " 1 10:12         ░░░░  ├──►─┤              +550 ± 150 ft\n"
            "                 ░░░░                      does not meet\n"
            " 2 10:21  ╌╌∧╌╌╌ ░░░░                      would have −300\n"
            "                 ░░░░                      ± 150 ft\n"
            "                 ░░░░                      not demonstrated\n"
            "         ┬───────━━━━────┬───────┬───────┬ ft past the point\n"
            "        −500     0 +200 +500   +1,000  +1,500 bars 95 in 100\n");
}

TEST(RunwayRuler, UsesTheRoomOfHundredAndTenColumns) {
  std::vector<RulerRow> two = six_attempts();
  two.resize(2);
  EXPECT_EQ(draw_runway_ruler(two, Box{}, style(110, k_unicode)),
            " 1 10:12                ░░░░░░░     ├────►───┤                         "
            "+550 ± 150 ft  does not meet\n"
            " 2 10:21   ╌╌╌╌∧╌╌╌╌╌   ░░░░░░░                                        "
            "would have −300 ± 150 ft\n"
            "                        ░░░░░░░                                        "
            "not demonstrated\n"
            "         ┬──────────────━━━━━━━────────┬──────────────┬──────────────┬ "
            "ft past the point\n"
            "        −500            0    +200     +500          +1,000         +1,500 "
            "bars 95 in 100\n");
}

TEST(RunwayRuler, CutsWhatLiesBeyondTheScaleAndSaysHowFar) {
  const std::vector<RulerRow> rows{
      {1, "10:12", PlaceKind::landed, RunwayPlace{2140, 2000, 2280}, ""},
      {2, "10:21", PlaceKind::went_around, RunwayPlace{-1200, -1400, -1000}, ""},
      {3, "10:30", PlaceKind::landed, RunwayPlace{1400, 1200, 1600}, ""},
      {4, "10:39", PlaceKind::landed, RunwayPlace{-450, -650, -250}, ""},
  };
  EXPECT_EQ(draw_runway_ruler(rows, Box{}, style(80, k_unicode)),
            " 1 10:12           ░░░░░                  +2,140 → +2,140 ± 140 ft\n"
            " 2 10:21 ← ∧ −1,200 ░░░░                           would have −1,200 ± 200 ft\n"
            " 3 10:30           ░░░░░                   ├───►─→ +1,400 ± 200 ft\n"
            " 4 10:39 ←◁───┤    ░░░░░                           −450 ± 200 ft\n"
            "         ┬─────────━━━━━─────┬─────────┬─────────┬ ft past the point\n"
            "        −500       0  +200  +500     +1,000    +1,500 bars 95 in 100\n");
}

TEST(RunwayRuler, ShowsScaleBoxAndOneSentenceWithoutAttempts) {
  EXPECT_EQ(draw_runway_ruler({}, Box{}, style(80, k_unicode)),
            "                   ░░░░░\n"
            "                   ░░░░░\n"
            "         ┬─────────━━━━━─────┬─────────┬─────────┬ ft past the point\n"
            "        −500       0  +200  +500     +1,000    +1,500 bars 95 in 100\n"
            "No landing and no go-around to show.\n");
}

TEST(RunwayRuler, DrawsABoxOnBothSidesOfThePoint) {
  EXPECT_EQ(draw_runway_ruler({}, Box{-200.0, 200.0}, style(80, k_ascii)),
            "               :::::::::\n"
            "               :::::::::\n"
            "         +-----=========-----+---------+---------+ ft past the point\n"
            "        -500  -200 0  +200  +500     +1,000    +1,500 bars 95 in 100\n"
            "No landing and no go-around to show.\n");
}

TEST(RunwayRuler, SaysALopsidedIntervalByItsEnds) {
  const std::vector<RulerRow> one{{1, "", PlaceKind::landed, RunwayPlace{500, 450, 800}, ""}};
  const auto lines = drawn_lines(draw_runway_ruler(one, Box{}, style(80, k_unicode)));
  EXPECT_EQ(lines[0], " 1                 ░░░░░    ├►─────┤               +500 (+450 to +800) ft");
}

TEST(RunwayRuler, StaysWithinItsWidth) {
  std::vector<RulerRow> rows = six_attempts();
  rows.push_back(
      {12, "11:06", PlaceKind::went_around, RunwayPlace{-12340, -45670, 23450}, "not demonstrated"});
  rows.push_back({13, "11:15", PlaceKind::landed, RunwayPlace{98760, -200, 123450},
                  "averylongwordwithoutanyblankthatnocolumncanholdinoneline"});
  for (const int columns : {60, 70, 80, 90, 100, 110}) {
    for (const auto characters : {k_unicode, k_ascii}) {
      const std::string drawn = draw_runway_ruler(rows, Box{}, style(columns, characters));
      EXPECT_LE(widest_line(drawn), columns);
      EXPECT_EQ(is_ascii(drawn), characters == k_ascii);
    }
  }
  EXPECT_LE(widest_line(draw_runway_ruler(rows, Box{}, style(500, k_unicode))), 110);
  EXPECT_LE(widest_line(draw_runway_ruler(rows, Box{}, style(10, k_unicode))), 60);
}

TEST(RunwayRuler, AddsNothingButColour) {
  PictureStyle coloured = style(80, k_unicode);
  coloured.colour = PictureStyle::Colour::on;
  const std::string drawn = draw_runway_ruler(six_attempts(), Box{}, coloured);
  EXPECT_EQ(without_colour(drawn), draw_runway_ruler(six_attempts(), Box{}, style(80, k_unicode)));
  const auto lines = drawn_lines(drawn);
  EXPECT_NE(lines[0].find("\x1b[38;5;208m├──►──┤\x1b[0m"), std::string::npos);  // long
  EXPECT_NE(lines[5].find("\x1b[36m├──◁──┤"), std::string::npos);               // short
  for (const auto& line : lines) {
    const std::size_t last = line.rfind("\x1b[");
    const bool is_left_on = last != std::string::npos && line.substr(last, 4) != "\x1b[0m";
    EXPECT_FALSE(is_left_on) << line;
  }
}

TEST(RunwayRuler, LeavesInkMarksToThePage) {
  for (const auto characters : {k_unicode, k_ascii}) {
    PictureStyle marked = style(80, characters);
    marked.colour = PictureStyle::Colour::marked;
    const std::string drawn = draw_runway_ruler(six_attempts(), Box{}, marked);
    Page page;
    page.charset = characters == k_ascii ? Charset::ascii : Charset::utf8;
    EXPECT_EQ(printed(drawn, page), draw_runway_ruler(six_attempts(), Box{}, style(80, characters)));
    page.colour = Colour::ansi;
    EXPECT_EQ(without_colour(printed(drawn, page)), printed(drawn, Page{80, page.charset, Colour::none}));
    EXPECT_NE(printed(drawn, page), printed(drawn, Page{80, page.charset, Colour::none}));
  }
}

TEST(RunwayRuler, ObeysNoControlCharactersInWords) {
  const std::vector<RulerRow> one{{1, "\x1b[2J", PlaceKind::landed, std::nullopt, "a\tb\nc\xff \xc2\x9b!"}};
  const std::string drawn = draw_runway_ruler(one, Box{}, style(80, k_unicode));
  EXPECT_EQ(drawn.find('\x1b'), std::string::npos);
  EXPECT_NE(drawn.find("a?b?c? ?!"), std::string::npos);
}

}  // namespace
}  // namespace glidewright
