#include "formats/track_log.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>

#include "formats/accelerometer_csv.hpp"
#include "formats/csv.hpp"
#include "formats/desk_log.hpp"
#include "formats/gpx.hpp"
#include "formats/igc.hpp"
#include "formats/kml.hpp"
#include "formats/nmea.hpp"
#include "formats/number.hpp"
#include "formats/sha256.hpp"
#include "formats/unpack.hpp"
#include "formats/xml_pull.hpp"

namespace glidewright {
namespace {

bool starts_with(std::string_view bytes, std::string_view token) {
  return bytes.substr(0, token.size()) == token;
}

bool starts_with_any_case(std::string_view bytes, std::string_view lower_case_token) {
  if (bytes.size() < lower_case_token.size()) return false;
  return std::equal(lower_case_token.begin(), lower_case_token.end(), bytes.begin(),
                    [](char expected, char c) {
                      return expected == (c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c);
                    });
}

std::string_view without_byte_order_mark(std::string_view bytes) {
  return starts_with(bytes, "\xEF\xBB\xBF") ? bytes.substr(3) : bytes;
}

struct Signature {
  std::string_view first_bytes;
  std::string_view what;
};

using namespace std::string_view_literals;

constexpr Signature k_not_logs[] = {
    {"%PDF"sv, "is a PDF"},
    {"PK\x03\x04"sv, "is a zip archive inside another packed file; unpack it first"},
    {"\x1F\x8B"sv, "is packed with gzip twice; unpack it first"},
    {"\x89PNG"sv, "is a PNG picture"},
    {"\xFF\xD8\xFF"sv, "is a JPEG picture"},
    {"\xFF\xFE"sv, "is UTF-16 text; save it as UTF-8"},
    {"\xFE\xFF"sv, "is UTF-16 text; save it as UTF-8"},
    {"{"sv, "looks like JSON"},
    {"["sv, "looks like JSON"},
};

/// What a file that is no track log looks like; empty where it may be one.
std::string_view looks_like(std::string_view bytes) {
  for (const auto& signature : k_not_logs) {
    if (starts_with(bytes, signature.first_bytes)) return signature.what;
  }
  const auto text = trim_blanks(bytes.substr(0, 200));
  if (starts_with_any_case(text, "<!doctype html") || starts_with_any_case(text, "<html"))
    return "is an HTML page";
  const auto head = bytes.substr(0, 4096);
  if (head.find('\0') != std::string_view::npos) return "is binary";
  return {};
}

Result<TrackLog> read_position_csv(std::string_view bytes, std::string_view name, const CsvMapping* columns,
                                   std::optional<HeightUnit> heights) {
  if (columns == nullptr && looks_like_accelerometer(bytes))
    return Error{
        fmt::format("{}: an accelerometer's log without positions; open it together with the flight's "
                    "track log (on the command line: --with)",
                    name)};
  auto csv = read_csv(bytes, name, columns, heights);
  if (!csv) return csv.error();
  if (csv->fixes.empty()) {
    return Error{
        fmt::format("{}: panel columns without positions; expected lat_deg and lon_deg, or another log "
                    "that this one goes with",
                    name)};
  }
  TrackLog log;
  log.format = "csv";
  log.fixes = std::move(csv->fixes);
  log.freezes = std::move(csv->freezes);
  log.panel = std::move(csv->panel);
  log.panel_shares_clock = true;
  log.heights_in = csv->heights_in;
  log.notes = std::move(csv->notes);
  if (is_desk_log(bytes)) log.notes.insert(log.notes.begin(), k_desk_note);
  return log;
}

Error not_a_log(std::string_view name, std::string_view what) {
  return Error{fmt::format("{}: {}; expected a track log: GPX, KML, IGC, NMEA or CSV", name, what)};
}

/// Name of the first element, prefix left out; empty where there is none.
std::string root_element(std::string_view text) {
  XmlPull xml(text);
  for (;;) {
    const auto event = xml.next();
    if (event == XmlPull::Event::element_start) return std::string(xml.name());
    if (event != XmlPull::Event::text) return {};
  }
}

/// All that a format writes in metres, taken as feet.
void metres_become_feet(TrackLog& log) {
  const auto change = [](std::optional<double>& altitude_ft) {
    if (altitude_ft) *altitude_ft *= k_metres_per_foot;
  };
  for (Fix& fix : log.fixes) change(fix.altitude_ft);
  for (PanelSample& sample : log.panel) change(sample.pressure_altitude_ft);
}

std::string_view unit_words(HeightUnit unit) {
  return unit == HeightUnit::feet ? "feet" : "metres";
}

/// The unit that was said, in place of the one that format or header have; a CSV's column is read in it
/// already.
void take_heights_in(HeightUnit said, TrackLog& log) {
  if (said == log.heights_in) {
    log.notes.push_back(fmt::format(
        "the heights are read as {} anyway: the unit that is said changes nothing", unit_words(said)));
    return;
  }
  if (log.format != "csv") metres_become_feet(log);
  log.notes.push_back(fmt::format("heights are taken as {}, as is said, and not as {}", unit_words(said),
                                  unit_words(log.heights_in)));
  log.heights_in = said;
}

Result<TrackLog> read_by_content(std::string_view bytes, std::string_view text, std::string_view name,
                                 const CsvMapping* columns, std::optional<HeightUnit> heights) {
  if (trim_blanks(text.substr(0, 200)).substr(0, 1) == "<")
    return root_element(text) == "kml" ? read_kml(bytes, name) : read_gpx(bytes, name);
  if (looks_like_igc(text)) return read_igc(bytes, name);
  if (looks_like_nmea(text)) return read_nmea(bytes, name);
  return read_position_csv(bytes, name, columns, heights);
}

Result<TrackLog> read_plain_log(std::string_view bytes, std::string_view name, const CsvMapping* columns,
                                std::optional<HeightUnit> heights) {
  const auto text = without_byte_order_mark(bytes);
  if (trim_blanks(text).empty()) return not_a_log(name, "the file is empty");
  if (const auto what = looks_like(text); !what.empty()) return not_a_log(name, what);
  auto log = read_by_content(bytes, text, name, columns, heights);
  if (!log) return log;
  log->sha256 = sha256_hex(bytes);
  if (heights) take_heights_in(*heights, *log);
  return log;
}

Result<std::vector<PanelSample>> read_plain_panel(std::string_view bytes, std::string_view name,
                                                  const CsvMapping* columns,
                                                  std::optional<HeightUnit> heights) {
  const auto text = without_byte_order_mark(bytes);
  if (trim_blanks(text).empty()) return Error{fmt::format("{}: the file is empty; expected a CSV log", name)};
  if (const auto what = looks_like(text); !what.empty()) {
    return Error{fmt::format("{}: {}; expected a CSV log", name, what)};
  }
  auto csv = read_csv(bytes, name, columns, heights);
  if (!csv) return csv.error();
  if (csv->panel.empty()) {
    return Error{
        fmt::format("{}: no panel column; expected one of ias_kt, baro_alt_ft, pitch_deg, roll_deg, "
                    "heading_true_deg, rpm, oat_c, flap_deg",
                    name)};
  }
  return std::move(csv->panel);
}

}  // namespace

Result<TrackLog> read_track_log(std::string_view bytes, std::string_view name, const CsvMapping* columns,
                                std::optional<HeightUnit> heights) {
  if (!is_packed(bytes)) return read_plain_log(bytes, name, columns, heights);
  const auto unpacked = unpack(bytes, name);
  if (!unpacked) return unpacked.error();
  auto log = read_plain_log(unpacked->bytes, unpacked->name, columns, heights);
  if (log) log->notes.insert(log->notes.begin(), unpacked->notes.begin(), unpacked->notes.end());
  return log;
}

Result<std::vector<PanelSample>> read_panel(std::string_view bytes, std::string_view name,
                                            const CsvMapping* columns, std::optional<HeightUnit> heights) {
  if (!is_packed(bytes)) return read_plain_panel(bytes, name, columns, heights);
  const auto unpacked = unpack(bytes, name);
  if (!unpacked) return unpacked.error();
  return read_plain_panel(unpacked->bytes, unpacked->name, columns, heights);
}

}  // namespace glidewright
