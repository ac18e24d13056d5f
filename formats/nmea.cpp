#include "formats/nmea.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <optional>

#include "formats/fix_order.hpp"
#include "formats/number.hpp"
#include "formats/text_lines.hpp"
#include "formats/time.hpp"

namespace glidewright {
namespace {

constexpr double k_day_s = 86400.0;
constexpr double k_half_day_s = 43200.0;
constexpr std::size_t k_most_fields = 24;

/// The parts of one sentence, "$" and checksum cut off: address first.
struct Sentence {
  std::array<std::string_view, k_most_fields> fields;
  std::size_t count = 0;

  std::string_view operator[](std::size_t i) const { return i < count ? fields[i] : std::string_view(); }
  /// "GGA" of "GPGGA" and of any other talker.
  std::string_view kind() const { return fields[0].size() == 5 ? fields[0].substr(2) : std::string_view(); }
};

Sentence split(std::string_view body) {
  Sentence sentence;
  while (sentence.count < k_most_fields) {
    const auto comma = body.find(',');
    sentence.fields[sentence.count++] = body.substr(0, comma);
    if (comma == std::string_view::npos) break;
    body.remove_prefix(comma + 1);
  }
  return sentence;
}

int hexadecimal(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  return -1;
}

enum class Checksum { agrees, missing, wrong };

/// Exclusive or of everything between "$" and "*".
Checksum check(std::string_view& body) {
  const auto star = body.rfind('*');
  if (star == std::string_view::npos) return Checksum::missing;
  const auto told = body.substr(star + 1);
  body = body.substr(0, star);
  if (told.size() < 2) return Checksum::wrong;
  unsigned sum = 0;
  for (const char c : body) sum ^= static_cast<unsigned char>(c);
  const int high = hexadecimal(told[0]), low = hexadecimal(told[1]);
  if (high < 0 || low < 0) return Checksum::wrong;
  return sum == static_cast<unsigned>(16 * high + low) ? Checksum::agrees : Checksum::wrong;
}

/// "hhmmss.sss" as seconds of the day.
std::optional<double> time_of_day_s(std::string_view text) {
  const auto value = read_number(text);
  if (!value || text.size() < 6 || *value < 0.0 || *value >= 240000.0) return std::nullopt;
  const double whole = std::floor(*value);
  const double hour = std::floor(whole / 10000.0), minute = std::floor(std::fmod(whole, 10000.0) / 100.0);
  const double second = std::fmod(*value, 100.0);
  if (minute >= 60.0 || second >= 61.0) return std::nullopt;
  return hour * 3600.0 + minute * 60.0 + second;
}

/// Midnight of "ddmmyy" or of day, month and year.
std::optional<double> day_s(std::string_view day, std::string_view month, std::string_view year) {
  const auto days = read_date(fmt::format("{}-{}-{}", year, month, day));
  if (!days) return std::nullopt;
  return static_cast<double>(*days) * k_day_s;
}

/// "4807.038" and "N" or "S" in degrees.
std::optional<double> angle_deg(std::string_view text, std::string_view side, char positive, char negative,
                                double largest_deg) {
  const auto value = read_number(text);
  if (!value || *value < 0.0 || side.size() != 1) return std::nullopt;
  const double degrees = std::floor(*value / 100.0), minutes = *value - 100.0 * degrees;
  const double angle = degrees + minutes / 60.0;
  if (minutes >= 60.0 || angle > largest_deg) return std::nullopt;
  if (side[0] == positive) return angle;
  if (side[0] == negative) return -angle;
  return std::nullopt;
}

/// Where the latitude stands in a sentence; its side, the longitude and that side follow.
constexpr std::size_t k_gga_latitude = 2, k_rmc_latitude = 3;

bool gga_has_fix(const Sentence& sentence) {
  return !sentence[6].empty() && sentence[6] != "0";
}
bool rmc_has_fix(const Sentence& sentence) {
  return sentence[2] == "A";
}

std::optional<Geodetic> place_in(const Sentence& sentence, std::size_t latitude_field) {
  const auto latitude = angle_deg(sentence[latitude_field], sentence[latitude_field + 1], 'N', 'S', 90.0);
  const auto longitude =
      angle_deg(sentence[latitude_field + 2], sentence[latitude_field + 3], 'E', 'W', 180.0);
  if (!latitude || !longitude) return std::nullopt;
  return Geodetic{*latitude, *longitude == 180.0 ? -180.0 : *longitude};
}

/// Everything said about one time of day.
struct Epoch {
  double time_of_day_s = 0.0;
  std::optional<double> day_s;
  std::optional<Geodetic> place;
  std::optional<double> altitude_ft, groundspeed_kt, course_true_deg;
  std::size_t offset = 0;
};

class NmeaReader {
 public:
  NmeaReader(std::string_view bytes, std::string_view name) : bytes_(bytes), name_(name) {}

