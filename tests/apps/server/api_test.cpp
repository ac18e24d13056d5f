// What the page asks of the records, by whom it may be asked, and in which words it is refused.
#include "apps/server/api.hpp"

#include <gmock/gmock.h>

#include <nlohmann/json.hpp>

#include "apps/server/known_to_records.hpp"
#include "apps/server/queue_worker.hpp"
#include "formats/sha256.hpp"
#include "store/queue.hpp"
#include "store/school.hpp"
#include "tests/apps/reference_flights.hpp"
#include "tests/apps/schema.hpp"
#include "tests/formats/test_files.hpp"
#include "tests/store/records_fixture.hpp"

namespace glidewright {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;

/// Debriefs nothing: "bad ..." is refused, anything else holds two attempts.
Result<NewFlight> pretended_debrief(const std::string& name, const std::string& bytes, const std::string&,
                                    const KnownToRecords& known) {
  if (bytes.rfind("bad", 0) == 0) return Error{name + ": is no track log"};
  NewFlight one = flight(bytes);
  for (NewAttempt& attempt : one.attempts) {
    attempt.assessment.circumstances.height_unit = known.height_unit;
    if (!known.airplane) continue;
    attempt.assessment.circumstances.airplane = known.airplane->name;
    attempt.assessment.circumstances.fleet_airplane = known.airplane->uid;
    attempt.assessment.circumstances.airplane_profile = known.airplane->versions.back().sha256;
  }
  return one;
}

/// Says what it was asked, and fits nothing.
Result<Json> pretended_fit(Records&, const FleetItem& airplane, std::optional<double> weight_lb,
                           const Stamp* keep) {
  if (airplane.name == "never flown") return Error{"never flown: nothing is filed under it"};
  return Json{{"of", airplane.name},
              {"weight_lb", weight_lb ? Json(*weight_lb) : Json(nullptr)},
              {"kept_by", keep != nullptr ? Json(keep->by) : Json(nullptr)}};
}

/// One picture, which ended beyond the box.
Result<OwnDrill> pretended_drill(Records&, long long student, std::uint64_t seed, std::size_t count) {
  OwnDrill drill;
  drill.seed = seed;
  OwnAsked one;
  one.attempt = student;
  one.index = static_cast<int>(count);
  one.log_name = "lesson.gpx";
  one.setting = "own flight, Demo 27";
  one.ground = {"27", 270.0, Traffic::left, {0.0, 200.0}, -1000.0, 4000.0};
  one.own.situation.seed = seed;
  one.own.situation.number = 1;
  one.own.situation.energy = Energy::high;
  one.own.situation.touchdown_ft = 450.0;
  one.own.situation.flown = {one.own.situation.now};
  one.own.situation.in_20_s.along_ft = -2000.0;
  one.own.situation.in_20_s.heading_true_deg = 270.0;
  drill.asked.push_back(one);
  return drill;
}

class ApiTest : public RecordsFixture, public ::testing::Test {
 protected:
  ApiTest() : pool(where), api(door, parts, pool), records(open()), school(records) {}

  static Result<Standard> demo_standard(const std::string& id) {
    if (!id.empty() && id != "demo") return Error{"no standard has the id " + id};
    Standard standard;
    standard.id = "demo";
    standard.name = "Demo standard";
    return standard;
  }
  ApiAnswer ask(const std::string& method, const std::string& path, const json& body = nullptr,
                const std::string& token = {}, std::map<std::string, std::string> query = {}) {
    query.emplace("by", "Demo Instructor");
    return api.answer({method, path, query, body.is_null() ? "" : body.dump(), "192.0.2.1", token, true});
  }
  json got(const std::string& path, const std::string& token = {}) {
    const ApiAnswer answer = ask("GET", path, nullptr, token);
    EXPECT_EQ(answer.status, 200) << path << ": " << answer.body;
    const json object = json::parse(answer.body);
    const std::string schema = object.value("schema", "");
    if (!schema.empty()) {
      EXPECT_EQ(objections(schema.substr(12, schema.find('/') - 12), object), "");
    }
    return object;
  }
  json posted(const std::string& path, const json& body, const std::string& token = {}) {
    const ApiAnswer answer = ask("POST", path, body, token);
    EXPECT_LT(answer.status, 300) << path << ": " << answer.body;
    return json::parse(answer.body);
  }
  std::string error_of(const ApiAnswer& answer) { return json::parse(answer.body).value("error", ""); }
  ApiAnswer drop_log(long long student, const std::string& bytes, const std::string& token = {}) {
    return api.answer({"POST",
                       fmt::format("students/{}/logs", student),
                       {{"name", "lesson.gpx"}, {"by", "Demo Instructor"}},
                       bytes,
                       "192.0.2.1",
                       token,
                       true});
  }
  void debrief_all() {
    while (debrief_next(records, parts, "worker")) {
    }
  }

