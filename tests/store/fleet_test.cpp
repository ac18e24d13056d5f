// Airplanes and airfields of a school, in a file and on a server.
#include <gmock/gmock.h>

#include "bench/records_at_size.hpp"
#include "formats/file.hpp"
#include "formats/json_write.hpp"
#include "formats/replace_all.hpp"
#include "formats/sha256.hpp"
#include "store/migrations.hpp"
#include "store/rows.hpp"
#include "tests/apps/reference_flights.hpp"
#include "tests/store/records_fixture.hpp"

namespace glidewright {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

std::string profile() {
  return bytes_of(k_clone / "data/airplanes/demo-trainer.json");
}

/// The same airplane with another glide.
std::string profile_with_glide(double ratio) {
  Json object = Json::parse(profile());
  object["best_glide_ratio"]["value"] = ratio;
  return object.dump();
}

Json runway(const std::string& designator) {
  Json object = Json::parse(bytes_of(k_clone / "data/demo/harrow-fen-24.json"));
  object["designator"] = designator;
  return object;
}

std::string both_ways() {
  return Json::array({runway("06"), runway("24")}).dump();
}

/// A flight in that airplane of the fleet.
NewFlight flight_in(const FleetItem& airplane, const std::string& bytes, double start_unix_s = 1.7e9) {
  NewFlight one = flight(bytes, start_unix_s);
  for (NewAttempt& attempt : one.attempts) {
    Circumstances& how = attempt.assessment.circumstances;
    how.airplane = airplane.name;
    how.fleet_airplane = airplane.uid;
    how.airplane_profile = airplane.versions.back().sha256;
  }
  return one;
}

Stamp at(double seconds_later) {
  return {k_stamp.by, k_stamp.unix_s + seconds_later};
}

class FleetTest : public RecordsFixture, public ::testing::TestWithParam<const char*> {
 protected:
  FleetTest() : RecordsFixture(GetParam() == std::string("server")), records(open()) {}

  FleetItem airplane(const std::string& name) {
    return must(records.add_to_fleet(FleetKind::airplane, name, profile(), k_stamp));
  }
  std::vector<std::string> names(FleetKind kind) {
    std::vector<std::string> all;
    for (const FleetItem& one : must(records.fleet(kind))) all.push_back(one.name);
    return all;
  }