  Result<TrackLog> read() {
    TextLines lines(bytes_);
    while (const auto line = lines.next()) {
      // Loggers put a time of their own before the sentence.
      const auto dollar = line->text.find('$');
      if (dollar == std::string_view::npos) continue;
      offset_ = line->offset;
      take(line->text.substr(dollar + 1));
    }
    return finish();
  }

 private:
  void take(std::string_view body) {
    const Checksum checksum = check(body);
    const Sentence sentence = split(body);
    const auto kind = sentence.kind();
    if (kind != "GGA" && kind != "RMC" && kind != "VTG" && kind != "ZDA") return;
    ++sentences_;
    if (checksum == Checksum::wrong) return repairs_.add(Repair::wrong_checksum, offset_);
    if (kind == "GGA") take_gga(sentence);
    if (kind == "RMC") take_rmc(sentence);
    if (kind == "VTG") take_vtg(sentence);
    if (kind == "ZDA") take_zda(sentence);
  }

  /// The epoch of this time: one of the last few, since sentences of two moments may be shuffled, or a new
  /// one.
  Epoch* epoch_at(std::string_view time_text) {
    const auto time = time_of_day_s(time_text);
    if (!time) {
      repairs_.add(Repair::unreadable_time, offset_);
      return nullptr;
    }
    constexpr std::size_t shuffled = 4;
    for (std::size_t back = 1; back <= std::min(shuffled, epochs_.size()); ++back) {
      Epoch& epoch = epochs_[epochs_.size() - back];
      if (epoch.time_of_day_s == *time) return &epoch;
    }
    epochs_.push_back({});
    epochs_.back().time_of_day_s = *time;
    epochs_.back().offset = offset_;
    return &epochs_.back();
  }

  void take_place(Epoch& epoch, const std::optional<Geodetic>& place) {
    if (!place) return repairs_.add(Repair::unreadable_line, offset_);
    epoch.place = place;
  }

  /// $--GGA,time,lat,N,lon,E,quality,satellites,hdop,altitude,M,separation,M,...
  void take_gga(const Sentence& sentence) {
    if (sentence[1].empty()) return repairs_.add(Repair::no_position_yet, offset_);
    Epoch* epoch = epoch_at(sentence[1]);
    if (!epoch) return;
    if (!gga_has_fix(sentence)) return repairs_.add(Repair::no_position_yet, offset_);
    take_place(*epoch, place_in(sentence, k_gga_latitude));
    if (const auto altitude = read_number(sentence[9])) epoch->altitude_ft = to_feet(Metres{*altitude}).value;
  }

  /// $--RMC,time,A,lat,N,lon,E,speed,course,ddmmyy,...
  void take_rmc(const Sentence& sentence) {
    if (sentence[1].empty()) return repairs_.add(Repair::no_position_yet, offset_);
    Epoch* epoch = epoch_at(sentence[1]);
    if (!epoch) return;
    const auto date = sentence[9];
    if (date.size() == 6) {
      const auto century = date.substr(4) < "80" ? "20" : "19";
      epoch->day_s = day_s(date.substr(0, 2), date.substr(2, 2), century + std::string(date.substr(4)));
    }
    if (!rmc_has_fix(sentence)) return repairs_.add(Repair::no_position_yet, offset_);
    if (!epoch->place) take_place(*epoch, place_in(sentence, k_rmc_latitude));
    take_motion(*epoch, sentence[7], sentence[8]);
  }

  /// $--VTG,course,T,course,M,knots,N,km/h,K: of the moment told last.
  void take_vtg(const Sentence& sentence) {
    if (epochs_.empty()) return;
    take_motion(epochs_.back(), sentence[5], sentence[2] == "T" ? sentence[1] : std::string_view());
  }

