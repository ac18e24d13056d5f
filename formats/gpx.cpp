#include "formats/gpx.hpp"

#include <fmt/format.h>

#include "formats/fix_order.hpp"
#include "formats/lines.hpp"
#include "formats/number.hpp"
#include "formats/position_text.hpp"
#include "formats/shown.hpp"
#include "formats/time.hpp"
#include "formats/xml_pull.hpp"

namespace glidewright {
namespace {

constexpr double k_knots_per_metre_per_second = 3600.0 / k_metres_per_nautical_mile;

class GpxReader {
 public:
  GpxReader(std::string_view bytes, std::string_view name) : bytes_(bytes), name_(name), xml_(bytes) {}

  Result<TrackLog> read() {
    for (;;) {
      switch (xml_.next()) {
        case XmlPull::Event::element_start:
          start();
          break;
        case XmlPull::Event::text:
          content_ = xml_.text();
          break;
        case XmlPull::Event::element_end:
          end();
          break;
        case XmlPull::Event::error:
          if (failure_.empty()) truncated_or_broken();
          return finish();
        case XmlPull::Event::end_of_document:
          return finish();
      }
      if (!failure_.empty()) return finish();
    }
  }

 private:
  void start() {
    content_ = {};
    const auto name = xml_.name();
    if (xml_.depth() == 1 && name != "gpx") {
      fail(fmt::format("XML with root element <{}>; expected <gpx>", shown(name)));
    } else if (name == "trkpt") {
      start_point();
    } else if (name == "trkseg") {
      // Only a segment that has points counts, so that numbers have no gaps.
      if (segment_has_points_) ++segment_;
      segment_has_points_ = false;
    }
  }

  void start_point() {
    in_point_ = true;
    offset_ = xml_.offset();
    fix_ = Fix{};
    time_ = Time::missing;
    const auto latitude_text = std::string(xml_.attribute("lat").value_or(""));
    const auto longitude_text = std::string(xml_.attribute("lon").value_or(""));
    std::string why;
    const auto place = read_position(read_number(latitude_text), latitude_text, read_number(longitude_text),
                                     longitude_text, why);
    if (!place) return fail(why);
    fix_.place = *place;
    fix_.segment = segment_;
  }

  void end() {
    if (!in_point_) return;
    const auto name = xml_.name();
    if (name == "trkpt") {
      end_point();
    } else if (name == "ele") {
      const auto metres = read_number(content_);
      if (metres) {
        fix_.altitude_ft = to_feet(Metres{*metres}).value;
      } else {
        repairs_.add(Repair::unreadable_altitude, xml_.offset());
      }
    } else if (name == "time") {
      const auto time = unix_seconds(content_);
      time_ = time ? Time::known : Time::unreadable;
      fix_.time_unix_s = time.value_or(0.0);
    } else if (name == "speed") {
      const auto speed = read_number(content_);
      if (speed && *speed >= 0.0) fix_.groundspeed_kt = *speed * k_knots_per_metre_per_second;
    } else if (name == "course") {
      const auto course = read_number(content_);
      if (course && *course >= 0.0 && *course <= 360.0) fix_.course_true_deg = wrap_360_deg(*course);
    }
    content_ = {};
  }

  void end_point() {
    in_point_ = false;
    segment_has_points_ = true;
    ++points_;
    if (time_ == Time::missing) return repairs_.add(Repair::no_time, offset_);
    if (time_ == Time::unreadable) return repairs_.add(Repair::unreadable_time, offset_);
    if (fix_.place.latitude_deg == 0.0 && fix_.place.longitude_deg == 0.0) {
      return repairs_.add(Repair::no_position_yet, offset_);
    }
    fixes_.push_back({fix_, offset_});
  }

  void truncated_or_broken() {
    if (!xml_.is_truncated() || fixes_.size() < 2) return fail(xml_.error());
    notes_.push_back(fmt::format("line {}: {}; the {} fixes before it are kept",
                                 line_at(bytes_, xml_.offset()), xml_.error(), fixes_.size()));
  }

  void fail(const std::string& what) {
    // A broken entity inside an attribute is known to the XML reader first.
    const auto& sentence = xml_.error().empty() ? what : xml_.error();
    failure_ = fmt::format("{}:{}: {}", name_, line_at(bytes_, xml_.offset()), sentence);
  }

  Result<TrackLog> finish() {
    if (!failure_.empty()) return Error{failure_};
    if (points_ == 0) return Error{fmt::format("{}: GPX without track points; expected <trkpt>", name_)};
    if (repairs_.count(Repair::no_time) == points_) {
      return Error{fmt::format("{}: no track point has a time; expected <time> in each <trkpt>", name_)};
    }
    if (fixes_.empty() && repairs_.count(Repair::unreadable_time) > 0) {
      return Error{fmt::format("{}:{}: time cannot be read; expected UTC such as 2026-05-14T20:02:55Z", name_,
                               line_at(bytes_, repairs_.first_offset(Repair::unreadable_time)))};
    }
    auto ordered = order_fixes(std::move(fixes_), repairs_, name_);
    if (!ordered) return ordered.error();
    TrackLog log;
    log.format = "gpx";
    log.fixes = std::move(ordered->fixes);
    log.freezes = std::move(ordered->freezes);
    log.notes = repairs_.sentences(bytes_);
    log.notes.insert(log.notes.end(), notes_.begin(), notes_.end());
    return log;
  }

  enum class Time { missing, unreadable, known };

  std::string_view bytes_;
  std::string_view name_;
  XmlPull xml_;
  std::string_view content_;
  std::string failure_;
  std::vector<Placed<Fix>> fixes_;
  std::size_t points_ = 0;
  Repairs repairs_;
  std::vector<std::string> notes_;

  Fix fix_;
  std::size_t offset_ = 0;
  Time time_ = Time::missing;
  bool in_point_ = false;
  std::uint32_t segment_ = 0;
  bool segment_has_points_ = false;
};

}  // namespace

Result<TrackLog> read_gpx(std::string_view bytes, std::string_view name) {
  return GpxReader(bytes, name).read();
}

}  // namespace glidewright
