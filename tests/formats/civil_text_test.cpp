#include "formats/civil_text.hpp"

#include <gtest/gtest.h>

namespace glidewright {
namespace {

using Order = DateOrder;

// 2026-05-14 is day 20587: 56 years of 365 days, 14 leap days (1972 to 2024), then 31 + 28 + 31 + 30 + 13.
constexpr std::int64_t k_14_may_2026 = 56 * 365 + 14 + 133;

TEST(CivilText, DatesInTheThreeOrders) {
  EXPECT_EQ(read_date_in("2026-05-14", Order::year_month_day), k_14_may_2026);
  EXPECT_EQ(read_date_in("2026/5/14", Order::year_month_day), k_14_may_2026);
  EXPECT_EQ(read_date_in("14.05.2026", Order::day_month_year), k_14_may_2026);
  EXPECT_EQ(read_date_in(" 14.5.26 ", Order::day_month_year), k_14_may_2026);
  EXPECT_EQ(read_date_in("5/14/2026", Order::month_day_year), k_14_may_2026);
  EXPECT_EQ(read_date_in("29.02.2024", Order::day_month_year), read_date("2024-02-29"));
}

TEST(CivilText, WhatIsNoDateIsNone) {
  for (const char* text : {"", "14.05", "14.05.2026.", "31.04.2026", "29.02.2026", "0.5.2026", "14.13.2026",
                           "14.05.026", "1400.05.26", "a.b.c", "14.05.2026x"}) {
    EXPECT_FALSE(read_date_in(text, Order::day_month_year)) << text;
  }
  EXPECT_FALSE(read_date_in("14.05.26", Order::year_month_day));
}

TEST(CivilText, TimesOfDayOfBothClocks) {
  EXPECT_EQ(read_clock_time("20:02:55.25"), 20 * 3600 + 2 * 60 + 55.25);
  EXPECT_EQ(read_clock_time("20:02:55,25"), 20 * 3600 + 2 * 60 + 55.25);
  EXPECT_EQ(read_clock_time("8:02:55 PM"), 20 * 3600 + 2 * 60 + 55);
  EXPECT_EQ(read_clock_time("12:00:00 am"), 0.0);
  EXPECT_EQ(read_clock_time("12:00 pm"), 12 * 3600);
  EXPECT_EQ(read_clock_time("7:05"), 7 * 3600 + 5 * 60);
  for (const char* text : {"", "24:00:00", "13:00 PM", "0:10 AM", "12:60", "12:1", "12:10:61", "12:10:1",
                           "12:10:-1", "12:10:0x", "PM"}) {
    EXPECT_FALSE(read_clock_time(text)) << text;
  }
}

TEST(CivilText, MomentsWithAndWithoutZone) {
  const auto plain = read_time_in("14.05.2026 20:02:55", Order::day_month_year);
  ASSERT_TRUE(plain);
  EXPECT_FALSE(plain->zone_given);
  EXPECT_EQ(plain->unix_s, *unix_seconds("2026-05-14T20:02:55Z"));
  const auto zoned = read_time_in("5/14/2026 10:02:55 PM +02:00", Order::month_day_year);
  ASSERT_TRUE(zoned);
  EXPECT_TRUE(zoned->zone_given);
  EXPECT_EQ(zoned->unix_s, *unix_seconds("2026-05-14T20:02:55Z"));
}

TEST(CivilText, OffsetsFromUtc) {
  EXPECT_EQ(read_utc_offset("+02:00"), 7200);
  EXPECT_EQ(read_utc_offset("-0930"), -(9 * 3600 + 1800));
  EXPECT_EQ(read_utc_offset("+5:30"), 5 * 3600 + 1800);
  EXPECT_EQ(read_utc_offset("-7"), -7 * 3600);
  EXPECT_EQ(read_utc_offset("UTC"), 0);
  for (const char* text : {"", "2", "+", "+15:00", "+02:60", "+02:0", "+02:00x", "CEST"})
    EXPECT_FALSE(read_utc_offset(text)) << text;
}

TEST(CivilText, AnglesInEveryCommonForm) {
  // 30.6 minutes are 0.51 degrees.
  EXPECT_DOUBLE_EQ(*read_angle("48.51", AngleForm::degrees), 48.51);
  EXPECT_DOUBLE_EQ(*read_angle("48.51 S", AngleForm::degrees), -48.51);
  EXPECT_DOUBLE_EQ(*read_angle("N48\xC2\xB0 30.6'", AngleForm::degrees), 48.51);
  EXPECT_DOUBLE_EQ(*read_angle("48 30 36 N", AngleForm::degrees), 48.51);
  EXPECT_DOUBLE_EQ(*read_angle("4830.6N", AngleForm::degrees_minutes), 48.51);
  EXPECT_DOUBLE_EQ(*read_angle("01130.6W", AngleForm::degrees_minutes), -11.51);
  EXPECT_DOUBLE_EQ(*read_angle("-1130.6", AngleForm::degrees_minutes), -11.51);
}

TEST(CivilText, WhatIsNoAngleIsNone) {
  for (const char* text :
       {"", "N", "-48N", "48.5 30", "48 60", "48 30 60", "1 2 3 4", "48x", "4 8-3", "..", "\xC2\xB0"}) {
    EXPECT_FALSE(read_angle(text, AngleForm::degrees)) << text;
  }
  EXPECT_FALSE(read_angle("4875", AngleForm::degrees_minutes));
}

}  // namespace
}  // namespace glidewright
