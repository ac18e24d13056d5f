#pragma once
// Long logs in every format, written for measuring the readers: a straight line at 60 kt, a fix a second.

#include <fmt/format.h>

#include <cmath>
#include <string>

#include "formats/time.hpp"

namespace glidewright {

inline constexpr int k_written_fixes = 80'000;                     // the better part of a day
inline constexpr double k_written_start_unix_s = 1'775'260'800.0;  // a midnight

struct WrittenPlace {
  double time_unix_s, latitude_deg, longitude_deg, altitude_m;
};

inline WrittenPlace written_place(int i) {
  return {k_written_start_unix_s + i, 10.0 + i * 2.5e-4, 20.0 + 1e-6 * (i % 17), 300.0 + 0.1 * (i % 50)};
}

inline std::string written_gpx() {
  std::string text = "<?xml version=\"1.0\"?>\n<gpx version=\"1.1\"><trk><trkseg>\n";
  for (int i = 0; i < k_written_fixes; ++i) {
    const auto p = written_place(i);
    text += fmt::format("<trkpt lat=\"{:.7f}\" lon=\"{:.7f}\"><ele>{:.1f}</ele><time>{}</time></trkpt>\n",
                        p.latitude_deg, p.longitude_deg, p.altitude_m, iso8601_utc(p.time_unix_s, 0));
  }
  return text + "</trkseg></trk></gpx>\n";
}

inline std::string written_csv() {
  std::string text = "time_utc,lat_deg,lon_deg,alt_gnss_ft,groundspeed_kt,track_deg\n";
  for (int i = 0; i < k_written_fixes; ++i) {
    const auto p = written_place(i);
    text += fmt::format("{},{:.8f},{:.8f},{:.1f},60.0,0.0\n", iso8601_utc(p.time_unix_s, 2), p.latitude_deg,
                        p.longitude_deg, p.altitude_m / 0.3048);
  }
  return text;
}

/// "hhmmss" of a moment.
inline std::string written_time_of_day(double time_unix_s) {
  const std::string iso = iso8601_utc(time_unix_s, 0);
  return iso.substr(11, 2) + iso.substr(14, 2) + iso.substr(17, 2);
}

inline std::string written_igc() {
  std::string text = "AXXX001\r\nHFDTE040426\r\n";
  for (int i = 0; i < k_written_fixes; ++i) {
    const auto p = written_place(i);
    const auto angle = [](double deg, int width) {
      const long thousandths = std::lround(deg * 60000.0);
      return fmt::format("{:0{}}{:05}", thousandths / 60000, width, thousandths % 60000);
    };
    text +=
        fmt::format("B{}{}N{}EA{:05.0f}{:05.0f}\r\n", written_time_of_day(p.time_unix_s),
                    angle(p.latitude_deg, 2), angle(p.longitude_deg, 3), p.altitude_m, p.altitude_m + 40.0);
  }
  return text;
}

inline std::string written_nmea() {
  std::string text;
  const auto add = [&](const std::string& body) {
    unsigned sum = 0;
    for (const char c : body) sum ^= static_cast<unsigned char>(c);
    text += fmt::format("${}*{:02X}\r\n", body, sum);
  };
  for (int i = 0; i < k_written_fixes; ++i) {
    const auto p = written_place(i);
    const auto angle = [](double deg, int width) {
      const double whole = std::floor(deg);
      return fmt::format("{:0{}.0f}{:08.5f}", whole, width, std::min(59.99999, (deg - whole) * 60.0));
    };
    const std::string time = written_time_of_day(p.time_unix_s), north = angle(p.latitude_deg, 2),
                      east = angle(p.longitude_deg, 3);
    add(fmt::format("GPGGA,{}.00,{},N,{},E,1,10,0.9,{:.1f},M,40.0,M,,", time, north, east, p.altitude_m));
    add(fmt::format("GPRMC,{}.00,A,{},N,{},E,60.0,0.0,040426,,,A", time, north, east));
  }
  return text;
}

}  // namespace glidewright
