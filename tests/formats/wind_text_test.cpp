#include "formats/wind_text.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace glidewright {
namespace {

using testing::StartsWith;

std::string error_of(std::string_view text) {
  const auto wind = read_wind_text(text);
  return wind ? "read" : wind.error().sentence;
}

TEST(WindText, FromAndSpeed) {
  const auto wind = read_wind_text(" 240/12 ");
  ASSERT_TRUE(wind);
  EXPECT_EQ(wind->at_10m.from_true.value, 240.0);
  EXPECT_EQ(wind->at_10m.speed.value, 12.0);
  EXPECT_EQ(wind->gust.value, 0.0);
  EXPECT_EQ(read_wind_text("360/5")->at_10m.from_true.value, 0.0);
  EXPECT_EQ(read_wind_text("5/99")->at_10m.speed.value, 99.0);
}

TEST(WindText, GustIsKeptAboveTheMean) {
  EXPECT_EQ(read_wind_text("240/12G18")->gust.value, 6.0);
  EXPECT_EQ(read_wind_text("240/12g18")->at_10m.speed.value, 12.0);
}

// "00000KT" is calm in a METAR: WMO-No. 306, FM 15.
TEST(WindText, Calm) {
  for (const char* text : {"calm", "CALM", "00000", "00000KT"}) {
    const auto wind = read_wind_text(text);
    ASSERT_TRUE(wind) << text;
    EXPECT_EQ(wind->at_10m.speed.value, 0.0);
  }
}

TEST(WindText, SentencesForNonsense) {
  EXPECT_EQ(error_of("400/10"),
            "wind direction 400 deg; expected 0 to 360 (where the wind blows from, true)");
  EXPECT_EQ(error_of("240/120"), "wind speed 120 kt; expected 0 to 99");
  EXPECT_EQ(error_of("240/12G12"), "wind gusts to 12 kt; expected more than the mean of 12 and at most 99");
  for (const char* text : {"", "/", "240", "240/", "/12", "-240/12", "240/-12", "240/12G", "240/12G1x",
                           "240/12kt", "24O/12", "240/1e1", "99999/1", "windy"}) {
    EXPECT_THAT(error_of(text), StartsWith("wind '")) << text;
  }
}

RC_GTEST_PROP(WindText, AnyTextIsInRangeOrRefused, ()) {
  const auto text =
      *rc::gen::container<std::string>(rc::gen::element('0', '1', '3', '6', '9', '/', 'G', ' ', '-'));
  const auto wind = read_wind_text(text);
  const bool sound =
      !wind || (wind->at_10m.from_true.value >= 0.0 && wind->at_10m.from_true.value < 360.0 &&
                wind->at_10m.speed.value >= 0.0 && wind->at_10m.speed.value + wind->gust.value <= 99.0);
  RC_ASSERT(sound);
}

}  // namespace
}  // namespace glidewright
