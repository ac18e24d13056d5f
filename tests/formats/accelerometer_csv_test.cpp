#include "formats/accelerometer_csv.hpp"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "formats/csv_mapping.hpp"
#include "formats/time.hpp"
#include "formats/track_log.hpp"

namespace glidewright {
namespace {

using ::testing::Contains;
using ::testing::HasSubstr;

const double k_start = *unix_seconds("2026-05-14T20:02:55Z");

/// A header, and rows of a hundred a second: the time as written, and the three axes.
template <class Row>
std::string csv(const std::string& header, Row row, int rows = 500) {
  std::string text = header + "\n";
  for (int i = 0; i < rows; ++i) text += row(i) + "\n";
  return text;
}

std::string axes(double scale = 1.0, double down = 9.81) {
  return fmt::format("{:.4f},{:.4f},{:.4f}", 0.1 * scale, -0.2 * scale, down * scale);
}

TEST(AccelerometerCsv, KnowsTheUsualHeaders) {
  for (const char* names :
       {"ax,ay,az", "accel_x,accel_y,accel_z", "acceleration_x_mps2,acceleration_y_mps2,acceleration_z_mps2",
        "X (m/s^2),Y (m/s^2),Z (m/s^2)",
        "Acceleration x (m/s^2),Acceleration y (m/s^2),Acceleration z (m/s^2)", "accX,accY,accZ",
        "ACCELEROMETER X (m/s\xC2\xB2),ACCELEROMETER Y (m/s\xC2\xB2),ACCELEROMETER Z (m/s\xC2\xB2)", "x,y,z",
        "x_acc,y_acc,z_acc", "linearAccelerationX,linearAccelerationY,linearAccelerationZ"}) {
    const auto log =
        read_accelerometer(csv(std::string("time,") + names,
                               [](int i) { return iso8601_utc(k_start + 0.01 * i, 3) + "," + axes(); }),
                           "phone.csv");
    ASSERT_TRUE(log) << names << ": " << log.error().sentence;
    EXPECT_NEAR(log->rate_hz, 100.0, 1.0) << names;
    EXPECT_NEAR(log->start_s, k_start, 0.001) << names;
    EXPECT_NEAR(static_cast<double>(log->blocks[20].mean_mps2[2]), 9.81, 0.001) << names;
  }
}

TEST(AccelerometerCsv, ReadsEveryWayOfWritingTheTime) {
  struct Way {
    const char* header;
    double zero, per_second;
    bool counts;
  };
  for (const Way& way :
       {Way{"timestamp", k_start, 1.0, false}, Way{"timestamp", k_start * 1e3, 1e3, false},
        Way{"timestamp_us", k_start * 1e6, 1e6, false}, Way{"time", k_start * 1e9, 1e9, false},
        Way{"seconds_elapsed", 0.0, 1.0, true}, Way{"Time (s)", 0.0, 1.0, true},
        Way{"time (ms)", 17.0, 1e3, true}, Way{"timestamp", 81234567890123.0, 1e9, true},
        Way{"timestamp", 1.2e12, 1e9, true}}) {
    const auto log = read_accelerometer(
        csv(std::string(way.header) + ",ax,ay,az",
            [&](int i) { return fmt::format("{:.3f},{}", way.zero + 0.01 * i * way.per_second, axes()); }),
        "phone.csv");
    ASSERT_TRUE(log) << way.header << ": " << log.error().sentence;
    EXPECT_NEAR(log->rate_hz, 100.0, 1.0) << way.header << " " << way.per_second;
    EXPECT_EQ(log->counts_from_own_start, way.counts) << way.header << " " << way.per_second;
    EXPECT_NEAR(log->start_s, way.counts ? 0.0 : k_start, 0.001) << way.header;
  }
}

TEST(AccelerometerCsv, PrefersMomentsToACount) {
  const auto log = read_accelerometer(
      csv("time,seconds_elapsed,z,y,x",
          [](int i) { return fmt::format("{:.0f},{:.3f},9.81,0,0", 1e9 * (k_start + 0.01 * i), 0.01 * i); }),
      "phone.csv");
  ASSERT_TRUE(log) << log.error().sentence;
  EXPECT_FALSE(log->counts_from_own_start);
  EXPECT_NEAR(log->start_s, k_start, 0.001);
}

TEST(AccelerometerCsv, TakesGForWhatMeasuresOneAtRest) {
  const auto row = [](int i) { return fmt::format("{:.2f},{}", 0.01 * i, axes(1.0 / 9.80665)); };
  for (const char* header : {"t,ax,ay,az", "t,ax (g),ay (g),az (g)"}) {
    const auto log = read_accelerometer(csv(header, row), "phone.csv");
    ASSERT_TRUE(log) << log.error().sentence;
    EXPECT_NEAR(static_cast<double>(log->blocks[20].mean_mps2[2]), 9.81, 0.01) << header;
  }
  EXPECT_THAT(read_accelerometer(csv("t,ax,ay,az", row), "phone.csv")->notes,
              Contains(HasSubstr("taken as g")));
}

TEST(AccelerometerCsv, TakesBareAxesWithoutGravityForNothing) {
  const auto row = [](int i) { return fmt::format("{:.2f},0.01,0.02,-0.01", 0.01 * i); };
  const auto log = read_accelerometer(csv("seconds_elapsed,x,y,z", row), "gyroscope.csv");
  ASSERT_FALSE(log);
  EXPECT_THAT(log.error().sentence, HasSubstr("another sensor's"));
  // With a name or a unit it is what it says.
  EXPECT_TRUE(read_accelerometer(csv("seconds_elapsed,acc x,acc y,acc z", row), "linear.csv"));
}

TEST(AccelerometerCsv, ReadsADecimalComma) {
  const auto log = read_accelerometer(
      csv("time;ax;ay;az", [](int i) { return iso8601_utc(k_start + 0.01 * i, 2) + ";0,1;-0,2;9,81"; }),
      "phone.csv");
  ASSERT_TRUE(log) << log.error().sentence;
  EXPECT_NEAR(static_cast<double>(log->blocks[20].mean_mps2[2]), 9.81, 0.001);
}

TEST(AccelerometerCsv, LeavesOutWhatCannotBeAndSaysSo) {
  const auto log = read_accelerometer(csv("t,ax,ay,az",
                                          [](int i) {
                                            if (i == 100) return std::string("1.00,broken,0,9.81");
                                            if (i == 200) return std::string("2.00");
                                            if (i == 300) return "1.00," + axes();  // falls back
                                            if (i == 350)
                                              return "40000.00," + axes();  // jumps ahead and back
                                            return fmt::format("{:.2f},{}", 0.01 * i, axes());
                                          }),
                                      "phone.csv");
  ASSERT_TRUE(log) << log.error().sentence;
  EXPECT_EQ(log->blocks.size(), 50U);
  EXPECT_THAT(log->notes, Contains(HasSubstr("1 rows that cannot be read")));
  EXPECT_THAT(log->notes, Contains(HasSubstr("1 rows that are too short")));
  EXPECT_THAT(log->notes, Contains(HasSubstr("2 rows whose time falls back")));
}

TEST(AccelerometerCsv, KeepsWhatComesBehindAPause) {
  const auto log = read_accelerometer(
      csv("t,ax,ay,az",
          [](int i) { return fmt::format("{:.2f},{}", 0.01 * i + (i < 250 ? 0 : 120), axes()); }),
      "phone.csv");
  ASSERT_TRUE(log);
  EXPECT_EQ(log->blocks.size(), 1250U);
  EXPECT_NEAR(log->rate_hz, 100.0, 1.0);
}

TEST(AccelerometerCsv, SaysLineAndColumnOfWhatIsWrong) {
  const auto said = [](const std::string& text) {
    const auto log = read_accelerometer(text, "phone.csv");
    return log ? std::string() : log.error().sentence;
  };
  EXPECT_THAT(said(csv("time,ax,ay,az", [](int) { return "noon," + axes(); })),
              testing::AllOf(HasSubstr("phone.csv:2: column 1 'time': 'noon'"), HasSubstr("expected UTC")));
  EXPECT_THAT(said(csv("t,ax,ay,az", [](int i) { return fmt::format("{:.2f},0,--,9.8", 0.01 * i); })),
              HasSubstr("phone.csv:2: column 3 'ay': '--' cannot be read; expected a number"));
  EXPECT_THAT(said(csv("time,ax,ay,az", [](int i) { return iso8601_utc(k_start + i, 0) + "," + axes(); })),
              HasSubstr("1 readings a second; expected 25 to 400"));
  EXPECT_THAT(said("t,ax,ay,az\n"), HasSubstr("no data"));
  EXPECT_THAT(said("t,ax,ay\n0,1,2\n"), HasSubstr("phone.csv"));
  EXPECT_THAT(said(""), HasSubstr("phone.csv"));
}

TEST(AccelerometerCsv, ReadsByAMapping) {
  const auto mapping = read_csv_mapping_json(
      R"({"schema": "glidewright.columns/1", "columns": [{"header": "Zeit", "is": "elapsed"},
          {"header": "a", "is": "acceleration_x", "unit": "g"}, {"header": "b", "is": "acceleration_y", "unit": "g"},
          {"header": "c", "is": "acceleration_z", "unit": "g"}]})",
      "columns.json");
  ASSERT_TRUE(mapping) << mapping.error().sentence;
  const auto log = read_accelerometer(
      csv("Zeit,a,b,c", [](int i) { return fmt::format("{:.2f},0,0,1", 0.01 * i); }), "phone.csv", &*mapping);
  ASSERT_TRUE(log) << log.error().sentence;
  EXPECT_NEAR(static_cast<double>(log->blocks[20].mean_mps2[2]), 9.80665, 0.001);
}

