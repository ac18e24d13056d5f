#include "formats/track_writers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "formats/time.hpp"

namespace glidewright {
namespace {

constexpr double k_knots_per_metre_per_second = 3600.0 / k_metres_per_nautical_mile;
constexpr int k_time_decimals = 3;

/// Trailing zeros cut off, never "-0".
void put(std::string& out, double value, int decimals) {
  const auto begin = out.size();
  fmt::format_to(std::back_inserter(out), "{:.{}f}", value, decimals);
  if (decimals > 0) {
    while (out.back() == '0') out.pop_back();
    if (out.back() == '.') out.pop_back();
  }
  if (std::string_view(out).substr(begin) == "-0") out.erase(begin, 1);
}

/// The fixes of each segment, one after the other.
template <class Use>
void for_each_segment(const TrackLog& log, Use use) {
  auto begin = log.fixes.begin();
  while (begin != log.fixes.end()) {
    const auto end =
        std::find_if(begin, log.fixes.end(), [&](const Fix& fix) { return fix.segment != begin->segment; });
    use(begin, end);
    begin = end;
  }
}

using FixIterator = std::vector<Fix>::const_iterator;

void put_track_point(std::string& out, const Fix& fix) {
  out += "<trkpt lat=\"";
  put(out, fix.place.latitude_deg, 8);
  out += "\" lon=\"";
  put(out, fix.place.longitude_deg, 8);
  out += "\">";
  if (fix.altitude_ft) {
    out += "<ele>";
    put(out, *fix.altitude_ft * k_metres_per_foot, 3);
    out += "</ele>";
  }
  out += "<time>" + iso8601_utc(fix.time_unix_s, k_time_decimals) + "</time>";
  if (fix.groundspeed_kt || fix.course_true_deg) {
    out += "<extensions>";
    if (fix.groundspeed_kt) {
      out += "<flown:speed>";
      put(out, *fix.groundspeed_kt / k_knots_per_metre_per_second, 3);
      out += "</flown:speed>";
    }
    if (fix.course_true_deg) {
      out += "<flown:course>";
      put(out, *fix.course_true_deg, 2);
      out += "</flown:course>";
    }
    out += "</extensions>";
  }
  out += "</trkpt>\n";
}

/// A column of the CSV: the value of a row, where it has one.
template <class Row>
struct Column {
  const char* header;
  std::optional<double> Row::*value;
  int decimals;
};

constexpr Column<Fix> k_fix_columns[] = {{"alt_gnss_ft", &Fix::altitude_ft, 3},
                                         {"groundspeed_kt", &Fix::groundspeed_kt, 3},
                                         {"track_deg", &Fix::course_true_deg, 2}};
constexpr Column<PanelSample> k_panel_columns[] = {
    {"ias_kt", &PanelSample::indicated_airspeed_kt, 3},
    {"baro_alt_ft", &PanelSample::pressure_altitude_ft, 3},
    {"pitch_deg", &PanelSample::pitch_deg, 2},
    {"roll_deg", &PanelSample::roll_deg, 2},
    {"heading_true_deg", &PanelSample::heading_true_deg, 2},
    {"rpm", &PanelSample::powerplant_rpm, 3},
    {"flap_deg", &PanelSample::flap_deg, 2},
    {"oat_c", &PanelSample::outside_air_temperature_c, 2},
};

/// Those columns in which anything stands.
template <class Row, std::size_t count>
std::vector<Column<Row>> columns_used(const Column<Row> (&columns)[count], const std::vector<Row>& rows) {
  std::vector<Column<Row>> used;
  for (const auto& column : columns) {
    if (std::any_of(rows.begin(), rows.end(),
                    [&](const Row& row) { return (row.*column.value).has_value(); }))
      used.push_back(column);
  }
  return used;
}

template <class Row>
void put_values(std::string& out, const Row* row, const std::vector<Column<Row>>& columns) {
  for (const auto& column : columns) {
    out += ',';
    if (row != nullptr && row->*column.value) put(out, *(row->*column.value), column.decimals);
  }
}

class CsvWriter {
 public:
  explicit CsvWriter(const TrackLog& log)
      : log_(log),
        segments_(!log.fixes.empty() && log.fixes.front().segment != log.fixes.back().segment),
        fix_columns_(columns_used(k_fix_columns, log.fixes)),
        panel_columns_(columns_used(k_panel_columns, log.panel)) {}