  Door door;
  ServerParts parts{
      "",
      where,
      [] { return 1.8e9; },
      demo_standard,
      pretended_debrief,
      [](const std::string& asked) { return asked == "{}" ? "" : "how to debrief: {} was expected"; },
      pretended_fit,
      pretended_drill};
  RecordsPool pool;
  Api api;
  Records records;
  School school;
};

/// Asked about 20 s later, 300 ft too far ahead and 100 ft to the left of where it was, landing west: the
/// same that `record drill` makes of it.
TEST_F(ApiTest, AnOwnFlightIsAskedAboutAndTheAnswerFiled) {
  const long long number = posted("students", {{"name", "Demo Student"}})["number"];
  const std::string student = fmt::format("students/{}", number);
  const ApiAnswer asked = ask("GET", student + "/own-drill", nullptr, {}, {{"seed", "7"}, {"count", "3"}});
  ASSERT_EQ(asked.status, 200) << asked.body;
  const json drill = json::parse(asked.body);
  EXPECT_EQ(objections("own-drill", drill), "");
  const json one = drill["situations"][0];
  EXPECT_EQ(drill["seed"], 7);
  EXPECT_EQ(one["index"], 3);
  EXPECT_EQ(one["runway"]["true_bearing_deg"], 270.0);
  EXPECT_EQ(one["answer"]["in_20_s_heading_true_deg"], 270.0);
  json said = {{"setting", one["setting"]},
               {"runway_true_deg", 270.0},
               {"seed", 7},
               {"number", 1},
               {"truth", "high"},
               {"touchdown_ft", 450.0},
               {"in_20_s_along_ft", -2000.0},
               {"in_20_s_cross_ft", 0.0},
               {"in_20_s_heading_true_deg", 270.0},
               {"said", "on"},
               {"sureness", "sure"},
               {"mark", {{"along_ft", -1700.0}, {"cross_ft", -100.0}}}};
  const json kept = posted(student + "/own-drill/answer", said);
  EXPECT_EQ(kept["answer"]["mark_ahead_ft"], 300.0);
  EXPECT_EQ(kept["answer"]["mark_right_ft"], -100.0);
  EXPECT_EQ(kept["score"]["all"]["of"], 1);
  EXPECT_EQ(kept["score"]["all"]["right"], 0);
  EXPECT_EQ(got(student)["record"]["drill_score"]["all"]["of"], 1);
  said["said"] = "perhaps";
  EXPECT_THAT(error_of(ask("POST", student + "/own-drill/answer", said)), HasSubstr("low, on or high"));
  said["said"] = "on";
  said["number"] = -1;
  EXPECT_EQ(ask("POST", student + "/own-drill/answer", said).status, 400);
  EXPECT_EQ(ask("GET", "students/99/own-drill").status, 404);
  EXPECT_EQ(ask("GET", student + "/own-drill", nullptr, {}, {{"count", "many"}}).status, 400);
}

TEST_F(ApiTest, AFitIsLookedAtBeforeItIsKept) {
  const std::string profile = bytes_of(k_clone / "data/airplanes/demo-trainer.json");
  const long long number = posted("airplanes", {{"name", "Demo 1"}, {"content", profile}})["number"];
  const std::string fit = fmt::format("airplanes/{}/fit", number);
  const auto looked = ask("GET", fit, nullptr, {}, {{"weight_lb", "2200"}});
  ASSERT_EQ(looked.status, 200) << looked.body;
  EXPECT_EQ(json::parse(looked.body)["weight_lb"], 2200.0);
  EXPECT_TRUE(json::parse(looked.body)["kept_by"].is_null());
  EXPECT_EQ(posted(fit, json::object())["kept_by"], "Demo Instructor");
  EXPECT_EQ(ask("GET", fit, nullptr, {}, {{"weight_lb", "heavy"}}).status, 400);
  EXPECT_EQ(ask("GET", "airplanes/99/fit").status, 404);
  const long long other = posted("airplanes", {{"name", "never flown"}, {"content", profile}})["number"];
  const auto refused = ask("GET", fmt::format("airplanes/{}/fit", other));
  EXPECT_EQ(refused.status, 409);
  EXPECT_THAT(error_of(refused), HasSubstr("nothing is filed"));
}

TEST_F(ApiTest, AStudentIsAddedFiledForAssessedNotedAndSignedOff) {
  const long long number = posted("students", {{"name", "Demo Student"}})["number"];
  const std::string student = fmt::format("students/{}", number);
  const ApiAnswer accepted = drop_log(number, "a log");
  EXPECT_EQ(accepted.status, 202);
  EXPECT_EQ(json::parse(accepted.body)["state"], "waiting");
  EXPECT_TRUE(got(student)["record"]["student"]["attempts"].empty());
  debrief_all();
  const json job = got(student + "/jobs")["jobs"][0];
  EXPECT_EQ(job["state"], "done");
  EXPECT_EQ(job["new_attempts"], 2);
  EXPECT_EQ(got(student)["record"]["readiness"]["attempts"].size(), 2U);
  const auto attempts = must(records.attempts_of(number));
  posted(student + fmt::format("/attempts/{}/assessment", attempts[0].number),
         {{"met", true}, {"reason", "seen from the tower"}, {"versions_seen", 1}});
  posted(student + "/notes", {{"text", "looked at the point too late"}, {"attempt", attempts[0].number}});
  posted(student + "/sign-offs",
         {{"what", "solo accuracy landings"}, {"signed_on", "2026-05-20"}, {"signed_by", "C. Examiner"}});
  posted(student + "/due", {{"on", "2026-06-01"}, {"what", "progress check"}});
  const json shown = got(student);
  const json record = shown["record"];
  EXPECT_EQ(record["student"]["attempts"][0]["assessments"].size(), 2U);
  EXPECT_EQ(record["student"]["notes"].size(), 1U);
  EXPECT_EQ(record["student"]["sign_offs"][0]["signed_by"], "C. Examiner");
  EXPECT_EQ(shown["due"]["what"], "progress check");
  EXPECT_EQ(got(student + "/history")["changes"].back()["by"], "Demo Instructor");
}

TEST_F(ApiTest, WhatWasToldOfALogsHeightsHoldsWhenItIsDroppedAgain) {
  const long long number = posted("students", {{"name", "Demo Student"}})["number"];
  NewFlight told = flight("a log");
  for (NewAttempt& attempt : told.attempts) attempt.assessment.circumstances.height_unit = "ft";
  must(records.file_flight(number, told, k_stamp));
  const json job = json::parse(drop_log(number, "a log").body);
  debrief_all();
  const json done = got(fmt::format("jobs/{}", job["number"].get<long long>()));
  EXPECT_EQ(done["state"], "done");
  EXPECT_EQ(done["judged_anew"], 0) << "nothing has changed";
  drop_log(number, "another log");
  debrief_all();
  const json shown = got(fmt::format("students/{}", number))["record"]["student"]["attempts"];
  ASSERT_EQ(shown.size(), 4U);
  for (const json& one : shown)
    EXPECT_EQ(one["assessments"][0].contains("height_unit"), one["log"] == sha256_hex("a log"));
}

TEST_F(ApiTest, TheRosterTellsTheSameAsTheRecord) {
  const long long number = add(records, "Demo Student");
  for (int i = 0; i < 15; ++i)
    must(records.file_flight(number, flight(fmt::format("log {}", i), 1.7e9 + 86400.0 * i, 3), k_stamp));
  const json row = got("roster")["students"][0];
  const json record = got(fmt::format("students/{}", number))["record"];
  EXPECT_EQ(row["landings"].size(), 10U);
  EXPECT_DOUBLE_EQ(row["met"]["at_least"], record["readiness"]["at_least"]);
  EXPECT_EQ(row["met"]["of"], 20);
  EXPECT_EQ(row["last_flown"], record["readiness"]["attempts"].back()["time"]);
}

/// A house standard that is kept: chosen for the student, the roster, a correction and a log that is dropped.
TEST_F(ApiTest, AStandardOfTheHouseIsKeptAndCountedBy) {
  const long long number = add(records, "Demo Student");
  const std::string text = delivered_file("demo/house-standard.json");
  const json kept = posted("standards", {{"name", "house.json"}, {"content", text}});
  EXPECT_EQ(kept["id"], "house");
  const std::string sha = kept["sha256"];
  EXPECT_EQ(got("standards")["standards"], json::array({kept}));
  EXPECT_EQ(ask("POST", "standards", {{"name", "x.json"}, {"content", "{}"}}).status, 409);
  EXPECT_THAT(
      error_of(ask("POST", "standards", {{"name", "house.json"}, {"content", replaced(text, "300", "250")}})),
      HasSubstr("a higher version"));
  EXPECT_EQ(must(known_to_records(records, "{\"standard\": \"" + sha + "\"}")).standard->standard.id,
            "house");
  EXPECT_FALSE(must(known_to_records(records, R"({"standard": "no-such"})")).standard);
  NewFlight judged = flight("a log", 1.7e9, 1);
  judged.attempts[0].assessment.standard_id = "house";
  judged.attempts[0].assessment.standard_sha256 = sha;
  must(records.file_flight(number, judged, k_stamp));
  const std::string student = fmt::format("students/{}", number);
  const auto by_it = [&](const std::string& path) {
    const ApiAnswer answer = ask("GET", path, nullptr, {}, {{"standard", sha}});
    EXPECT_EQ(answer.status, 200) << answer.body;
    return json::parse(answer.body);
  };
  EXPECT_EQ(got(student)["record"]["readiness"]["met"]["of"], 0) << "by another standard";
  const json shown = by_it(student);
  EXPECT_EQ(objections("student", shown), "");
  EXPECT_EQ(shown["record"]["readiness"]["met"]["of"], 1);
  EXPECT_EQ(shown["standard"]["version"], "2");
  EXPECT_EQ(shown["standard"]["high_ft"], 300);
  EXPECT_EQ(by_it("roster")["students"][0]["met"]["of"], 1);
  const ApiAnswer corrected =
      ask("POST", fmt::format("{}/attempts/1/assessment", student),
          {{"met", true}, {"reason", "seen"}, {"versions_seen", 1}}, {}, {{"standard", sha}});
  EXPECT_EQ(corrected.status, 200) << corrected.body;
  EXPECT_EQ(must(records.attempts_of(number)).front().assessments.back().standard_sha256, sha);
  const json higher = posted(
      "standards",
      {{"name", "house.json"}, {"content", replaced(replaced(text, "300", "200"), R"("2")", R"("3")")}});
  EXPECT_EQ(by_it(student)["standard"]["otherwise_limited"], json::array({higher["sha256"]}));
  EXPECT_EQ(ask("GET", student, nullptr, {}, {{"standard", "no-such"}}).status, 400);
}

TEST_F(ApiTest, WhoeverLookedBeforeSomebodyElseAssessedIsTold) {
  const long long number = add(records, "Demo Student");
  must(records.file_flight(number, flight("a log", 1.7e9, 1), k_stamp));
  const auto attempt = must(records.attempts_of(number)).front().number;
  const std::string path = fmt::format("students/{}/attempts/{}/assessment", number, attempt);
  const json first = {{"flown_by", "student_prompted"}, {"reason", "prompted"}, {"versions_seen", 1}};
  EXPECT_EQ(ask("POST", path, first).status, 200);
  const ApiAnswer second = ask("POST", path, first);
  EXPECT_EQ(second.status, 409);
  EXPECT_THAT(error_of(second), HasSubstr("look again"));
  const auto assessments = must(records.attempts_of(number)).front().assessments;
  ASSERT_EQ(assessments.size(), 2U);
  EXPECT_EQ(assessments.back().rated.flown_by, FlownBy::student_prompted);
  EXPECT_EQ(got("roster")["students"][0]["landings"][0]["flown_by"], "student_prompted");
  const ApiAnswer unsaid =
      ask("POST", path, {{"flown_by", "not_alone"}, {"reason", "x"}, {"versions_seen", 2}});
  EXPECT_EQ(unsaid.status, 400);
  EXPECT_THAT(error_of(unsaid), HasSubstr("student_prompted"));
}

TEST_F(ApiTest, AFailedLogSaysWhyAndCanBeAskedAgainOrDismissed) {
  const long long number = add(records, "Demo Student");
  const long long job = json::parse(drop_log(number, "bad bytes").body)["number"];
  debrief_all();
  EXPECT_EQ(got(fmt::format("jobs/{}", job))["reason"], "lesson.gpx: is no track log");
  posted(fmt::format("jobs/{}/again", job), nullptr);
  EXPECT_EQ(got(fmt::format("jobs/{}", job))["state"], "waiting");
  debrief_all();
  posted(fmt::format("jobs/{}/dismiss", job), nullptr);
  EXPECT_EQ(ask("GET", fmt::format("jobs/{}", job)).status, 404);
}

TEST_F(ApiTest, WhatIsThrownAwayIsTakenBack) {
  const long long number = add(records, "Demo Student");
  posted(fmt::format("students/{}/trash", number), nullptr);
  EXPECT_TRUE(got("students")["students"].empty());
  EXPECT_EQ(ask("GET", fmt::format("students/{}", number)).status, 404);
  posted("undo", nullptr);
  EXPECT_EQ(got("students")["students"].size(), 1U);
}

TEST_F(ApiTest, OnlyThePageChangesAnything) {
  const ApiAnswer answer =
      api.answer({"POST", "students", {{"by", "x"}}, "{\"name\": \"Demo\"}", "192.0.2.1", "", false});
  EXPECT_EQ(answer.status, 403);
  EXPECT_TRUE(must(records.students()).empty());
}

TEST_F(ApiTest, WrongRequestsAreRefusedInASentence) {
  const long long number = add(records, "Demo Student");
  const std::string student = fmt::format("students/{}", number);
  EXPECT_EQ(ask("GET", "nothing").status, 404);
  EXPECT_EQ(ask("GET", "sign-in").status, 405);
  EXPECT_EQ(ask("GET", "students/77").status, 404);
  EXPECT_THAT(error_of(ask("POST", "students", {{"nme", "Demo"}})), HasSubstr("name"));
  EXPECT_THAT(error_of(ask("POST", "students", json::array())), HasSubstr("object"));
  EXPECT_THAT(error_of(ask("POST", student + "/sign-offs", {{"what", "solo"}, {"signed_on", "today"}})),
              HasSubstr("2026-05-14"));
  EXPECT_EQ(ask("POST", student + "/sign-offs", {{"what", "solo"}, {"signed_on", "2026-05-14"}}).status, 409)
      << "nobody is signed in, so the human must be named";
  EXPECT_EQ(ask("POST", student + "/due", {{"on", "soon"}}).status, 409);
  EXPECT_EQ(ask("GET", student, nullptr, {}, {{"standard", "other"}}).status, 400);
  EXPECT_EQ(drop_log(number, "").status, 409);
  EXPECT_EQ(
      api.answer(
             {"POST", student + "/logs", {{"name", "x"}, {"asked", "[]"}, {"by", "x"}}, "log", "", "", true})
          .status,
      400);
  EXPECT_EQ(api.answer({"POST", "students", {}, "{\"name\": \"Demo\"}", "", "", true}).status, 400)
      << "by whom?";
}

std::string demo_profile() {
  return bytes_of(k_clone / "data/airplanes/demo-trainer.json");
}

TEST_F(ApiTest, AirplanesAndAirfieldsAreAddedNamedByALogAndRemoved) {
  const std::string name = "Zoë's '; drop table airplanes; --";
  const long long airplane = posted("airplanes", {{"name", name}, {"content", demo_profile()}})["number"];
  EXPECT_EQ(ask("POST", "airplanes", {{"name", name}, {"content", demo_profile()}}).status, 409);
  EXPECT_EQ(ask("POST", "airplanes", {{"name", "x"}, {"content", "{}"}}).status, 409);
  json changed = json::parse(demo_profile());
  changed["best_glide_ratio"]["value"] = 8.8;
  const std::string path = fmt::format("airplanes/{}", airplane);
  posted(path + "/version", {{"content", changed.dump()}, {"reason", "weighed"}});
  EXPECT_EQ(got(path)["item"]["versions"][1]["profile"]["best_glide_ratio"]["value"], 8.8);
  const json runway = json::parse(bytes_of(k_clone / "data/demo/harrow-fen-24.json"));
  posted("airfields", {{"name", "Harrow Fen"}, {"content", json::array({runway}).dump()}});
  EXPECT_EQ(got("airfields")["items"][0]["name"], "Harrow Fen");

  parts.wrong_with_asked = [](const std::string&) { return std::string(); };
  const long long number = posted("students", {{"name", "Demo Student"}})["number"];
  const auto file_in = [&](const std::string& called) {
    return api.answer(
        {"POST",
         fmt::format("students/{}/logs", number),
         {{"name", "lesson.gpx"}, {"by", "x"}, {"asked", json{{"fleet_airplane", called}}.dump()}},
         "a log",
         "",
         "",
         true});
  };
  EXPECT_THAT(error_of(file_in("No Such")), HasSubstr("No Such"));
  EXPECT_EQ(file_in(name).status, 202);
  debrief_all();
  EXPECT_EQ(got(fmt::format("students/{}",
                            number))["record"]["student"]["attempts"][0]["assessments"][0]["airplane"],
            name);
  EXPECT_EQ(got(path)["filed_last"].size(), 2U);
  // Removed while a log waits: that one fails and says why.
  EXPECT_EQ(file_in(name).status, 202);
  posted(path + "/trash", nullptr);
  debrief_all();
  EXPECT_THAT(got(fmt::format("students/{}/jobs", number))["jobs"][0]["reason"].get<std::string>(),
              HasSubstr("no airplane"));
  EXPECT_EQ(ask("GET", path).status, 404);
  posted("undo", nullptr);
  EXPECT_EQ(ask("GET", path).status, 200);
}

/// Where everybody signs in.
class SignedInApiTest : public ApiTest {
 protected:
  SignedInApiTest() {
    door.sign_in = true;
    own = add(records, "Student of M");
    other = add(records, "Student of K");
    const Person m = person("m", Role::instructor), k = person("k", Role::instructor);
    person("a", Role::administrator);
    person("s", Role::student, own);
    must(school.hand_over(own, m.number, k_stamp));
    must(school.hand_over(other, k.number, k_stamp));
    k_number = k.number;
  }
  Person person(const std::string& sign_in, Role role, std::optional<long long> student = {}) {
    const Person one = must(school.add({"Person " + sign_in, sign_in, role, student}, k_stamp));
    must(school.set_password(one.number, "seven quiet gliders", k_stamp));
    return one;
  }
  std::string token(const std::string& sign_in) {
    const ApiAnswer answer = ask("POST", "sign-in", {{"name", sign_in}, {"password", "seven quiet gliders"}});
    EXPECT_EQ(answer.status, 200) << answer.body;
    return answer.new_token;
  }
  std::vector<std::string> names(const std::string& token) {
    std::vector<std::string> all;
    const json list = got("students", token);
    for (const auto& one : list["students"]) all.push_back(one["name"]);
    return all;
  }

