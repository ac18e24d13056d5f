// Flights: the logs, and what filing them again changes.
#include <fmt/format.h>

#include <algorithm>

#include "formats/json_write.hpp"
#include "formats/sha256.hpp"
#include "formats/unpack.hpp"
#include "store/connection.hpp"
#include "store/rows.hpp"

namespace glidewright {
namespace {

/// By the track inside, so that a packed log is the same flight as the log.
std::string track_sha256(const std::string& bytes, const std::string& name) {
  if (!is_packed(bytes)) return sha256_hex(bytes);
  const auto inside = unpack(bytes, name);
  return sha256_hex(inside ? inside->bytes : bytes);
}

/// What a person said so far that holds for this standard: who flew and what forced it hold for all.
Said said_before(const FiledAttempt& attempt, const StandardInForce& standard) {
  Said said;
  for (const Assessment& one : attempt.assessments) {
    if (one.said.flown_by) said.flown_by = one.said.flown_by;
    if (one.said.forced) said.forced = one.said.forced;
    if (!is_judged_by(one, standard)) continue;
    if (one.said.met) said.met = one.said.met;
    if (one.said.in_box) said.in_box = one.said.in_box;
  }
  return said;
}

std::string point_words(const std::optional<double>& point_ft) {
  return point_ft ? fmt::format("{:.0f} ft", *point_ft) : std::string("not known");
}

std::string heights_words(const std::string& unit) {
  if (unit.empty()) return "heights as the log itself says";
  return unit == "ft" ? "heights in feet" : "heights in metres";
}

/// What of its setting has changed since the last version; empty where nothing has.
/// `other_text`: what changed in its standard.
std::string what_changed(const Assessment& before, const Assessment& now, const std::string& other_text) {
  const Circumstances &a = before.circumstances, &b = now.circumstances;
  std::string changed = other_text;
  const auto say = [&](const std::string& what) { changed += (changed.empty() ? "" : ", ") + what; };
  if (a.runway != b.runway) say("runway " + (a.runway.empty() ? "not known" : a.runway) + " to " + b.runway);
  if (a.touchdown_point_ft != b.touchdown_point_ft)
    say("point " + point_words(a.touchdown_point_ft) + " to " + point_words(b.touchdown_point_ft));
  if (a.height_unit != b.height_unit) say(heights_words(b.height_unit));
  if (a.airplane != b.airplane)
    say("airplane " + (a.airplane.empty() ? "not known" : a.airplane) + " to " + b.airplane);
  else if (a.fleet_airplane != b.fleet_airplane)
    say("airplane of the fleet");
  else if (a.airplane_profile != b.airplane_profile)
    say("the airplane's profile");
  if (a.marks != b.marks) say("marks");
  if (a.causes.empty() && !b.causes.empty()) say("causes");
  const RatedAttempt &x = before.rated, &y = now.rated;
  if (changed.empty() && (x.end != y.end || x.flown_by != y.flown_by || x.forced != y.forced ||
                          x.sound_go_around != y.sound_go_around))
    say("marks or outcome");
  // A thousandth is below what a touchdown's error lets anybody know.
  constexpr double k_same = 1e-3;
  if (changed.empty() && (std::abs(x.probability_met - y.probability_met) > k_same ||
                          std::abs(x.probability_in_box - y.probability_in_box) > k_same))
    say("the chances");
  return changed;
}

class Filing {
 public:
  Filing(soci::session& sql, long long student, const Stamp& stamp)
      : sql_(sql), student_(student), stamp_(stamp) {}

  void file(const NewFlight& flight, FiledFlight& filed) {
    for (const NewAttempt& one : flight.attempts) file_attempt(flight, one, filed);
  }

 private:
  void file_attempt(const NewFlight& flight, const NewAttempt& one, FiledFlight& filed) {
    Assessment now = one.assessment;
    now.stamp = stamp_;
    const auto number = number_of(filed.log_sha256, one.index);
    if (!number) {
      const long long added =
          insert_attempt(sql_, student_, filed.log_sha256, flight.log_name, one.index, one.time_unix_s);
      insert_assessment(sql_, added, now);
      write_down(sql_, student_, "filed", "attempt", added, stamp_);
      ++filed.attempts;
      return;
    }
    filed.judged_anew += judge_anew(*number, now);
  }

  std::optional<long long> number_of(const std::string& sha256, int index) {
    long long number = 0;
    sql_ << "select number from attempts where student = :student and log = :sha and place = :place",
        soci::use(student_), soci::use(sha256), soci::use(index), soci::into(number);
    return sql_.got_data() ? std::optional<long long>(number) : std::nullopt;
  }

  bool judge_anew(long long number, Assessment now) {
    const auto known = select_attempts(sql_, "a.number = :what", number);
    if (known.empty()) return false;
    now.said = said_before(known.front(), in_force_of(now));
    apply(now.said, now.rated);
    if (const Assessment* before = newest_by(known.front(), now.standard_id)) {
      const std::string changed = what_changed(*before, now, other_text(*before, now));
      if (changed.empty()) return false;
      now.reason = "debriefed again: " + changed;
    } else {
      now.reason = "by another standard";
    }
    insert_assessment(sql_, number, now);
    write_down(sql_, student_, "debriefed again", "attempt", number, stamp_);
    return true;
  }