  std::string write() {
    put_header();
    auto fix = log_.fixes.begin();
    auto sample = log_.panel.begin();
    while (fix != log_.fixes.end() || sample != log_.panel.end()) {
      const bool fix_next =
          sample == log_.panel.end() || (fix != log_.fixes.end() && fix->time_unix_s <= sample->time_unix_s);
      const bool sample_next =
          fix == log_.fixes.end() || (sample != log_.panel.end() && sample->time_unix_s <= fix->time_unix_s);
      put_row(fix_next ? &*fix : nullptr, sample_next ? &*sample : nullptr);
      if (fix_next) ++fix;
      if (sample_next) ++sample;
    }
    return std::move(out_);
  }

 private:
  void put_header() {
    out_ = "time_utc,lat_deg,lon_deg";
    if (segments_) out_ += ",segment";
    for (const auto& column : fix_columns_) out_ += std::string(",") + column.header;
    for (const auto& column : panel_columns_) out_ += std::string(",") + column.header;
    out_ += '\n';
  }

  void put_row(const Fix* fix, const PanelSample* sample) {
    out_ += iso8601_utc(fix != nullptr ? fix->time_unix_s : sample->time_unix_s, k_time_decimals);
    out_ += ',';
    if (fix != nullptr) put(out_, fix->place.latitude_deg, 8);
    out_ += ',';
    if (fix != nullptr) put(out_, fix->place.longitude_deg, 8);
    if (segments_) out_ += ',' + (fix != nullptr ? std::to_string(fix->segment) : std::string());
    put_values(out_, fix, fix_columns_);
    put_values(out_, sample, panel_columns_);
    out_ += '\n';
  }

  const TrackLog& log_;
  bool segments_;
  std::vector<Column<Fix>> fix_columns_;
  std::vector<Column<PanelSample>> panel_columns_;
  std::string out_;
};

void put_position(std::string& out, const Fix& fix) {
  out += '[';
  put(out, fix.place.longitude_deg, 8);
  out += ',';
  put(out, fix.place.latitude_deg, 8);
  if (fix.altitude_ft) {
    out += ',';
    put(out, *fix.altitude_ft * k_metres_per_foot, 3);
  }
  out += ']';
}

/// "name": one value for each fix, null where it has none; nothing where none has one.
void put_list(std::string& out, const char* name, FixIterator begin, FixIterator end,
              std::optional<double> Fix::*value, int decimals) {
  if (std::none_of(begin, end, [&](const Fix& fix) { return (fix.*value).has_value(); })) return;
  out += std::string(",\"") + name + "\":[";
  for (auto fix = begin; fix != end; ++fix) {
    if (fix != begin) out += ',';
    if ((*fix).*value) {
      put(out, *((*fix).*value), decimals);
    } else {
      out += "null";
    }
  }
  out += ']';
}

void put_feature(std::string& out, FixIterator begin, FixIterator end) {
  const bool line = end - begin > 1;
  out += line ? R"({"type":"Feature","geometry":{"type":"LineString","coordinates":[)"
              : R"({"type":"Feature","geometry":{"type":"Point","coordinates":)";
  for (auto fix = begin; fix != end; ++fix) {
    if (fix != begin) out += ',';
    put_position(out, *fix);
  }
  out += line ? "]}" : "}";
  out += R"(,"properties":{"altitude":"metres above mean sea level, as recorded","time_utc":[)";
  for (auto fix = begin; fix != end; ++fix) {
    if (fix != begin) out += ',';
    out += '"' + iso8601_utc(fix->time_unix_s, k_time_decimals) + '"';
  }
  out += ']';
  put_list(out, "groundspeed_kt", begin, end, &Fix::groundspeed_kt, 3);
  put_list(out, "course_true_deg", begin, end, &Fix::course_true_deg, 2);
  out += "}}";
}

}  // namespace

std::string write_gpx(const TrackLog& log) {
  std::string out =
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
      "<gpx version=\"1.1\" creator=\"Glidewright\" xmlns=\"http://www.topografix.com/GPX/1/1\" "
      "xmlns:flown=\"urn:glidewright:flown:1\">\n<trk>\n";
  for_each_segment(log, [&](FixIterator begin, FixIterator end) {
    out += "<trkseg>\n";
    for (auto fix = begin; fix != end; ++fix) put_track_point(out, *fix);
    out += "</trkseg>\n";
  });
  return out + "</trk>\n</gpx>\n";
}

std::string write_csv(const TrackLog& log) {
  return CsvWriter(log).write();
}

std::string write_geojson(const TrackLog& log) {
  std::string out = R"({"type":"FeatureCollection","features":[)";
  bool first = true;
  for_each_segment(log, [&](FixIterator begin, FixIterator end) {
    out += first ? "\n" : ",\n";
    first = false;
    put_feature(out, begin, end);
  });
  return out + "\n]}\n";
}

}  // namespace glidewright
