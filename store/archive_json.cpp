#include "store/archive_json.hpp"

#include <fmt/format.h>

#include "formats/flown_by.hpp"
#include "formats/json_reader.hpp"
#include "formats/kept_json.hpp"
#include "formats/marks_json.hpp"
#include "formats/sha256.hpp"
#include "formats/shown.hpp"
#include "formats/standard_json.hpp"
#include "formats/time.hpp"

namespace glidewright {
namespace {

constexpr int k_time_decimals = 3;
constexpr JsonRange k_any_ft{-1e5, 1e5};
constexpr JsonRange k_probability{0.0, 1.0};

Json optional_number(const std::optional<double>& value, int decimals) {
  return value ? number(*value, decimals) : Json(nullptr);
}

/// Only what was said is there.
Json said_to_json(const Said& said) {
  Json object = Json::object();
  if (said.flown_by) {
    object["alone"] = *said.flown_by == FlownBy::student;
    object["flown_by"] = flown_by_name(*said.flown_by);
  }
  if (said.forced) object["forced"] = *said.forced;
  if (said.met) object["met"] = *said.met;
  if (said.in_box) object["in_box"] = *said.in_box;
  return object;
}

void add_stamp(Json& object, const Stamp& stamp) {
  object["by"] = stamp.by;
  object["at"] = iso8601_utc(stamp.unix_s, k_time_decimals);
}

Json assessment_to_json(const Assessment& one) {
  const Circumstances& how = one.circumstances;
  Json object;
  object["standard"] = one.standard_id;
  if (!one.standard_sha256.empty()) object["standard_sha256"] = one.standard_sha256;
  object["end"] = one.rated.end == RatedAttempt::End::went_around ? "went-around" : "landed";
  object["probability_met"] = number(one.rated.probability_met, 6);
  object["probability_in_box"] = number(one.rated.probability_in_box, 6);
  object["student_alone"] = one.rated.student_alone();
  object["flown_by"] = flown_by_name(one.rated.flown_by);
  object["forced"] = one.rated.forced;
  object["sound_go_around"] = one.rated.sound_go_around;
  object["said"] = said_to_json(one.said);
  object["runway"] = how.runway;
  object["touchdown_point_ft"] = optional_number(how.touchdown_point_ft, 1);
  if (!how.height_unit.empty()) object["height_unit"] = how.height_unit;
  if (!how.marks.empty()) object["marks"] = Json::parse(how.marks);
  object["airplane"] = how.airplane;
  if (!how.fleet_airplane.empty()) object["fleet_airplane"] = how.fleet_airplane;
  if (!how.airplane_profile.empty()) object["airplane_profile"] = how.airplane_profile;
  object["along_ft"] = optional_number(how.along_ft, 1);
  object["along_low95_ft"] = optional_number(how.along_low95_ft, 1);
  object["along_high95_ft"] = optional_number(how.along_high95_ft, 1);
  object["wind_kt"] = optional_number(how.wind_kt, 1);
  object["wind_from_true_deg"] = optional_number(how.wind_from_true_deg, 1);
  object["largest_cause"] = how.largest_cause;
  object["largest_cause_ft"] = optional_number(how.largest_cause_ft, 1);
  object["causes"] = Json::array();
  for (const CauseEffect& cause : how.causes)
    object["causes"].push_back({{"cause", cause.cause},
                                {"effect_ft", number(cause.effect_ft, 1)},
                                {"low95_ft", number(cause.low95_ft, 1)},
                                {"high95_ft", number(cause.high95_ft, 1)}});
  object["reason"] = one.reason;
  add_stamp(object, one.stamp);
  return object;
}

Json attempt_to_json(const FiledAttempt& one) {
  Json object;
  object["number"] = one.number;
  object["log"] = one.log_sha256;
  object["log_name"] = one.log_name;
  object["index"] = one.index;
  object["time"] = iso8601_utc(one.time_unix_s, k_time_decimals);
  object["in_trash"] = one.in_trash;
  object["assessments"] = Json::array();
  for (const Assessment& assessment : one.assessments)
    object["assessments"].push_back(assessment_to_json(assessment));
  return object;
}

Json note_to_json(const Note& note) {
  Json object;
  object["number"] = note.number;
  object["uid"] = note.uid;
  object["attempt"] = note.attempt ? Json(*note.attempt) : Json(nullptr);
  object["text"] = note.text;
  add_stamp(object, note.stamp);
  object["in_trash"] = note.in_trash;
  return object;
}

Json sign_off_to_json(const SignOff& one) {
  Json object;
  object["number"] = one.number;
  object["uid"] = one.uid;
  object["what"] = one.what;
  object["signed_by"] = one.signed_by;
  object["signed_on"] = one.signed_on;
  object["withdraws"] = one.withdraws;
  add_stamp(object, one.stamp);
  return object;
}

Stamp read_stamp(JsonFields& fields) {
  return {fields.text("by"), read_kept_moment(fields, "at")};
}

std::optional<bool> read_said(JsonFields& fields, const char* name) {
  if (!fields.has(name)) return std::nullopt;
  return fields.flag(name);
}

std::string read_sha256(JsonFields& fields, const char* name) {
  std::string sha = fields.text(name);
  if (sha.size() != 64 || sha.find_first_not_of("0123456789abcdef") != std::string::npos)
    fields.add_problem(name, std::string(name) + "; expected a SHA-256 of 64 digits");
  return sha;
}

RatedAttempt::End read_end(JsonFields& fields) {
  const std::string end = fields.text("end");
  if (end != "landed" && end != "went-around")
    fields.add_problem("end", fmt::format("end '{}'; expected landed or went-around", shown(end)));
  return end == "went-around" ? RatedAttempt::End::went_around : RatedAttempt::End::landed;
}

/// Archives of before the kinds were told apart say only whether it was the student alone.
FlownBy read_flown_by(JsonFields& fields, bool alone) {
  if (!fields.has("flown_by")) return alone ? FlownBy::student : FlownBy::not_alone;
  const std::string name = fields.text("flown_by");
  const auto known = flown_by_named(name);
  if (!known)
    fields.add_problem("flown_by",
                       fmt::format("flown_by '{}'; expected {}", shown(name), flown_by_expected()));
  else if ((*known == FlownBy::student) != alone)
    fields.add_problem(
        "flown_by", fmt::format("flown_by '{}' and \"alone\" beside it contradict each other", shown(name)));
  return known.value_or(FlownBy::not_alone);
}

Said read_all_said(JsonFields& fields) {
  Said said;
  if (auto inside = fields.object("said")) {
    if (const auto alone = read_said(*inside, "alone"))
      said.flown_by = read_flown_by(*inside, *alone);
    else if (inside->has("flown_by"))
      inside->add_problem("flown_by", "flown_by without alone beside it; expected both or neither");
    said.forced = read_said(*inside, "forced");
    said.met = read_said(*inside, "met");
    said.in_box = read_said(*inside, "in_box");
    inside->refuse_unknown_fields();
  }
  return said;
}

std::string read_height_unit(JsonFields& fields) {
  std::string unit = fields.text("height_unit");
  if (unit != "ft" && unit != "m")
    fields.add_problem("height_unit", fmt::format("height_unit '{}'; expected ft or m", shown(unit)));
  return unit;
}

/// Kept as they are, once they are found to be marks.
std::string read_marks(JsonFields& fields, const Json& as_written) {
  if (!fields.has("marks")) return {};
  const Json file{{"schema", "glidewright.marks/1"}, {"attempts", Json::array({as_written.at("marks")})}};
  const auto marks = read_marks_json(file.dump(), "marks");
  (void)fields.object("marks");
  if (!marks) fields.add_problem("marks", marks.error().sentence);
  return as_written.at("marks").dump();
}

Circumstances read_circumstances(JsonFields& fields, const Json& as_written) {
  Circumstances how;
  how.marks = read_marks(fields, as_written);
  fields.replace_text("runway", how.runway);
  how.touchdown_point_ft = fields.optional_number("touchdown_point_ft", k_any_ft);
  if (fields.has("height_unit")) how.height_unit = read_height_unit(fields);
  fields.replace_text("airplane", how.airplane);
  if (fields.has("fleet_airplane")) how.fleet_airplane = read_uid(fields, "fleet_airplane");
  if (fields.has("airplane_profile")) how.airplane_profile = read_sha256(fields, "airplane_profile");
  how.along_ft = fields.optional_number("along_ft", k_any_ft);
  how.along_low95_ft = fields.optional_number("along_low95_ft", k_any_ft);
  how.along_high95_ft = fields.optional_number("along_high95_ft", k_any_ft);
  how.wind_kt = fields.optional_number("wind_kt", {0.0, 200.0});
  how.wind_from_true_deg = fields.optional_number("wind_from_true_deg", {-360.0, 360.0});
  fields.replace_text("largest_cause", how.largest_cause);
  how.largest_cause_ft = fields.optional_number("largest_cause_ft", k_any_ft);
  if (!fields.has("causes")) return how;  // an archive of before they were kept
  for (auto& inside : fields.objects("causes")) {
    how.causes.push_back({inside.text("cause"), inside.number("effect_ft", k_any_ft),
                          inside.number("low95_ft", k_any_ft), inside.number("high95_ft", k_any_ft)});
    inside.refuse_unknown_fields();
  }
  return how;
}

Assessment read_assessment(JsonFields& fields, const Json& as_written) {
  Assessment one;
  one.standard_id = fields.text("standard");
  // Archives of before texts were kept name none.
  if (fields.has("standard_sha256")) one.standard_sha256 = read_sha256(fields, "standard_sha256");
  one.rated.end = read_end(fields);
  one.rated.probability_met = fields.number("probability_met", k_probability);
  one.rated.probability_in_box = fields.number("probability_in_box", k_probability);
  one.rated.flown_by = read_flown_by(fields, fields.flag("student_alone"));
  one.rated.forced = fields.flag("forced");
  one.rated.sound_go_around = fields.flag("sound_go_around");
  one.said = read_all_said(fields);
  one.circumstances = read_circumstances(fields, as_written);
  fields.replace_text("reason", one.reason);
  one.stamp = read_stamp(fields);
  fields.refuse_unknown_fields();
  return one;
}

constexpr JsonRange k_number{0.0, 1e15};

FiledAttempt read_attempt(JsonFields& fields, const Json& as_written) {
  FiledAttempt one;
  one.number = static_cast<long long>(fields.number("number", k_number));
  one.log_sha256 = read_sha256(fields, "log");
  one.log_name = fields.text("log_name");
  one.index = static_cast<int>(fields.number("index", {1.0, 1e6}));
  one.time_unix_s = read_kept_moment(fields, "time");
  one.in_trash = fields.flag("in_trash");
  std::size_t i = 0;
  for (auto& inside : fields.objects("assessments"))
    one.assessments.push_back(read_assessment(inside, as_written.at("assessments").at(i++)));
  if (one.assessments.empty()) fields.add_problem("assessments", "assessments; at least one was expected");
  fields.refuse_unknown_fields();
  return one;
}

Note read_note(JsonFields& fields) {
  Note note;
  note.number = static_cast<long long>(fields.number("number", k_number));
  note.uid = read_uid(fields);
  if (const auto attempt = fields.optional_number("attempt", k_number))
    note.attempt = static_cast<long long>(*attempt);
  note.text = fields.text("text");
  note.stamp = read_stamp(fields);
  note.in_trash = fields.flag("in_trash");
  fields.refuse_unknown_fields();
  return note;
}

SignOff read_sign_off(JsonFields& fields) {
  SignOff one;
  one.number = static_cast<long long>(fields.number("number", k_number));
  one.uid = read_uid(fields);
  one.what = fields.text("what");
  one.signed_by = fields.text("signed_by");
  one.signed_on = fields.text("signed_on");
  if (!read_date(one.signed_on))
    fields.add_problem("signed_on",
                       fmt::format("signed_on '{}'; expected such as 2026-05-14", shown(one.signed_on)));
  fields.replace_text("withdraws", one.withdraws);
  one.stamp = read_stamp(fields);
  fields.refuse_unknown_fields();
  return one;
}

StudentArchive read_student(JsonFields& fields, const Json& as_written) {
  StudentArchive archive;
  archive.student.uid = read_uid(fields);
  archive.student.name = fields.text("name");
  archive.student.added = {fields.text("added_by"), read_kept_moment(fields, "added")};
  std::size_t i = 0;
  for (auto& inside : fields.objects("attempts"))
    archive.attempts.push_back(read_attempt(inside, as_written.at("attempts").at(i++)));
  for (auto& inside : fields.objects("notes")) archive.notes.push_back(read_note(inside));
  for (auto& inside : fields.objects("sign_offs")) archive.sign_offs.push_back(read_sign_off(inside));
  // Archives of before there were drills have none.
  if (fields.has("drills"))
    for (auto& inside : fields.objects("drills")) archive.answers.push_back(read_answer(inside));
  fields.refuse_unknown_fields();
  return archive;
}

constexpr const char* content_name(FleetKind kind) {
  return kind == FleetKind::airplane ? "profile" : "runways";
}

FleetItem read_fleet_item(JsonFields& fields, FleetKind kind, const Json& as_written) {
  FleetItem item;
  item.kind = kind;
  item.uid = read_uid(fields);
  item.name = fields.text("name");
  item.added = {fields.text("added_by"), read_kept_moment(fields, "added")};
  item.in_trash = fields.flag("in_trash");
  std::size_t i = 0;
  for (auto& inside : fields.objects("versions")) {
    FleetVersion version;
    inside.replace_text("reason", version.reason);
    version.stamp = read_stamp(inside);
    // Kept as it is: its own reader looks at it when it is brought in.
    const bool there = kind == FleetKind::airplane ? inside.object(content_name(kind)).has_value()
                                                   : !inside.objects(content_name(kind)).empty();
    if (there) version.content = as_written.at("versions").at(i).at(content_name(kind)).dump();
    inside.replace_text("sha256", version.sha256);
    inside.replace_flag("fitted", version.fitted);
    inside.refuse_unknown_fields();
    ++i;
    item.versions.push_back(std::move(version));
  }
  if (item.versions.empty()) fields.add_problem("versions", "versions; at least one was expected");
  fields.refuse_unknown_fields();
  return item;
}

/// Archives of before there was a fleet have none.
void read_fleet(JsonFields& fields, FleetKind kind, const Json& as_written, std::vector<FleetItem>& fleet) {
  const std::string list = std::string(name_of(kind)) + "s";
  if (!fields.has(list)) return;
  std::size_t i = 0;
  for (auto& inside : fields.objects(list)) {
    fleet.push_back(read_fleet_item(inside, kind, as_written.at(list).at(i)));
    ++i;
  }
}

/// Archives of before texts were kept have none.
std::vector<KeptStandard> read_standards(JsonFields& fields, const Json& as_written) {
  std::vector<KeptStandard> standards;
  if (!fields.has("standards")) return standards;
  std::size_t i = 0;
  for (auto& inside : fields.objects("standards")) {
    KeptStandard one;
    one.standard.id = inside.text("id");
    one.sha256 = read_sha256(inside, "sha256");
    one.added = {inside.text("added_by"), read_kept_moment(inside, "added")};
    // Kept as it is: its own reader looks at it when it is brought in.
    if (inside.object("standard"))
      one.content = canonical_standard(as_written.at("standards").at(i).at("standard").dump());
    if (!one.content.empty() && sha256_hex(one.content) != one.sha256)
      inside.add_problem(
          "sha256", fmt::format("sha256 of {}; the standard beside it has another", shown(one.standard.id)));
    inside.refuse_unknown_fields();
    ++i;
    standards.push_back(std::move(one));
  }
  return standards;
}

}  // namespace

Json kept_standard_to_json(const KeptStandard& kept) {
  return {{"id", kept.standard.id},
          {"sha256", kept.sha256},
          {"added", iso8601_utc(kept.added.unix_s, k_time_decimals)},
          {"added_by", kept.added.by},
          {"standard", Json::parse(kept.content)}};
}

Json fleet_item_to_json(const FleetItem& item) {
  Json object{{"uid", item.uid},
              {"name", item.name},
              {"added", iso8601_utc(item.added.unix_s, k_time_decimals)},
              {"added_by", item.added.by},
              {"in_trash", item.in_trash},
              {"versions", Json::array()}};
  for (const FleetVersion& one : item.versions) {
    Json version{{"reason", one.reason}};
    add_stamp(version, one.stamp);
    version["sha256"] = one.sha256;
    version["fitted"] = one.fitted;
    if (!one.content.empty()) version[content_name(item.kind)] = Json::parse(one.content);
    object["versions"].push_back(version);
  }
  return object;
}

Json student_to_json(const StudentArchive& archive) {
  Json object;
  object["uid"] = archive.student.uid;
  object["name"] = archive.student.name;
  object["added"] = iso8601_utc(archive.student.added.unix_s, k_time_decimals);
  object["added_by"] = archive.student.added.by;
  for (const char* list : {"attempts", "notes", "sign_offs", "drills"}) object[list] = Json::array();
  for (const FiledAttempt& one : archive.attempts) object["attempts"].push_back(attempt_to_json(one));
  for (const Note& one : archive.notes) object["notes"].push_back(note_to_json(one));
  for (const SignOff& one : archive.sign_offs) object["sign_offs"].push_back(sign_off_to_json(one));
  for (const KeptAnswer& one : archive.answers) object["drills"].push_back(answer_to_json(one));
  return object;
}

Json archive_to_json(const Archive& archive) {
  Json object;
  object["schema"] = "glidewright.archive/1";
  object["made"] = Json::object();
  add_stamp(object["made"], archive.made);
  object["students"] = Json::array();
  for (const StudentArchive& one : archive.students) object["students"].push_back(student_to_json(one));
  for (const char* list : {"airplanes", "airfields"}) object[list] = Json::array();
  for (const FleetItem& one : archive.fleet)
    object[std::string(name_of(one.kind)) + "s"].push_back(fleet_item_to_json(one));
  object["standards"] = Json::array();
  for (const KeptStandard& one : archive.standards) object["standards"].push_back(kept_standard_to_json(one));
  return object;
}

Result<Archive> read_archive_json(std::string_view bytes, std::string_view name) {
  const Json as_written = Json::parse(bytes, nullptr, false);
  return read_json_object(bytes, name, [&](JsonFields& fields) {
    Archive archive;
    fields.expect_schema("glidewright.archive/1");
    if (auto made = fields.object("made")) {
      archive.made = read_stamp(*made);
      made->refuse_unknown_fields();
    }
    std::size_t i = 0;
    for (auto& inside : fields.objects("students"))
      archive.students.push_back(read_student(inside, as_written.at("students").at(i++)));
    for (const FleetKind kind : {FleetKind::airplane, FleetKind::airfield})
      read_fleet(fields, kind, as_written, archive.fleet);
    archive.standards = read_standards(fields, as_written);
    return archive;
  });
}

}  // namespace glidewright
