#include "apps/cli/picture/ledger.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "drawn_lines.hpp"

namespace glidewright {
namespace {

// Drawn by hand, on 80 columns at 50 ft a column: a place lies in column 9 + (ft + 500) / 50 (from 0).

constexpr auto k_unicode = PictureStyle::Characters::unicode;
constexpr auto k_ascii = PictureStyle::Characters::ascii;

PictureStyle style(int columns, PictureStyle::Characters characters) {
  return {columns, characters, PictureStyle::Colour::off};
}

/// +100 planned; sums +50, -250, -150, +200; touchdown +300.
LedgerScene late_base_turn() {
  LedgerScene scene;
  scene.planned_touchdown_ft = 100;
  scene.causes = {{"wind and airplane together", -50, -200, 100},
                  {"base turn", -300, -400, -200},
                  {"path to final", 100, 50, 150},
                  {"flaps", 350, 250, 450}};
  scene.unexplained = LedgerCause{"not explained", 100, -100, 300};
  scene.touchdown = RunwayPlace{300, 250, 350};
  return scene;
}

TEST(Ledger, LeadsFromThePlannedToTheTouchdown) {
  EXPECT_EQ(draw_ledger(late_base_turn(), style(80, k_unicode)),
            "    +100           ┊ ○ ┊                           planned touchdown\n"
            "     −50         ├──[]─┤                           wind and airplane together\n"
            "                   ┊│  ┊                           ± 150\n"
            "                   ┊│  ┊                           undecided\n"
            "    −300    ├─▒▒▒▒▒▒▒  ┊                           base turn ± 100\n"
            "    +100      ███┤ ┊   ┊                           path to final ± 50\n"
            "    +350        ████████─┤                         flaps ± 100\n"
            "    +100           ┊ ├─[ ]───┤                     not explained ± 200\n"
            "                   ┊   ┊ │                         undecided\n"
            "    +300           ┊   ┊├►┤                        touchdown ± 50\n"
            "         ┬─────────━━━━━─────┬─────────┬─────────┬ ft past the point\n"
            "        −500       0  +200  +500     +1,000    +1,500 bars 95 in 100\n");
}

TEST(Ledger, LeadsThereInPlainCharactersToo) {
  EXPECT_EQ(draw_ledger(late_base_turn(), style(80, k_ascii)),
            "    +100           : o :                           planned touchdown\n"
            "     -50         |--[]-|                           wind and airplane together\n"
            "                   :|  :                           +- 150\n"
            "                   :|  :                           undecided\n"
            "    -300    |-%%%%%%%  :                           base turn +- 100\n"
            "    +100      ###| :   :                           path to final +- 50\n"
            "    +350        ########-|                         flaps +- 100\n"
            "    +100           : |-[ ]---|                     not explained +- 200\n"
            "                   :   : |                         undecided\n"
            "    +300           :   :|>|                        touchdown +- 50\n"
            "         +---------=====-----+---------+---------+ ft past the point\n"
            "        -500       0  +200  +500     +1,000    +1,500 bars 95 in 100\n");
}

TEST(Ledger, SaysWhereAGoAroundWasHeading) {
  LedgerScene scene;
  scene.planned_touchdown_ft = 100;
  scene.causes = {{"base turn", -400, -500, -300}};
  scene.touchdown = RunwayPlace{-300, -450, -150};
  scene.kind = PlaceKind::went_around;
  EXPECT_EQ(draw_ledger(scene, style(80, k_unicode)),
            "    +100           ┊ ○ ┊                           planned touchdown\n"
            "    −400   ├─▒▒▒▒▒▒▒▒▒ ┊                           base turn ± 100\n"
            "    −300  ╌╌╌∧╌╌╌  ┊   ┊                           would have touched ± 150\n"
            "         ┬─────────━━━━━─────┬─────────┬─────────┬ ft past the point\n"
            "        −500       0  +200  +500     +1,000    +1,500 bars 95 in 100\n");
}

TEST(Ledger, WidensItsScaleAtBothEndsUntilAllSumsLieWithin) {
  // The sum reaches +2,300 on the way: two steps of 500 ft, -1,500 to +2,500 ft at 100 ft a column.
  LedgerScene scene;
  scene.planned_touchdown_ft = 100;
  scene.causes = {{"flaps", 2200, 2000, 2400}, {"speed held, net", -1800, -2000, -1600}};
  scene.unexplained = LedgerCause{"not explained", 500, 300, 700};
  scene.touchdown = RunwayPlace{1000, 900, 1100};
  EXPECT_EQ(draw_ledger(scene, style(80, k_ascii)),
            "    +100                :o:                        planned touchdown\n"
            "  +2,200                :#######################-| flaps +- 200\n"
            "  -1,800                : :|-%%%%%%%%%%%%%%%%%%%   speed held, net +- 200\n"
            "    +500                : :  ######-|              not explained +- 200\n"
            "  +1,000                : :      |>|               touchdown +- 100\n"
            "         +---------+----===--+---------+---------+ ft past the point\n"
            "       -1,500     -500  0   +500     +1,500    +2,500 bars 95 in 100\n");
}

TEST(Ledger, GivesTheReasonWhereThereAreNoCauses) {
  LedgerScene scene;
  scene.no_causes_because = "Power was left on to the flare. No causes.";
  scene.touchdown = RunwayPlace{300, 250, 350};
  EXPECT_EQ(draw_ledger(scene, style(80, k_ascii)),
            "  Power was left on to the flare. No causes.\n"
            "    +300           :   :|>|                        touchdown +- 50\n"
            "         +---------=====-----+---------+---------+ ft past the point\n"
            "        -500       0  +200  +500     +1,000    +1,500 bars 95 in 100\n");
}

TEST(Ledger, AddsUpToTheTouchdown) {
  const auto sums_ft = running_sums_ft(late_base_turn());
  EXPECT_EQ(sums_ft, (std::vector<double>{100, 50, -250, -150, 200, 300}));
}

/// The number in the left column of a line, ft; 0 where there is none.
double number_on(const std::string& line) {
  std::string digits;
  for (const char c : line.substr(0, 9)) {
    if (c != ',' && c != ' ' && c != '+') digits += c;
  }
  return digits.empty() ? 0.0 : std::stod(digits);
}

TEST(Ledger, PrintsNumbersThatAddUp) {
  std::mt19937 random(20260514);
  std::uniform_real_distribution<double> effect_ft(-400.0, 400.0);
  for (int repeat = 0; repeat < 200; ++repeat) {
    LedgerScene scene;
    scene.planned_touchdown_ft = 100.0 + effect_ft(random) / 10.0;
    for (const char* name : {"idle timing", "base turn", "path to final", "flaps", "flare"}) {
      const double effect = effect_ft(random);
      scene.causes.push_back({name, effect, effect - 150.0, effect + 150.0});
    }
    const double unexplained = effect_ft(random);
    scene.unexplained = LedgerCause{"not explained", unexplained, unexplained - 200.0, unexplained + 200.0};
    const double touchdown = running_sums_ft(scene).back();
    scene.touchdown = RunwayPlace{touchdown, touchdown - 140.0, touchdown + 140.0};

    auto lines = drawn_lines(draw_ledger(scene, style(110, k_ascii)));
    lines.resize(lines.size() - 2);  // the axis
    const double last = number_on(lines.back());
    double sum = 0.0;
    for (std::size_t i = 0; i + 1 < lines.size(); ++i) sum += number_on(lines[i]);
    EXPECT_EQ(sum, last);
    EXPECT_NEAR(last, touchdown, 5.0 + 1e-9);  // half of the 10 ft to which it is printed
  }
}

TEST(Ledger, StaysWithinItsWidth) {
  LedgerScene scene = late_base_turn();
  scene.causes.push_back({"a cause with quite a long name that nobody would think of", 12340, -45670, 23450});
  scene.touchdown = RunwayPlace{12640, -50000, 98760};
  for (const int columns : {60, 70, 80, 90, 100, 110}) {
    for (const auto characters : {k_unicode, k_ascii}) {
      const std::string drawn = draw_ledger(scene, style(columns, characters));
      EXPECT_LE(widest_line(drawn), columns);
      EXPECT_EQ(is_ascii(drawn), characters == k_ascii);
    }
  }
}

TEST(Ledger, AddsNothingButColour) {
  PictureStyle coloured = style(80, k_unicode);
  coloured.colour = PictureStyle::Colour::on;
  const std::string drawn = draw_ledger(late_base_turn(), coloured);
  EXPECT_EQ(without_colour(drawn), draw_ledger(late_base_turn(), style(80, k_unicode)));
  EXPECT_NE(drawn.find("\x1b[38;5;208m███┤"), std::string::npos);
  EXPECT_NE(drawn.find("\x1b[36m├─▒▒▒▒▒▒▒"), std::string::npos);
}

}  // namespace
}  // namespace glidewright
