#include "formats/kml.hpp"

#include <fmt/format.h>

#include <array>
#include <optional>

#include "formats/fix_order.hpp"
#include "formats/lines.hpp"
#include "formats/number.hpp"
#include "formats/position_text.hpp"
#include "formats/shown.hpp"
#include "formats/time.hpp"
#include "formats/xml_pull.hpp"

namespace glidewright {
namespace {

struct WrittenText {
  std::string text;
  std::size_t offset = 0;
};

/// "81.94276 -31.72503 730.6": two or three numbers between blanks.
std::array<std::string_view, 3> three_parts(std::string_view text) {
  std::array<std::string_view, 3> parts;
  std::size_t count = 0;
  while (count < parts.size()) {
    text = trim_blanks(text);
    if (text.empty()) break;
    const auto end = text.find_first_of(" \t\r\n");
    parts[count++] = text.substr(0, end);
    if (end == std::string_view::npos) break;
    text.remove_prefix(end);
  }
  return parts;
}

class KmlReader {
 public:
  KmlReader(std::string_view bytes, std::string_view name) : bytes_(bytes), name_(name), xml_(bytes) {}

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
    if (name == "Track") {
      in_track_ = true;
      track_offset_ = xml_.offset();
      absolute_ = false;
      times_.clear();
      coordinates_.clear();
    } else if (name == "LineString") {
      ++untimed_paths_;
    }
  }

  void end() {
    const auto name = xml_.name();
    if (in_track_) {
      if (name == "when") times_.push_back({std::string(content_), xml_.offset()});
      if (name == "coord") coordinates_.push_back({std::string(content_), xml_.offset()});
      if (name == "altitudeMode") absolute_ = trim_blanks(content_) == "absolute";
      if (name == "Track") end_track();
    }
    content_ = {};
  }

  void end_track() {
    in_track_ = false;
    if (times_.size() != coordinates_.size()) {
      return fail(track_offset_,
                  fmt::format("a Track has {} times (when) and {} places (coord); expected as many",
                              times_.size(), coordinates_.size()));
    }
    if (times_.empty()) return;
    points_ += times_.size();
    for (std::size_t i = 0; i < times_.size() && failure_.empty(); ++i) add_fix(times_[i], coordinates_[i]);
    if (!absolute_) ++without_altitude_;
    ++segment_;
  }

  void add_fix(const WrittenText& when, const WrittenText& coordinate) {
    const auto time = unix_seconds(when.text);
    if (!time) return repairs_.add(Repair::unreadable_time, when.offset);
    const auto [longitude_text, latitude_text, altitude_text] = three_parts(coordinate.text);
    // A receiver without a position leaves the place empty.
    if (latitude_text.empty()) return repairs_.add(Repair::no_position_yet, coordinate.offset);
    std::string why;
    const auto place = read_position(read_number(latitude_text), latitude_text, read_number(longitude_text),
                                     longitude_text, why);
    if (!place) return fail(coordinate.offset, why);
    if (place->latitude_deg == 0.0 && place->longitude_deg == 0.0)
      return repairs_.add(Repair::no_position_yet, coordinate.offset);
    Fix fix;
    fix.time_unix_s = *time;
    fix.place = *place;
    fix.segment = segment_;
    if (absolute_ && !altitude_text.empty()) {
      if (const auto metres = read_number(altitude_text)) {
        fix.altitude_ft = to_feet(Metres{*metres}).value;
      } else {
        repairs_.add(Repair::unreadable_altitude, coordinate.offset);
      }
    }
    fixes_.push_back({fix, coordinate.offset});
  }

  void truncated_or_broken() {
    if (xml_.is_truncated() && in_track_) {
      // What stands as a pair is whole.
      const auto whole = std::min(times_.size(), coordinates_.size());
      times_.resize(whole);
      coordinates_.resize(whole);
      end_track();
    }
    if (!failure_.empty()) return;
    if (!xml_.is_truncated() || fixes_.size() < 2) return fail(xml_.offset(), xml_.error());
    notes_.push_back(fmt::format("line {}: {}; the {} fixes before it are kept",
                                 line_at(bytes_, xml_.offset()), xml_.error(), fixes_.size()));
  }

  void fail(std::size_t offset, const std::string& what) {
    failure_ = fmt::format("{}:{}: {}", name_, line_at(bytes_, offset), what);
  }

  Result<TrackLog> finish() {
    if (!failure_.empty()) return Error{failure_};
    if (points_ == 0) {
      return Error{fmt::format("{}: KML {}; expected a Track with when and coord", name_,
                               untimed_paths_ > 0 ? "with a path but no times" : "without a track")};
    }
    if (without_altitude_ > 0)
      notes_.emplace_back("heights are not absolute (altitudeMode) and are left out");
    auto ordered = order_fixes(std::move(fixes_), repairs_, name_);
    if (!ordered) return ordered.error();
    TrackLog log;
    log.format = "kml";
    log.fixes = std::move(ordered->fixes);
    log.freezes = std::move(ordered->freezes);
    log.notes = repairs_.sentences(bytes_);
    log.notes.insert(log.notes.end(), notes_.begin(), notes_.end());
    return log;
  }

  std::string_view bytes_;
  std::string_view name_;
  XmlPull xml_;
  std::string_view content_;
  std::string failure_;
  bool in_track_ = false;
  bool absolute_ = false;
  std::size_t track_offset_ = 0;
  std::vector<WrittenText> times_, coordinates_;
  std::size_t points_ = 0, untimed_paths_ = 0, without_altitude_ = 0;
  std::uint32_t segment_ = 0;
  std::vector<Placed<Fix>> fixes_;
  Repairs repairs_;
  std::vector<std::string> notes_;
};

}  // namespace

Result<TrackLog> read_kml(std::string_view bytes, std::string_view name) {
  return KmlReader(bytes, name).read();
}

}  // namespace glidewright
