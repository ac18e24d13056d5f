// Attempts and their assessments: read, and assessed again.
#include <fmt/format.h>

#include <map>

#include "formats/flown_by.hpp"
#include "store/connection.hpp"
#include "store/rows.hpp"

namespace glidewright {
namespace {

std::string text_or_none(const soci::row& row, const char* column) {
  return is_null(row, column) ? std::string() : row.get<std::string>(column);
}
std::optional<std::string> where_said(const std::string& text) {
  return text.empty() ? std::nullopt : std::optional(text);
}

/// Until form 10 only whether it was the student alone.
FlownBy flown_by_of(const soci::row& row, const char* column, bool alone) {
  const std::string name = text_or_none(row, column);
  if (name.empty()) return alone ? FlownBy::student : FlownBy::not_alone;
  const auto known = flown_by_named(name);
  if (!known) throw Refusal("who flew: \"" + name + "\" is not known to this program");
  return *known;
}

Circumstances circumstances_of(const soci::row& row) {
  Circumstances one;
  one.runway = row.get<std::string>("runway");
  one.touchdown_point_ft = optional_real(row, "touchdown_point_ft");
  one.height_unit = row.get<std::string>("height_unit");
  one.airplane = row.get<std::string>("airplane");
  one.marks = row.get<std::string>("marks");
  one.fleet_airplane = text_or_none(row, "fleet_airplane");
  one.airplane_profile = text_or_none(row, "airplane_profile");
  one.along_ft = optional_real(row, "along_ft");
  one.along_low95_ft = optional_real(row, "along_low95_ft");
  one.along_high95_ft = optional_real(row, "along_high95_ft");
  one.wind_kt = optional_real(row, "wind_kt");
  one.wind_from_true_deg = optional_real(row, "wind_from_true_deg");
  one.largest_cause = row.get<std::string>("largest_cause");
  one.largest_cause_ft = optional_real(row, "largest_cause_ft");
  return one;
}

Assessment assessment_of(const soci::row& row) {
  const auto yes = [&](const char* column) { return whole_number(row, column) != 0; };
  Assessment one;
  one.standard_id = row.get<std::string>("standard");
  one.standard_sha256 = text_or_none(row, "standard_sha256");
  one.rated.end = yes("went_around") ? RatedAttempt::End::went_around : RatedAttempt::End::landed;
  one.rated.probability_met = row.get<double>("probability_met");
  one.rated.probability_in_box = row.get<double>("probability_in_box");
  one.rated.flown_by = flown_by_of(row, "flown_by", yes("student_alone"));
  one.rated.forced = yes("forced");
  one.rated.sound_go_around = yes("sound_go_around");
  one.circumstances = circumstances_of(row);
  std::optional<FlownBy> said_flown_by;
  if (const auto alone = optional_flag(row, "said_alone"))
    said_flown_by = flown_by_of(row, "said_flown_by", *alone);
  one.said = {said_flown_by, optional_flag(row, "said_forced"), optional_flag(row, "said_met"),
              optional_flag(row, "said_in_box")};
  one.reason = row.get<std::string>("reason");
  one.stamp = {row.get<std::string>("made_by"), row.get<double>("made_unix_s")};
  return one;
}

FiledAttempt attempt_of(const soci::row& row) {
  FiledAttempt one;
  one.number = whole_number(row, "number");
  one.log_sha256 = row.get<std::string>("log");
  one.log_name = row.get<std::string>("log_name");
  one.index = static_cast<int>(whole_number(row, "place"));
  one.time_unix_s = row.get<double>("flown_unix_s");
  one.in_trash = whole_number(row, "in_trash") != 0;
  one.student = whole_number(row, "student");
  return one;
}

}  // namespace

void apply(const Said& said, RatedAttempt& rated) {
  if (said.flown_by) rated.flown_by = *said.flown_by;
  if (said.forced) rated.forced = *said.forced;
  if (said.met) rated.probability_met = *said.met ? 1.0 : 0.0;
  if (said.in_box) rated.probability_in_box = *said.in_box ? 1.0 : 0.0;
}

const Assessment* newest_by(const FiledAttempt& attempt, const std::string& standard_id) {
  StandardInForce any;
  any.standard.id = standard_id;
  return newest_by(attempt, any);
}

const Assessment* newest_by(const FiledAttempt& attempt, const StandardInForce& standard) {
  for (auto one = attempt.assessments.rbegin(); one != attempt.assessments.rend(); ++one)
    if (is_judged_by(*one, standard)) return &*one;
  return nullptr;
}

namespace {

using Version = std::pair<long long, long long>;  ///< attempt and version

std::map<Version, std::vector<CauseEffect>> select_causes(soci::session& sql, const std::string& where,
                                                          long long what) {
  std::map<Version, std::vector<CauseEffect>> found;
  const soci::rowset<soci::row> rows =
      (sql.prepare << "select c.attempt as attempt, c.version as version, c.cause as cause,"
                      " c.effect_ft as effect_ft, c.low95_ft as low95_ft, c.high95_ft as high95_ft"
                      " from attempts a join causes c on c.attempt = a.number where " +
                          where + " order by c.attempt, c.version, c.place",
       soci::use(what));
  for (const auto& row : rows)
    found[{whole_number(row, "attempt"), whole_number(row, "version")}].push_back(
        {row.get<std::string>("cause"), row.get<double>("effect_ft"), row.get<double>("low95_ft"),
         row.get<double>("high95_ft")});
  return found;
}

void insert_causes(soci::session& sql, long long attempt, long long version,
                   const std::vector<CauseEffect>& causes) {
  long long place = 0;
  for (const CauseEffect& one : causes) {
    ++place;
    sql << "insert into causes(attempt, version, place, cause, effect_ft, low95_ft, high95_ft)"
           " values(:attempt, :version, :place, :cause, :effect, :low, :high)",
        soci::use(attempt), soci::use(version), soci::use(place), soci::use(one.cause),
        soci::use(one.effect_ft), soci::use(one.low95_ft), soci::use(one.high95_ft);
  }
}

}  // namespace

std::vector<FiledAttempt> select_attempts(soci::session& sql, const std::string& where, long long what) {
  std::vector<FiledAttempt> found;
  auto causes = select_causes(sql, where, what);
  // By when it was made: what was brought in from another copy may have got its number late.
  const soci::rowset<soci::row> rows =
      (sql.prepare << "select a.number as number, a.log as log, a.log_name as log_name, a.place as place,"
                      " a.flown_unix_s as flown_unix_s, a.in_trash as in_trash, a.student as student,"
                      " s.version as version, s.standard as standard, s.standard_sha256 as standard_sha256,"
                      " s.went_around as went_around, s.probability_met as probability_met,"
                      " s.probability_in_box as probability_in_box, s.student_alone as student_alone,"
                      " s.forced as forced, s.sound_go_around as sound_go_around, s.runway as runway,"
                      " s.touchdown_point_ft as touchdown_point_ft, s.height_unit as height_unit, s.airplane "
                      "as airplane,"
                      " s.fleet_airplane as fleet_airplane, s.airplane_profile as airplane_profile,"
                      " s.along_ft as along_ft, s.along_low95_ft as along_low95_ft,"
                      " s.along_high95_ft as along_high95_ft, s.wind_kt as wind_kt,"
                      " s.wind_from_true_deg as wind_from_true_deg, s.largest_cause as largest_cause,"
                      " s.largest_cause_ft as largest_cause_ft, s.said_alone as said_alone,"
                      " s.marks as marks, s.flown_by as flown_by, s.said_flown_by as said_flown_by,"
                      " s.said_forced as said_forced, s.said_met as said_met, s.said_in_box as said_in_box,"
                      " s.reason as reason, s.made_by as made_by, s.made_unix_s as made_unix_s"
                      " from attempts a join assessments s on s.attempt = a.number where " +
                          where + " order by a.flown_unix_s, a.number, s.made_unix_s, s.version",
       soci::use(what));
  for (const auto& row : rows) {
    FiledAttempt one = attempt_of(row);
    if (found.empty() || found.back().number != one.number) found.push_back(std::move(one));
    found.back().assessments.push_back(assessment_of(row));
    found.back().assessments.back().circumstances.causes =
        std::move(causes[{found.back().number, whole_number(row, "version")}]);
  }
  return found;
}

long long insert_attempt(soci::session& sql, long long student, const std::string& sha256,
                         const std::string& log_name, int index, double time_unix_s) {
  long long number = 0;
  sql << "insert into attempts(student, log, log_name, place, flown_unix_s)"
         " values(:student, :sha, :name, :place, :flown) returning number",
      soci::use(student), soci::use(sha256), soci::use(log_name), soci::use(index), soci::use(time_unix_s),
      soci::into(number);
  return number;
}

void insert_assessment(soci::session& sql, long long attempt, const Assessment& one) {
  const RatedAttempt& rated = one.rated;
  const int around = rated.end == RatedAttempt::End::went_around;
  const int alone = rated.student_alone(), forced = rated.forced, sound = rated.sound_go_around;
  const Circumstances& how = one.circumstances;
  Nullable<double> point(how.touchdown_point_ft), along(how.along_ft), low(how.along_low95_ft),
      high(how.along_high95_ft), wind(how.wind_kt), from(how.wind_from_true_deg),
      effect(how.largest_cause_ft);
  Nullable<std::string> fleet_airplane(where_said(how.fleet_airplane)),
      profile(where_said(how.airplane_profile)), standard_sha256(where_said(one.standard_sha256));
  const std::string flown_by = flown_by_name(rated.flown_by);
  std::optional<bool> was_said_alone;
  std::optional<std::string> was_said_flown_by;
  if (one.said.flown_by) {
    was_said_alone = one.said.flown_by == FlownBy::student;
    was_said_flown_by = flown_by_name(*one.said.flown_by);
  }
  Nullable<std::string> said_flown_by(was_said_flown_by);
  Nullable<int> said_alone(was_said_alone), said_forced(one.said.forced), said_met(one.said.met),
      said_in_box(one.said.in_box);
  long long version = 0;
  sql << "select coalesce(max(version), 0) + 1 from assessments where attempt = :attempt", soci::use(attempt),
      soci::into(version);
  sql << "insert into assessments(attempt, version, standard, went_around, probability_met,"
         " probability_in_box, student_alone, forced, sound_go_around, reason, made_by, made_unix_s, runway,"
         " touchdown_point_ft, airplane, along_ft, along_low95_ft, along_high95_ft, wind_kt,"
         " wind_from_true_deg, largest_cause, largest_cause_ft, said_alone, said_forced, said_met,"
         " said_in_box, fleet_airplane, airplane_profile, height_unit, standard_sha256,"
         " flown_by, said_flown_by, marks)"
         " values(:attempt, :version, :standard, :around, "
         ":met, :box, :alone, :forced, :sound,"
         " :reason, :by, :at, :runway, :point, :airplane, :along, :low, :high, :wind, :from_true, :cause,"
         " :effect, :said_alone, :said_forced, :said_met, :said_in_box, :fleet_airplane, :profile,"
         " :height_unit, :standard_sha256, :flown_by, :said_flown_by, :marks)",
      soci::use(attempt), soci::use(version), soci::use(one.standard_id), soci::use(around),
      soci::use(rated.probability_met), soci::use(rated.probability_in_box), soci::use(alone),
      soci::use(forced), soci::use(sound), soci::use(one.reason), soci::use(one.stamp.by),
      soci::use(one.stamp.unix_s), soci::use(how.runway), soci::use(point.value, point.indicator),
      soci::use(how.airplane), soci::use(along.value, along.indicator), soci::use(low.value, low.indicator),
      soci::use(high.value, high.indicator), soci::use(wind.value, wind.indicator),
      soci::use(from.value, from.indicator), soci::use(how.largest_cause),
      soci::use(effect.value, effect.indicator), soci::use(said_alone.value, said_alone.indicator),
      soci::use(said_forced.value, said_forced.indicator), soci::use(said_met.value, said_met.indicator),
      soci::use(said_in_box.value, said_in_box.indicator),
      soci::use(fleet_airplane.value, fleet_airplane.indicator), soci::use(profile.value, profile.indicator),
      soci::use(how.height_unit), soci::use(standard_sha256.value, standard_sha256.indicator),
      soci::use(flown_by), soci::use(said_flown_by.value, said_flown_by.indicator), soci::use(how.marks);
  insert_causes(sql, attempt, version, how.causes);
}

namespace {

void require_no_newer(soci::session& sql, long long attempt, int versions_seen) {
  int versions = 0;
  sql << "select count(*) from assessments where attempt = :attempt", soci::use(attempt),
      soci::into(versions);
  if (versions != versions_seen)
    throw Refusal(fmt::format(
        "attempt {} has been assessed again since you looked at it; nothing was changed: look again",
        attempt));
}

}  // namespace

Result<std::vector<FiledAttempt>> Records::attempts_of(long long student) {
  return answer<std::vector<FiledAttempt>>(
      *connection_, [&] { return select_attempts(connection_->sql, "a.student = :what", student); });
}

std::optional<Error> Records::assess_again(long long attempt, const Assessment& assessment,
                                           std::optional<int> versions_seen) {
  return done_or_error(*connection_, [&] {
    require_signed(assessment.stamp);
    require_text("a correction's reason", assessment.reason);
    auto& sql = connection_->sql;
    Writing writing(sql, connection_->kind);
    long long student = 0;
    sql << "select student from attempts where number = :attempt", soci::use(attempt), soci::into(student);
    if (!sql.got_data()) throw Refusal(fmt::format("no attempt has the number {}", attempt));
    require_student(*connection_, student);
    if (versions_seen) require_no_newer(sql, attempt, *versions_seen);
    insert_assessment(sql, attempt, assessment);
    write_down(sql, student, "assessed again", "attempt", attempt, assessment.stamp);
    writing.commit();
  });
}

}  // namespace glidewright
