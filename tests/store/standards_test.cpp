// The texts of standards, kept with what was judged by them: the same tests in a file and on a server.
#include <gmock/gmock.h>

#include "formats/file.hpp"
#include "formats/replace_all.hpp"
#include "formats/sha256.hpp"
#include "formats/standard_json.hpp"
#include "store/archive_zip.hpp"
#include "store/migrations.hpp"
#include "store/record_json.hpp"
#include "tests/formats/test_files.hpp"
#include "tests/store/records_fixture.hpp"

namespace glidewright {
namespace {

using ::testing::HasSubstr;

/// The demonstration's house standard, as another version and with another end of its box.
std::string house(const std::string& version, const std::string& high_ft) {
  std::string text = delivered_file("demo/house-standard.json");
  replace_all(text, "\"version\": \"2\"", "\"version\": \"" + version + "\"");
  replace_all(text, "\"high_ft\": 300", "\"high_ft\": " + high_ft);
  return text;
}

KeptStandard kept(const std::string& text, const std::string& id = "house") {
  KeptStandard one = kept_text(must(read_standard_json(text, id)), text);
  one.standard.id = id;
  return one;
}

/// Two attempts judged by this text.
NewFlight judged_by(const std::string& log, const KeptStandard& standard, double probability_met) {
  NewFlight one = flight(log);
  one.standard = standard;
  for (NewAttempt& attempt : one.attempts) {
    attempt.assessment.standard_id = standard.standard.id;
    attempt.assessment.standard_sha256 = standard.sha256;
    attempt.assessment.rated.probability_met = probability_met;
  }
  return one;
}

class StandardsTest : public RecordsFixture, public ::testing::TestWithParam<const char*> {
 protected:
  StandardsTest() : RecordsFixture(GetParam() == std::string("server")) {}
};

TEST_P(StandardsTest, AnAttemptBringsTheTextItWasJudgedBy) {
  const KeptStandard second = kept(house("2", "300"));
  {
    Records records = open();
    must(records.file_flight(add(records, "Demo Student"), judged_by("log", second, 0.5), k_stamp));
  }
  Records records = open();
  const auto found = must(records.kept_standard("house"));
  ASSERT_TRUE(found);
  EXPECT_EQ(found->content, second.content);
  EXPECT_EQ(found->sha256, second.sha256);
  EXPECT_EQ(found->standard.version, "2");
  EXPECT_EQ(found->standard.box->high_ft, 300.0);
  EXPECT_EQ(found->added.by, k_stamp.by);
  const auto archive = must(records.archive_of(1));
  ASSERT_EQ(archive.standards.size(), 1U);
  EXPECT_EQ(archive.attempts.at(0).assessments.at(0).standard_sha256, second.sha256);
  EXPECT_FALSE(must(records.kept_standard("another")));
  EXPECT_EQ(must(records.check_whole()), 1);
}

/// Blanks and the order of names say nothing.
TEST_P(StandardsTest, TheSameTextIsKeptOnce) {
  Records records = open();
  must(records.keep_standard("house", house("2", "300"), k_stamp));
  const std::string sorted = nlohmann::json::parse(house("2", "300")).dump(4);
  must(records.keep_standard("house", sorted, {"B. Instructor", 1.9e9}));
  const auto all = must(records.kept_standards());
  ASSERT_EQ(all.size(), 1U);
  EXPECT_EQ(all.front().added.by, k_stamp.by) << "who kept it first";
}

TEST_P(StandardsTest, AVersionSaysOneThing) {
  Records records = open();
  must(records.keep_standard("house", house("2", "300"), k_stamp));
  const auto changed = records.keep_standard("house", house("2", "200"), k_stamp);
  EXPECT_THAT(refusal(changed), HasSubstr("version 2 is kept since"));
  EXPECT_THAT(refusal(changed), HasSubstr("a higher version was expected"));
  const auto filed = records.file_flight(add(records, "Demo Student"),
                                         judged_by("log", kept(house("2", "200")), 0.5), k_stamp);
  EXPECT_THAT(refusal(filed), HasSubstr("version 2 is kept since"));
  EXPECT_TRUE(must(records.attempts_of(1)).empty()) << "nothing of it is filed";
  EXPECT_THAT(refusal(records.keep_standard("other", house("2", "300"), k_stamp)),
              HasSubstr("the same text is kept as house"));
  EXPECT_THAT(refusal(records.keep_standard(
                  "house", delivered_file("standards/us-commercial-power-off-180.json"), k_stamp)),
              HasSubstr("keep a house standard of that name"));
  for (const char* wrong : {"a/b", "a:2", " ", ""})
    EXPECT_NE(refusal(records.keep_standard(wrong, house("3", "200"), k_stamp)), "") << wrong;
  EXPECT_THAT(refusal(records.keep_standard("house", "{}", k_stamp)), HasSubstr("missing"));
  EXPECT_NE(refusal(records.keep_standard("house", "no JSON", k_stamp)), "");
  EXPECT_EQ(must(records.kept_standards()).size(), 1U);
}

/// By its limits: who raised them has proved nothing by them yet, and what somebody saw of the old ones was
/// not said of the new.
TEST_P(StandardsTest, WhatOtherLimitsJudgedDoesNotCount) {
  Records records = open();
  const auto student = add(records, "Demo Student");
  const KeptStandard second = kept(house("2", "300")), third = kept(house("3", "200"));
  must(records.file_flight(student, judged_by("log", second, 1.0), k_stamp));
  const auto filed = must(records.attempts_of(student)).front();
  Assessment seen = filed.assessments.front();
  seen.said.met = true;
  seen.said.forced = false;
  seen.reason = "seen from the tower";
  seen.stamp.unix_s += 1.0;
  must(records.assess_again(filed.number, seen));
  must(records.keep_standard("house", third.content, {"B. Instructor", 1.81e9}));
  const auto by_third = must(records.in_force(third.standard));
  const auto by_second = must(records.in_force(second.standard));
  auto attempts = must(records.attempts_of(student));
  EXPECT_EQ(newest_by(attempts.front(), by_third), nullptr);
  EXPECT_EQ(readiness_from(attempts, by_third).attempts.size(), 0U);
  EXPECT_EQ(judged_by_other_limits(attempts, by_third), 2);
  EXPECT_EQ(readiness_from(attempts, by_second).attempts.size(), 2U);

  EXPECT_EQ(must(records.file_flight(student, judged_by("log", third, 0.25), {"B. Instructor", 1.82e9}))
                .judged_anew,
            2);
  attempts = must(records.attempts_of(student));
  const Assessment* now = newest_by(attempts.front(), by_third);
  ASSERT_NE(now, nullptr);
  EXPECT_EQ(now->rated.probability_met, 0.25) << "seen to meet other limits";
  EXPECT_EQ(now->said.met, std::nullopt);
  EXPECT_EQ(now->reason, "debriefed again: standard, version 2 to 3");
  EXPECT_EQ(judged_by_other_limits(attempts, by_third), 0);
  EXPECT_EQ(newest_by(attempts.front(), by_second)->rated.probability_met, 1.0) << "as it was";
  EXPECT_EQ(must(records.kept_standard("house"))->standard.version, "3") << "the last one";
  EXPECT_EQ(must(records.kept_standard("house:2"))->sha256, second.sha256);
  EXPECT_EQ(must(records.kept_standard(second.sha256))->standard.version, "2");
  EXPECT_FALSE(must(records.kept_standard("house:4")));
}

/// A word in what the instructor ticks off moves no touchdown.
TEST_P(StandardsTest, AnotherWordingWithTheSameLimitsCounts) {
  Records records = open();
  const auto student = add(records, "Demo Student");
  must(records.file_flight(student, judged_by("log", kept(house("2", "300")), 1.0), k_stamp));
  const auto third = must(records.keep_standard("house", house("3", "300"), k_stamp));
  const auto attempts = must(records.attempts_of(student));
  EXPECT_EQ(readiness_from(attempts, must(records.in_force(third.standard))).attempts.size(), 2U);
}

TEST_P(StandardsTest, ATextIsNeverChangedOrRemoved) {
  Records records = open();
  must(records.keep_standard("house", house("2", "300"), k_stamp));
  auto sql = other_program();
  EXPECT_THROW(sql << "update standards set content = '{}'", soci::soci_error);
  EXPECT_THROW(sql << "delete from standards", soci::soci_error);
}

TEST_P(StandardsTest, AnArchiveCarriesTheTextsAndComesInOnce) {
  Records records = open();
  const auto student = add(records, "Demo Student");
  const KeptStandard second = kept(house("2", "300"));
  must(records.file_flight(student, judged_by("log", second, 0.5), k_stamp));
  must(records.keep_standard("never-judged-by", house("9", "100"), k_stamp));
  const std::vector<StudentArchive> students{must(records.archive_of(student))};
  const std::string bytes = must(archive_zip(records, {k_stamp, students, {}, standards_of(students)}));
  const auto received = must(read_archive_zip(bytes, "all.zip"));
  ASSERT_EQ(received.archive.standards.size(), 1U) << "those that go with the student";
  EXPECT_THAT(archive_index_html(received.archive), HasSubstr("house"));
  EXPECT_THAT(attempts_csv(students), HasSubstr(",2,student\r\n")) << "the version";

  const RecordsFixture other(GetParam() == std::string("server"));
  Records there = other.open();
  const StudentArchive& brought = received.archive.students.at(0);
  EXPECT_THAT(refusal(there.merge(brought, received.logs, k_stamp)),
              HasSubstr("of the standard house is missing"));
  EXPECT_EQ(must(there.merge_standards(received.archive.standards, k_stamp)), 1);
  EXPECT_EQ(must(there.merge_standards(received.archive.standards, k_stamp)), 0);
  EXPECT_EQ(must(there.merge(brought, received.logs, k_stamp)).assessments, 2);
  EXPECT_FALSE(must(there.merge(brought, received.logs, k_stamp)).anything());
  EXPECT_EQ(must(there.kept_standard("house"))->content, second.content);
  EXPECT_EQ(must(there.kept_standard("house"))->added.by, k_stamp.by);
}

/// Both copies of the records called another text version 2: neither is lost, and each attempt keeps its own.
TEST_P(StandardsTest, TwoTextsOfOneVersionFromTwoCopiesBothStay) {
  Records records = open();
  const KeptStandard here = kept(house("2", "300")), there = kept(house("2", "200"));
  const auto student = add(records, "Demo Student");
  must(records.file_flight(student, judged_by("log", here, 1.0), k_stamp));
  KeptStandard brought = there;
  brought.added = {"C. Instructor", 1.85e9};
  EXPECT_EQ(must(records.merge_standards({brought}, k_stamp)), 1);
  const auto attempts = must(records.attempts_of(student));
  EXPECT_EQ(readiness_from(attempts, must(records.in_force(here.standard))).attempts.size(), 2U);
  EXPECT_EQ(readiness_from(attempts, must(records.in_force(there.standard))).attempts.size(), 0U);
}

INSTANTIATE_TEST_SUITE_P(, StandardsTest, ::testing::Values("file", "server"),
                         [](const auto& kind) { return std::string(kind.param); });

class StandardsFile : public RecordsFixture, public ::testing::Test {};

/// What was judged before texts were kept counts by the id alone, until its log is filed again.
TEST_F(StandardsFile, RecordsOfBeforeCountByTheIdAlone) {
  {
    auto sql = other_program();
    ASSERT_FALSE(migrate(sql, DatabaseKind::sqlite, where, 8));
    add_attempt_of_before(sql);
    add_assessment_of_before(sql, "house");
  }
  Records records = open();
  EXPECT_TRUE(std::filesystem::exists(where + ".before-9"));
  const auto third = must(records.keep_standard("house", house("3", "200"), k_stamp));
  const auto attempts = must(records.attempts_of(1));
  EXPECT_EQ(attempts.at(0).assessments.at(0).standard_sha256, "");
  EXPECT_EQ(readiness_from(attempts, must(records.in_force(third.standard))).attempts.size(), 1U);
}

TEST_F(StandardsFile, ATextThatWasChangedOutsideIsNoticed) {
  Records records = open();
  must(records.keep_standard("house", house("2", "300"), k_stamp));
  EXPECT_EQ(must(records.check_whole()), 0);
  {
    auto sql = other_program();
    sql << "drop trigger standards_stay";
    sql << "update standards set content = replace(content, '300', '900')";
  }
  EXPECT_THAT(refusal(records.check_whole()), HasSubstr("is damaged"));
}

TEST(StandardsInArchives, ATextMustBeWhatItsDigestSays) {
  KeptStandard one = kept(house("2", "300"));
  one.added = k_stamp;
  Json archive = archive_to_json({k_stamp, {}, {}, {one}});
  EXPECT_TRUE(read_archive_json(archive.dump(), "records.json"));
  archive["standards"][0]["standard"]["box"]["high_ft"] = 900;
  EXPECT_THAT(refusal(read_archive_json(archive.dump(), "records.json")), HasSubstr("has another"));
}

}  // namespace
}  // namespace glidewright