  Records records;
};

TEST_P(FleetTest, KeepsAnyNameAsItIs) {
  for (const std::string& name :
       {std::string("'; drop table airplanes; --"), std::string("\" or 1=1"), std::string("Zoë Ñandú"),
        std::string("דוגמה"), std::string("\xF0\x9F\x9B\xA9"), std::string(200, 'x'), std::string("4711")}) {
    airplane(name);
    must(records.add_to_fleet(FleetKind::airfield, name, both_ways(), k_stamp));
    for (const auto kind : {FleetKind::airplane, FleetKind::airfield}) {
      EXPECT_EQ(must(records.find_in_fleet(kind, name)).name, name);
      EXPECT_EQ(must(records.fleet_named(kind, name))->name, name);
    }
  }
  EXPECT_EQ(names(FleetKind::airplane).size(), 7U);
  for (const std::string& name : {std::string(" \t"), std::string(201, 'x'), std::string("\xFF"),
                                  std::string("a\0b", 3), std::string("4711")})
    EXPECT_FALSE(records.add_to_fleet(FleetKind::airplane, name, profile(), k_stamp));
  EXPECT_FALSE(records.add_to_fleet(FleetKind::airplane, "Demo", profile(), {"", 0.0})) << "by whom?";
}

TEST_P(FleetTest, RefusesWhatIsNoProfileAndNoRunways) {
  const auto refused = [&](FleetKind kind, const std::string& content) {
    return refusal(records.add_to_fleet(kind, "Demo", content, k_stamp));
  };
  EXPECT_THAT(refused(FleetKind::airplane, "{"), HasSubstr("Demo:1"));
  EXPECT_THAT(refused(FleetKind::airplane, "{}"), HasSubstr("name"));
  EXPECT_THAT(refused(FleetKind::airplane, both_ways()), HasSubstr("object"));
  EXPECT_THAT(refused(FleetKind::airplane, profile_with_glide(90.0)), HasSubstr("best_glide_ratio"));
  EXPECT_THAT(refused(FleetKind::airfield, "[]"), HasSubstr("list of runways"));
  EXPECT_THAT(refused(FleetKind::airfield, profile()), HasSubstr("list of runways"));
  EXPECT_THAT(refused(FleetKind::airfield, Json::array({runway("24"), runway("24")}).dump()),
              HasSubstr("two runways are called 24"));
  EXPECT_FALSE(refused(FleetKind::airfield, std::string(500000, '[')).empty()) << "nested too deep";
  EXPECT_FALSE(refused(FleetKind::airplane, std::string(2000000, ' ') + profile()).empty()) << "too long";
  EXPECT_TRUE(names(FleetKind::airplane).empty());
  EXPECT_TRUE(names(FleetKind::airfield).empty());
}

TEST_P(FleetTest, EveryVersionStaysWithWhoSaidItAndWhy) {
  const auto first = airplane("Demo 1");
  EXPECT_THAT(refusal(records.add_to_fleet(FleetKind::airplane, "Demo 1", profile(), k_stamp)),
              HasSubstr("there already"));
  const std::string hostile = "'; delete from airplane_versions; -- דוגמה";
  const auto second = must(records.change_in_fleet(FleetKind::airplane, first.number, profile_with_glide(8.8),
                                                   hostile, {"B. Instructor", 1.81e9}));
  ASSERT_EQ(second.versions.size(), 2U);
  EXPECT_THAT(refusal(records.change_in_fleet(FleetKind::airplane, first.number, profile_with_glide(8.8),
                                              "once more", at(2.0e7))),
              HasSubstr("nothing was changed"));
  EXPECT_FALSE(records.change_in_fleet(FleetKind::airplane, first.number, profile(), "", at(2.0e7)))
      << "without a reason";
  EXPECT_FALSE(records.change_in_fleet(FleetKind::airplane, 4711, profile(), "x", k_stamp));
  const auto kept = must(records.find_in_fleet(FleetKind::airplane, "Demo 1"));
  ASSERT_EQ(kept.versions.size(), 2U);
  EXPECT_EQ(kept.versions[0].content, Json::parse(profile()).dump());
  EXPECT_EQ(kept.versions[0].sha256, sha256_hex(kept.versions[0].content));
  EXPECT_EQ(kept.versions[1].reason, hostile);
  EXPECT_EQ(kept.versions[1].stamp.by, "B. Instructor");
  auto sql = other_program();
  EXPECT_THROW(sql << "update airplane_versions set content = ''", soci::soci_error);
  EXPECT_THROW(sql << "delete from airplane_versions", soci::soci_error);
}

TEST_P(FleetTest, TheTrashGivesBackWhatWasRemoved) {
  const auto one = airplane("Demo 1");
  airplane("Demo 2");
  must(records.throw_from_fleet(FleetKind::airplane, one.number, k_stamp));
  EXPECT_TRUE(records.throw_from_fleet(FleetKind::airplane, one.number, k_stamp)) << "in the trash already";
  EXPECT_TRUE(records.throw_from_fleet(FleetKind::airfield, one.number, k_stamp)) << "there is none";
  EXPECT_THAT(names(FleetKind::airplane), ElementsAre("Demo 2"));
  EXPECT_FALSE(records.find_in_fleet(FleetKind::airplane, "Demo 1"));
  EXPECT_FALSE(*records.fleet_named(FleetKind::airplane, "Demo 1"));
  EXPECT_FALSE(
      records.change_in_fleet(FleetKind::airplane, one.number, profile_with_glide(8.0), "x", k_stamp));
  EXPECT_EQ(must(records.fleet_in_trash(FleetKind::airplane)).at(0).name, "Demo 1");
  EXPECT_EQ(must(records.undo_last_throwing_away(k_stamp.by, 1.82e9)),
            fmt::format("airplane {}", one.number));
  EXPECT_THAT(names(FleetKind::airplane), ElementsAre("Demo 1", "Demo 2"));
  must(records.throw_from_fleet(FleetKind::airplane, one.number, k_stamp));
  airplane("Demo 1");
  EXPECT_THAT(refusal(records.undo_last_throwing_away(k_stamp.by, 1.82e9)), HasSubstr("by now"));
}

TEST_P(FleetTest, AttemptsAreFiledUnderTheAirplaneThatWasNamedLast) {
  const auto one = airplane("Demo 1"), two = airplane("Demo 2");
  const auto student = add(records, "Demo Student"), other = add(records, "Another Demo");
  must(records.file_flight(student, flight_in(one, "first"), k_stamp));
  must(records.file_flight(other, flight_in(one, "second", 1.71e9), at(10.0)));
  must(records.file_flight(other, flight("in no airplane of ours", 1.72e9), at(20.0)));
  auto flown = must(records.latest_attempts_in(one.uid, 100));
  ASSERT_EQ(flown.size(), 4U);
  EXPECT_EQ(flown.front().student, other) << "the newest first";
  EXPECT_EQ(must(records.latest_attempts_in(one.uid, 3)).size(), 3U);
  const auto filed = must(records.attempts_of(student)).front().assessments.front().circumstances;
  EXPECT_EQ(filed.fleet_airplane, one.uid);
  EXPECT_EQ(filed.airplane_profile, one.versions.back().sha256);

  // It was the other one: nothing is lost of what was said, and nothing counts twice.
  EXPECT_EQ(must(records.file_flight(student, flight_in(two, "first"), at(30.0))).judged_anew, 2);
  EXPECT_EQ(must(records.latest_attempts_in(one.uid, 100)).size(), 2U);
  EXPECT_EQ(must(records.latest_attempts_in(two.uid, 100)).size(), 2U);
  EXPECT_EQ(must(records.attempts_of(student)).front().assessments.size(), 2U);
  EXPECT_THAT(newest_by(must(records.attempts_of(student)).front(), "demo")->reason,
              HasSubstr("airplane Demo 1 to Demo 2"));
  // A correction keeps the airplane.
  const auto first = must(records.attempts_of(student)).front();
  Assessment corrected = *newest_by(first, "demo");
  corrected.said.flown_by = FlownBy::student_prompted;
  corrected.reason = "prompted";
  corrected.stamp = at(40.0);
  must(records.assess_again(first.number, corrected));
  EXPECT_EQ(must(records.latest_attempts_in(two.uid, 100)).size(), 2U) << "each once";

  must(records.throw_attempt_away(first.number, k_stamp));
  EXPECT_EQ(must(records.latest_attempts_in(two.uid, 100)).size(), 1U);
  must(records.throw_student_away(student, k_stamp));
  EXPECT_TRUE(must(records.latest_attempts_in(two.uid, 100)).empty());
}

TEST_P(FleetTest, AnotherProfileJudgesAnew) {
  auto one = airplane("Demo 1");
  const auto student = add(records, "Demo Student");
  must(records.file_flight(student, flight_in(one, "log"), k_stamp));
  EXPECT_EQ(must(records.file_flight(student, flight_in(one, "log"), at(5.0))).judged_anew, 0);
  one = must(
      records.change_in_fleet(FleetKind::airplane, one.number, profile_with_glide(8.8), "weighed", k_stamp));
  EXPECT_EQ(must(records.file_flight(student, flight_in(one, "log"), at(10.0))).judged_anew, 2);
  EXPECT_EQ(must(records.attempts_of(student)).front().assessments.back().reason,
            "debriefed again: the airplane's profile");
}

TEST_P(FleetTest, ComesInOnceFromAnotherCopyAndTheLaterVersionCounts) {
  auto one = airplane("Demo 1");
  must(records.add_to_fleet(FleetKind::airfield, "Harrow Fen", both_ways(), k_stamp));
  must(records.change_in_fleet(FleetKind::airplane, one.number, profile_with_glide(8.8), "newest", at(20.0)));
  const auto thrown = airplane("Demo 9");
  must(records.throw_from_fleet(FleetKind::airplane, thrown.number, k_stamp));
  const auto fleet = must(records.whole_fleet());
  ASSERT_EQ(fleet.size(), 3U);

  const RecordsFixture elsewhere(GetParam() == std::string("server"));
  Records there = elsewhere.open();
  must(there.add_to_fleet(FleetKind::airplane, "Demo 1", profile_with_glide(10.0), k_stamp));
  const MergedFleet first = must(there.merge_fleet(fleet, k_stamp));
  EXPECT_EQ(first.airplanes, 2);
  EXPECT_EQ(first.airfields, 1);
  EXPECT_EQ(first.versions, 4);
  EXPECT_FALSE(must(there.merge_fleet(fleet, k_stamp)).anything()) << "everything is here";
  const auto known = must(there.find_in_fleet(FleetKind::airplane, "Demo 1 (2)"));
  EXPECT_EQ(known.uid, one.uid) << "another one of that name was there before";
  EXPECT_EQ(must(there.fleet_in_trash(FleetKind::airplane)).at(0).name, "Demo 9");
  // The two copies go on by themselves; what was said last counts in both, whichever comes in first.
  must(there.change_in_fleet(FleetKind::airplane, known.number, profile_with_glide(9.5), "later", at(30.0)));
  must(
      records.change_in_fleet(FleetKind::airplane, one.number, profile_with_glide(9.7), "earlier", at(25.0)));
  must(records.merge_fleet(must(there.whole_fleet()), k_stamp));
  must(there.merge_fleet(must(records.whole_fleet()), k_stamp));
  EXPECT_EQ(must(records.find_in_fleet(FleetKind::airplane, "Demo 1")).versions.back().reason, "later");
  EXPECT_EQ(must(there.find_in_fleet(FleetKind::airplane, "Demo 1 (2)")).versions.back().reason, "later");
  // What somebody wrote into an archive is read as carefully as a file.
  auto spoilt = fleet;
  spoilt.front().uid = std::string(32, 'a');
  spoilt.front().versions.front().content = "{}";
  EXPECT_FALSE(there.merge_fleet(spoilt, k_stamp));
  EXPECT_EQ(must(there.fleet(FleetKind::airplane)).size(), 2U) << "nothing half there";
}

/// No question reads a whole table that grows with the school.
TEST_P(FleetTest, QuestionsGoByAnIndex) {
  auto sql = other_program();
  fill_records(sql, server != nullptr, 200);
  const auto one = airplane("Demo 1");
  sql << "insert into assessments(attempt, version, standard, went_around, probability_met,"
         " probability_in_box, student_alone, forced, sound_go_around, reason, made_by, made_unix_s,"
         " fleet_airplane, airplane_profile) select number, 2, 'demo', 0, 0, 0, 1, 0, 0, 'again', 'x',"
         " flown_unix_s + 1, :uid, '' from attempts where number % 50 = 0",
      soci::use(one.uid);
  sql << "analyze";
  std::string query = k_latest_attempts_in;
  replace_all(query, ":airplane", "'" + one.uid + "'");
  replace_all(query, ":most", "20");
  const char* explain = server ? "explain " : "explain query plan ";
  std::string plan;
  {
    const soci::rowset<soci::row> rows = (sql.prepare << explain + query);
    for (const auto& row : rows) plan += row.get<std::string>(server ? 0 : 3) + "\n";
  }
  EXPECT_THAT(plan, HasSubstr("assessments_by_airplane"));
  for (const char* whole : {"Seq Scan", "SCAN a", "SCAN s ", "SCAN p", "SCAN later"})
    EXPECT_THAT(plan, ::testing::Not(HasSubstr(whole))) << plan;
  // In the order of the index: the twentieth is found without sorting all.
  for (const char* sorted : {"Sort Key: s.made_unix_s DESC, s.attempt DESC\n  ->  Seq", "TEMP B-TREE"})
    EXPECT_THAT(plan, ::testing::Not(HasSubstr(sorted))) << plan;
  EXPECT_EQ(must(records.latest_attempts_in(one.uid, 20)).size(), 20U);
}

INSTANTIATE_TEST_SUITE_P(, FleetTest, ::testing::Values("file", "server"),
                         [](const auto& given) { return std::string(given.param); });

TEST(FleetFile, RecordsOfBeforeAreBroughtForwardAfterACopy) {
  const RecordsFixture fixture;
  {
    auto sql = fixture.other_program();
    ASSERT_FALSE(migrate(sql, DatabaseKind::sqlite, fixture.where, 6));
    add_attempt_of_before(sql);
    add_assessment_of_before(sql, "demo");
  }
  Records records = fixture.open();
  const auto before = must(records.attempts_of(1));
  ASSERT_EQ(before.size(), 1U);
  EXPECT_EQ(before[0].assessments.at(0).circumstances.fleet_airplane, "");
  EXPECT_TRUE(must(records.fleet(FleetKind::airplane)).empty());
  EXPECT_TRUE(read_file(fixture.where + ".before-7"));
}

}  // namespace
}  // namespace glidewright