  /// $--ZDA,time,day,month,year,...
  void take_zda(const Sentence& sentence) {
    if (sentence[1].empty()) return;
    if (Epoch* epoch = epoch_at(sentence[1])) epoch->day_s = day_s(sentence[2], sentence[3], sentence[4]);
  }

  static void take_motion(Epoch& epoch, std::string_view knots, std::string_view course) {
    const auto speed = read_number(knots);
    if (speed && *speed >= 0.0 && *speed < 2000.0) epoch.groundspeed_kt = *speed;
    const auto degrees = read_number(course);
    if (degrees && *degrees >= 0.0 && *degrees <= 360.0) epoch.course_true_deg = wrap_360_deg(*degrees);
  }

  /// Days told by the receiver, carried on past midnight and back to the beginning.
  void date_epochs() {
    std::optional<std::size_t> first;
    for (std::size_t i = 0; i < epochs_.size() && !first; ++i)
      if (epochs_[i].day_s) first = i;
    if (!first) notes_.emplace_back("no date in the log (RMC or ZDA); times are of 1970-01-01");
    const auto midnight_between = [](const Epoch& a, const Epoch& b) {
      return a.time_of_day_s - b.time_of_day_s > k_half_day_s ? k_day_s : 0.0;
    };
    if (epochs_.empty()) return;
    const std::size_t start = first.value_or(0);
    if (!first) epochs_[0].day_s = 0.0;
    for (std::size_t i = start; i-- > 0;)
      epochs_[i].day_s = *epochs_[i + 1].day_s - midnight_between(epochs_[i], epochs_[i + 1]);
    for (std::size_t i = start + 1; i < epochs_.size(); ++i)
      if (!epochs_[i].day_s)
        epochs_[i].day_s = *epochs_[i - 1].day_s + midnight_between(epochs_[i - 1], epochs_[i]);
  }

  Result<TrackLog> finish() {
    if (sentences_ == 0) return Error{fmt::format("{}: NMEA without positions; expected GGA or RMC", name_)};
    date_epochs();
    std::vector<Placed<Fix>> fixes;
    for (const Epoch& epoch : epochs_) {
      if (!epoch.place) continue;
      Fix fix;
      fix.time_unix_s = *epoch.day_s + epoch.time_of_day_s;
      fix.place = *epoch.place;
      fix.altitude_ft = epoch.altitude_ft;
      fix.groundspeed_kt = epoch.groundspeed_kt;
      fix.course_true_deg = epoch.course_true_deg;
      fixes.push_back({fix, epoch.offset});
    }
    auto ordered = order_fixes(std::move(fixes), repairs_, name_);
    if (!ordered) return ordered.error();
    TrackLog log;
    log.format = "nmea";
    log.fixes = std::move(ordered->fixes);
    log.freezes = std::move(ordered->freezes);
    log.notes = repairs_.sentences(bytes_);
    log.notes.insert(log.notes.end(), notes_.begin(), notes_.end());
    return log;
  }

  std::string_view bytes_;
  std::string_view name_;
  std::size_t offset_ = 0;
  std::size_t sentences_ = 0;
  std::vector<Epoch> epochs_;
  Repairs repairs_;
  std::vector<std::string> notes_;
};

}  // namespace

Result<TrackLog> read_nmea(std::string_view bytes, std::string_view name) {
  return NmeaReader(bytes, name).read();
}

bool tells_a_place(std::string_view sentence) {
  const auto dollar = sentence.find('$');
  if (dollar == std::string_view::npos) return false;
  auto body = sentence.substr(dollar + 1);
  while (!body.empty() && (body.back() == '\n' || body.back() == '\r')) body.remove_suffix(1);
  if (check(body) == Checksum::wrong) return false;
  const Sentence parts = split(body);
  if (parts.kind() == "GGA") return gga_has_fix(parts) && place_in(parts, k_gga_latitude);
  return parts.kind() == "RMC" && rmc_has_fix(parts) && place_in(parts, k_rmc_latitude);
}

bool looks_like_nmea(std::string_view bytes) {
  TextLines lines(bytes.substr(0, 8192));
  while (const auto line = lines.next()) {
    const auto dollar = line->text.find('$');
    if (dollar == std::string_view::npos) continue;
    const auto kind = split(line->text.substr(dollar + 1)).kind();
    if (kind == "GGA" || kind == "RMC") return true;
  }
  return false;
}

}  // namespace glidewright