  /// "standard, version 2 to 3"; empty where the text is the same, or only the earlier one was kept.
  std::string other_text(const Assessment& before, const Assessment& now) {
    if (before.standard_sha256 == now.standard_sha256 || now.standard_sha256.empty()) return {};
    const auto a = select_standard(sql_, before.standard_sha256),
               b = select_standard(sql_, now.standard_sha256);
    if (!a) return "standard, its text now kept";
    if (!b || a->standard.version == b->standard.version) return "standard, another text";
    return fmt::format("standard, version {} to {}", a->standard.version, b->standard.version);
  }

  /// By what the attempts of one flight are judged, which is the same for all of them.
  const StandardInForce& in_force_of(const Assessment& now) {
    if (in_force_ && in_force_->standard.id == now.standard_id) return *in_force_;
    Standard standard;
    if (const auto kept = select_standard(sql_, now.standard_sha256)) standard = kept->standard;
    standard.id = now.standard_id;
    in_force_ = now.standard_sha256.empty() ? StandardInForce{standard} : standard_in_force(sql_, standard);
    return *in_force_;
  }

  soci::session& sql_;
  long long student_;
  const Stamp& stamp_;
  std::optional<StandardInForce> in_force_;
};

}  // namespace

FiledFlight file_flight_of_held(soci::session& sql, DatabaseKind kind, long long student,
                                const NewFlight& flight, const Stamp& stamp) {
  require_text("the name of a log", flight.log_name);
  FiledFlight filed;
  filed.log_sha256 = track_sha256(flight.log_bytes, flight.log_name);
  // A log that no attempt belongs to would be nobody's: no archive takes it along, and no deletion removes
  // it.
  if (flight.attempts.empty()) return filed;
  insert_log(sql, kind, filed.log_sha256, flight.log_bytes);
  if (flight.standard) keep_text(sql, *flight.standard, stamp);
  Filing(sql, student, stamp).file(flight, filed);
  return filed;
}

Result<std::vector<FiledFlight>> Records::file_flights(long long student,
                                                       const std::vector<NewFlight>& flights,
                                                       const Stamp& stamp) {
  return answer<std::vector<FiledFlight>>(*connection_, [&] {
    require_signed(stamp);
    auto& sql = connection_->sql;
    std::vector<FiledFlight> all;
    Writing writing(sql, connection_->kind);
    require_student(*connection_, student);
    for (const NewFlight& flight : flights)
      all.push_back(file_flight_of_held(sql, connection_->kind, student, flight, stamp));
    writing.commit();
    return all;
  });
}

Result<FiledFlight> Records::file_flight(long long student, const NewFlight& flight, const Stamp& stamp) {
  const auto filed = file_flights(student, {flight}, stamp);
  if (!filed) return filed.error();
  return filed->front();
}

Result<std::string> Records::height_unit_told(const std::string& log_bytes, const std::string& log_name) {
  return answer<std::string>(*connection_, [&] {
    const std::string sha = track_sha256(log_bytes, log_name);
    std::string unit;
    connection_->sql << k_height_unit_told, soci::use(sha), soci::into(unit);
    return connection_->sql.got_data() ? unit : std::string();
  });
}

Result<std::string> Records::marks_told(long long student, const std::string& log_bytes,
                                        const std::string& log_name) {
  return answer<std::string>(*connection_, [&] {
    const std::string sha = track_sha256(log_bytes, log_name);
    std::map<long long, std::string> newest;
    {
      const soci::rowset<soci::row> rows =
          (connection_->sql.prepare << k_marks_told, soci::use(student), soci::use(sha));
      for (const auto& row : rows) newest[whole_number(row, "place")] = row.get<std::string>("marks");
    }
    if (newest.empty()) return std::string();
    Json file{{"schema", "glidewright.marks/1"}, {"attempts", Json::array()}};
    for (const auto& [place, marks] : newest) file["attempts"].push_back(Json::parse(marks));
    return file.dump();
  });
}

Result<std::map<std::string, std::size_t>> Records::log_sizes_of(long long student) {
  return answer<std::map<std::string, std::size_t>>(*connection_, [&] {
    std::map<std::string, std::size_t> sizes;
    std::string sha;
    long long size = 0;
    soci::statement rows =
        (connection_->sql.prepare << k_log_sizes, soci::use(student), soci::into(sha), soci::into(size));
    rows.execute();
    while (rows.fetch()) sizes[sha] = static_cast<std::size_t>(size);
    return sizes;
  });
}

Result<std::string> Records::original(const std::string& log_sha256) {
  return answer<std::string>(*connection_, [&] {
    auto bytes = read_log(connection_->sql, connection_->kind, log_sha256);
    if (!bytes) throw Refusal("no log with the SHA-256 " + log_sha256 + " is filed");
    if (track_sha256(*bytes, "log") != log_sha256 && sha256_hex(*bytes) != log_sha256)
      throw Refusal(connection_->shown + ": the log " + log_sha256 + " is damaged; a backup has it whole");
    return std::move(*bytes);
  });
}

}  // namespace glidewright