  long long own = 0, other = 0, k_number = 0;
};

TEST_F(SignedInApiTest, WithoutSigningInThereIsNothingToSee) {
  EXPECT_EQ(got("here")["sign_in"], true);
  for (const char* path : {"students", "roster", "people", "students/1", "jobs/1", "students/1/archive"})
    EXPECT_EQ(ask("GET", path).status, 401) << path;
  EXPECT_EQ(ask("GET", "students", nullptr, std::string(64, 'a')).status, 401);
  const ApiAnswer wrong = ask("POST", "sign-in", {{"name", "m"}, {"password", "something else"}});
  EXPECT_EQ(wrong.status, 401);
  EXPECT_TRUE(wrong.new_token.empty());
}

/// Whoever tries names learns nothing of who is there: the same answers, and then the same lock.
TEST_F(SignedInApiTest, WrongPasswordsTellNothingAndShutTheName) {
  const auto answers = [&](const std::string& name) {
    std::vector<std::pair<int, std::string>> all;
    for (int i = 0; i < 7; ++i) {
      const ApiAnswer answer = ask("POST", "sign-in", {{"name", name}, {"password", "seven quiet glider"}});
      all.emplace_back(answer.status, answer.body);
      EXPECT_EQ(answer.new_token, "");
    }
    return all;
  };
  const auto there = answers("m");
  EXPECT_EQ(there.front().first, 401);
  EXPECT_THAT(there.back().second, HasSubstr("wait 15 min"));
  EXPECT_EQ(answers("nobody"), there);
  EXPECT_EQ(answers("x' or '1'='1"), there);
  const ApiAnswer right = ask("POST", "sign-in", {{"name", "m"}, {"password", "seven quiet gliders"}});
  EXPECT_EQ(right.status, 401) << "shut for the right one, too";
  EXPECT_NE(token("k"), "") << "others are not shut out";
}

TEST_F(SignedInApiTest, EachSeesOnlyTheirOwn) {
  using ::testing::ElementsAre;
  const std::string m = token("m"), a = token("a"), s = token("s");
  EXPECT_THAT(names(m), ElementsAre("Student of M"));
  EXPECT_THAT(names(a), ElementsAre("Student of K", "Student of M"));
  EXPECT_THAT(names(s), ElementsAre("Student of M"));
  for (const std::string& one : {m, s}) {
    for (const char* path : {"students/{}", "students/{}/history", "students/{}/archive", "students/{}/jobs"})
      EXPECT_EQ(ask("GET", fmt::format(fmt::runtime(path), other), nullptr, one).status, 404) << path;
    EXPECT_EQ(drop_log(other, "a log", one).status, 404);
  }
  EXPECT_EQ(ask("POST", fmt::format("students/{}/notes", other), {{"text", "x"}}, m).status, 404);
  const ApiAnswer asked_for_another =
      ask("GET", "students", nullptr, m, {{"instructor", std::to_string(k_number)}});
  EXPECT_THAT(asked_for_another.body, ::testing::Not(HasSubstr("Student of K")));
  EXPECT_EQ(got("roster", m)["students"].size(), 1U);
}

TEST_F(SignedInApiTest, AStudentLooksAndFilesButDoesNotJudge) {
  const std::string s = token("s");
  const std::string student = fmt::format("students/{}", own);
  EXPECT_EQ(got(student, s)["may_change"], false);
  EXPECT_EQ(drop_log(own, "a log", s).status, 202);
  EXPECT_EQ(ask("POST", student + "/notes", {{"text", "x"}}, s).status, 403);
  EXPECT_EQ(ask("POST", student + "/sign-offs", {{"what", "solo"}, {"signed_on", "2026-05-20"}}, s).status,
            403);
  EXPECT_EQ(ask("POST", "students", {{"name", "x"}}, s).status, 403);
  EXPECT_EQ(ask("GET", "people", nullptr, s).status, 403);
}

TEST_F(SignedInApiTest, TheFleetIsEverybodysToSeeAndInstructorsToChange) {
  const std::string m = token("m"), k = token("k"), s = token("s"), a = token("a");
  const json airplane = {{"name", "Demo 1"}, {"content", demo_profile()}};
  EXPECT_EQ(ask("GET", "airplanes").status, 401);
  EXPECT_EQ(ask("POST", "airplanes", airplane, s).status, 403);
  const std::string path = fmt::format("airplanes/{}", posted("airplanes", airplane, m)["number"].get<int>());
  EXPECT_EQ(ask("POST", path + "/trash", nullptr, s).status, 403);
  EXPECT_EQ(ask("POST", path + "/version", {{"content", demo_profile()}, {"reason", "x"}}, s).status, 403);
  EXPECT_EQ(got("airplanes", s)["items"][0]["versions"][0]["by"], "Person m");
  NewFlight flown = flight("a log");
  for (NewAttempt& one : flown.attempts)
    one.assessment.circumstances.fleet_airplane =
        must(records.find_in_fleet(FleetKind::airplane, "Demo 1")).uid;
  must(records.file_flight(own, flown, k_stamp));
  must(records.file_flight(other, flown, k_stamp));
  for (const auto& [who, seen] : std::map<std::string, std::size_t>{{m, 2}, {s, 2}, {k, 2}, {a, 4}})
    EXPECT_EQ(got(path, who)["filed_last"].size(), seen) << "each sees their own students' attempts";
}

TEST_F(SignedInApiTest, ChangesBearTheNameOfWhoIsSignedInWhateverThePageSays) {
  const std::string m = token("m");
  posted(fmt::format("students/{}/notes", own), {{"text", "x"}}, m);
  EXPECT_EQ(must(records.notes_of(own)).front().stamp.by, "Person m");
  posted(fmt::format("students/{}/sign-offs", own), {{"what", "solo"}, {"signed_on", "2026-05-20"}}, m);
  EXPECT_EQ(must(records.sign_offs_of(own)).front().signed_by, "Person m");
}

TEST_F(SignedInApiTest, WhoAddsAStudentLooksAfterThemUntilTheyAreHandedOver) {
  const std::string m = token("m"), k = token("k");
  const long long added = posted("students", {{"name", "New"}}, m)["number"];
  EXPECT_EQ(ask("GET", fmt::format("students/{}", added), nullptr, k).status, 404);
  posted(fmt::format("students/{}/instructor", added), {{"person", k_number}}, m);
  EXPECT_EQ(ask("GET", fmt::format("students/{}", added), nullptr, m).status, 404);
  EXPECT_EQ(ask("GET", fmt::format("students/{}", added), nullptr, k).status, 200);
}

TEST_F(SignedInApiTest, AnAdministratorAddsPeopleAndClosesThem) {
  const std::string a = token("a"), m = token("m");
  EXPECT_EQ(ask("POST", "people", {{"name", "T"}, {"sign_in", "t"}, {"role", "instructor"}}, m).status, 403);
  EXPECT_FALSE(got("people", m)["people"][0].contains("sign_in")) << "colleagues by name alone";
  const json t = posted(
      "people",
      {{"name", "T"}, {"sign_in", "t"}, {"role", "instructor"}, {"password", "seven quiet gliders"}}, a);
  const std::string signed_in = token("t");
  posted(fmt::format("people/{}/close", t["number"].get<int>()), nullptr, a);
  EXPECT_EQ(ask("GET", "students", nullptr, signed_in).status, 401);
}

TEST_F(SignedInApiTest, OnesOwnPasswordChangesByTheOldOneAndEndsOtherSessions) {
  const std::string m = token("m"), elsewhere = token("m");
  EXPECT_EQ(
      ask("POST", "password", {{"old_password", "wrong wrong wrong"}, {"password", "new words for me"}}, m)
          .status,
      403);
  const ApiAnswer changed =
      ask("POST", "password", {{"old_password", "seven quiet gliders"}, {"password", "new words for me"}}, m);
  ASSERT_EQ(changed.status, 200);
  EXPECT_EQ(ask("GET", "students", nullptr, elsewhere).status, 401);
  EXPECT_EQ(ask("GET", "students", nullptr, changed.new_token).status, 200);
  EXPECT_TRUE(ask("POST", "sign-out", nullptr, changed.new_token).session_ended);
  EXPECT_EQ(ask("GET", "students", nullptr, changed.new_token).status, 401);
}

}  // namespace
}  // namespace glidewright
