#include "formats/desk_log.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "formats/track_writers.hpp"

namespace glidewright {
namespace {

constexpr std::string_view k_mark = "# glidewright desk flight";

/// What the panel shows of a powerplant that nobody sees: only that it idles from abeam on.
constexpr double k_cruise_rpm = 2200.0, k_idle_rpm = 900.0;

}  // namespace

const std::string k_desk_note = "a desk flight, flown at a screen: no flight, and never counted as one";

std::string write_desk_log(const DeskFlight& flight, const RunwayFrame& frame, double abeam_unix_s) {
  TrackLog log;
  const bool went_around = flight.end == DeskEnd::went_around;
  for (const Moment& moment : flight.track) {
    const double time_unix_s = abeam_unix_s + moment.time_s;
    Fix fix;
    fix.time_unix_s = time_unix_s;
    fix.place = frame.to_geodetic({moment.along_ft, moment.cross_ft});
    fix.altitude_ft = frame.point_elevation_ft() + moment.height_ft;
    fix.groundspeed_kt = moment.groundspeed_kt;
    log.fixes.push_back(fix);
    PanelSample sample;
    sample.time_unix_s = time_unix_s;
    sample.indicated_airspeed_kt = moment.calibrated_airspeed_kt;
    sample.roll_deg = moment.bank_deg;
    sample.heading_true_deg = moment.heading_true_deg;
    sample.flap_deg = moment.flap_deg;
    const bool power = moment.time_s < 0.0 || (went_around && moment.time_s > flight.now.time_s);
    sample.powerplant_rpm = power ? k_cruise_rpm : k_idle_rpm;
    log.panel.push_back(sample);
  }
  return fmt::format("{}\n{}", k_mark, write_csv(log));
}

bool is_desk_log(std::string_view bytes) {
  return bytes.substr(0, k_mark.size()) == k_mark;
}

bool is_desk_flight(const std::vector<std::string>& notes_of_log) {
  return std::find(notes_of_log.begin(), notes_of_log.end(), k_desk_note) != notes_of_log.end();
}

}  // namespace glidewright