TEST(AccelerometerCsv, IsTheSameInOnePieceAndInMany) {
  const auto text = csv(
      "t,ax,ay,az", [](int i) { return fmt::format("{:.2f},{}", 0.01 * i, axes(1.0 + 0.01 * (i % 7))); },
      6000);
  const auto whole = read_accelerometer(text, "phone.csv");
  AccelerometerCsv reader("phone.csv", nullptr);
  for (std::size_t at = 0; at < text.size(); at += 997)
    ASSERT_FALSE(reader.add(std::string_view(text).substr(at, 997)));
  const auto pieces = reader.finish();
  ASSERT_TRUE(whole && pieces);
  ASSERT_EQ(whole->blocks.size(), pieces->blocks.size());
  for (std::size_t i = 0; i < whole->blocks.size(); ++i)
    ASSERT_EQ(whole->blocks[i].power, pieces->blocks[i].power);
}

TEST(AccelerometerCsv, AloneIsNoTrackLog) {
  const auto log = read_track_log(
      csv("t,ax,ay,az", [](int i) { return fmt::format("{:.2f},{}", 0.01 * i, axes()); }), "phone.csv");
  ASSERT_FALSE(log);
  EXPECT_THAT(log.error().sentence,
              HasSubstr("an accelerometer's log without positions; open it together with"));
}

TEST(AccelerometerCsv, ATrackOrAPanelIsNotTakenForOne) {
  EXPECT_FALSE(looks_like_accelerometer("time_utc,lat_deg,lon_deg,alt_gnss_ft\n"));
  EXPECT_FALSE(looks_like_accelerometer("time_utc,ias_kt,baro_alt_ft,pitch_deg\n"));
  EXPECT_FALSE(looks_like_accelerometer("time,lat,lon,ax,ay,az\n"));
  EXPECT_FALSE(looks_like_accelerometer("time,gyro_x,gyro_y,gyro_z\n"));
  EXPECT_FALSE(looks_like_accelerometer("time,accuracy\n"));
}

}  // namespace
}  // namespace glidewright
