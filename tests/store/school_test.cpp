// People, signing in, who looks after whom: in a file and on a server.
#include "store/school.hpp"

#include <gmock/gmock.h>

#include <map>
#include <set>

#include "store/password.hpp"
#include "store/record_json.hpp"
#include "tests/store/records_fixture.hpp"

namespace glidewright {
namespace {

constexpr double k_now = 1.8e9;
const std::string k_right = "seven quiet gliders";

class SchoolTest : public RecordsFixture, public ::testing::TestWithParam<const char*> {
 protected:
  SchoolTest()
      : RecordsFixture(GetParam() == std::string("server")), records(open()), school(records, rules()) {}
  static SignInRules rules() {
    SignInRules few;
    few.tries_from_an_address = 8;
    return few;
  }
  Person person(const std::string& sign_in, Role role, std::optional<long long> student = {}) {
    return must(school.add({"Demo " + sign_in, sign_in, role, student}, k_stamp));
  }
  Person with_password(const std::string& sign_in, Role role) {
    const Person one = person(sign_in, role);
    must(school.set_password(one.number, k_right, k_stamp));
    return one;
  }
  std::string refused(const std::string& name, const std::string& password, double now = k_now,
                      const std::string& address = "192.0.2.1") {
    return refusal(school.sign_in(name, password, address, now));
  }

  Records records;
  School school;
};

TEST_P(SchoolTest, ThePersonWhoSignsInIsKnownByTheTokenUntilItIsSignedOut) {
  const Person added = with_password("m", Role::instructor);
  const SignedIn in = must(school.sign_in("M", k_right, "192.0.2.1", k_now));
  EXPECT_EQ(in.person.number, added.number);
  EXPECT_EQ(in.token.size(), 64U);
  EXPECT_EQ(must(school.who(in.token, k_now + 60.0))->number, added.number);
  EXPECT_FALSE(must(school.who("x" + in.token.substr(1), k_now)));
  must(school.sign_out(in.token));
  EXPECT_FALSE(must(school.who(in.token, k_now + 60.0)));
}

TEST_P(SchoolTest, ATokenIsKeptAsItsDigestOnly) {
  with_password("m", Role::instructor);
  const SignedIn in = must(school.sign_in("m", k_right, "192.0.2.1", k_now));
  auto sql = other_program();
  int found = 0;
  sql << "select count(*) from sessions where token = :token", soci::use(in.token), soci::into(found);
  EXPECT_EQ(found, 0);
  std::string hash;
  sql << "select password from people", soci::into(hash);
  EXPECT_EQ(hash.rfind("$argon2id$", 0), 0U) << hash;
}

TEST_P(SchoolTest, ASessionEndsByItselfAfterANightAndAfterAWeek) {
  with_password("m", Role::instructor);
  const SignedIn in = must(school.sign_in("m", k_right, "192.0.2.1", k_now));
  EXPECT_TRUE(must(school.who(in.token, k_now + 11.0 * 3600.0)));
  EXPECT_TRUE(must(school.who(in.token, k_now + 22.0 * 3600.0))) << "it was used meanwhile";
  EXPECT_FALSE(must(school.who(in.token, k_now + 35.0 * 3600.0)));
  double now = k_now;
  const SignedIn busy = must(school.sign_in("m", k_right, "192.0.2.1", now));
  for (; now < k_now + 6.9 * 86400.0; now += 6.0 * 3600.0) EXPECT_TRUE(must(school.who(busy.token, now)));
  EXPECT_FALSE(must(school.who(busy.token, k_now + 7.1 * 86400.0)));
}

TEST_P(SchoolTest, WhoIsNotThereIsRefusedInTheSameWordsAsAWrongPassword) {
  with_password("m", Role::instructor);
  const Person gone = with_password("k", Role::instructor);
  person("t", Role::instructor);
  must(school.close(gone.number, k_stamp));
  const std::string wrong = refused("m", "seven quiet glider");
  EXPECT_NE(wrong, "");
  EXPECT_EQ(refused("nobody", k_right), wrong);
  EXPECT_EQ(refused("k", k_right), wrong) << "closed";
  EXPECT_EQ(refused("t", ""), wrong) << "no password yet";
}

TEST_P(SchoolTest, AfterFiveWrongTriesANameIsShutForAWhileWhetherItExistsOrNot) {
  with_password("m", Role::instructor);
  for (const std::string name : {"m", "nobody"}) {
    std::set<std::string> said;
    for (int i = 0; i < 5; ++i) said.insert(refused(name, "wrong wrong wrong", k_now, "192.0.2." + name));
    EXPECT_EQ(said.size(), 1U);
    EXPECT_THAT(refused(name, k_right, k_now + 1.0, "192.0.2." + name), ::testing::HasSubstr("wait 15 min"));
  }
  EXPECT_EQ(refused("m", k_right, k_now + 901.0), "") << "afterwards it opens";
}

TEST_P(SchoolTest, SomebodyWhoIsRightForgetsTheTriesBefore) {
  with_password("m", Role::instructor);
  for (int round = 0; round < 3; ++round) {
    for (int i = 0; i < 2; ++i) EXPECT_NE(refused("m", "wrong wrong wrong"), "");
    EXPECT_EQ(refused("m", k_right), "");
  }
}

TEST_P(SchoolTest, OneAddressCannotTryManyNames) {
  with_password("m", Role::instructor);
  for (int i = 0; i < 8; ++i) EXPECT_NE(refused("name" + std::to_string(i), "wrong wrong wrong"), "");
  EXPECT_THAT(refused("m", k_right), ::testing::HasSubstr("too many tries"));
  EXPECT_EQ(refused("m", k_right, k_now, "192.0.2.77"), "") << "from elsewhere it goes on";
}

TEST_P(SchoolTest, APasswordThatIsChangedEndsTheSessions) {
  const Person one = with_password("m", Role::instructor);
  const SignedIn in = must(school.sign_in("m", k_right, "192.0.2.1", k_now));
  must(school.set_password(one.number, "another long password", k_stamp));
  EXPECT_FALSE(must(school.who(in.token, k_now)));
  EXPECT_NE(refused("m", k_right), "");
  EXPECT_EQ(refused("m", "another long password"), "");
}

TEST_P(SchoolTest, PasswordsAndNamesThatCannotBeAreRefusedWithASentence) {
  const Person one = person("m", Role::instructor);
  EXPECT_THAT(school.set_password(one.number, "short", k_stamp)->sentence, ::testing::HasSubstr("10 to 200"));
  EXPECT_TRUE(school.set_password(one.number, std::string(201, 'x'), k_stamp));
  EXPECT_THAT(refusal(school.add({"Other", "m", Role::instructor, {}}, k_stamp)),
              ::testing::HasSubstr("already"));
  for (const std::string name : {"", "A", "a b", "a'; drop table people; --", "12"})
    EXPECT_THAT(refusal(school.add({"Other", name, Role::instructor, {}}, k_stamp)),
                ::testing::HasSubstr("small letters"));
  EXPECT_THAT(refusal(school.add({"Other", "s", Role::student, {}}, k_stamp)),
              ::testing::HasSubstr("student"));
  EXPECT_THAT(refusal(school.add({"Other", "s", Role::student, 77}, k_stamp)), ::testing::HasSubstr("77"));
}

TEST_P(SchoolTest, TheLastAdministratorStays) {
  const Person first = with_password("a", Role::administrator);
  EXPECT_TRUE(must(school.can_be_signed_in_to()));
  EXPECT_THAT(school.close(first.number, k_stamp)->sentence, ::testing::HasSubstr("last administrator"));
  const Person second = with_password("b", Role::administrator);
  must(school.close(first.number, k_stamp));
  EXPECT_TRUE(school.close(second.number, k_stamp));
  must(school.open_again(first.number, k_stamp));
  EXPECT_EQ(refused("a", k_right), "");
}

TEST_P(SchoolTest, EachSeesTheirOwnAndAHandOverMovesTheStudent) {
  const Person m = person("m", Role::instructor), k = person("k", Role::instructor);
  const Person a = person("a", Role::administrator);
  const long long number = add(records, "Demo Student");
  const Person s = person("s", Role::student, number);
  must(school.hand_over(number, m.number, k_stamp));
  Student student = must(records.find_student(std::to_string(number)));
  EXPECT_TRUE(may_see(m, student) && may_change(m, student));
  EXPECT_TRUE(may_see(a, student) && may_change(a, student));
  EXPECT_TRUE(may_see(s, student) && !may_change(s, student));
  EXPECT_FALSE(may_see(k, student));
  must(school.hand_over(number, k.number, k_stamp));
  student = must(records.find_student(std::to_string(number)));
  EXPECT_FALSE(may_see(m, student));
  EXPECT_TRUE(may_see(k, student));
  EXPECT_TRUE(school.hand_over(number, s.number, k_stamp)) << "a student looks after nobody";
  must(school.hand_over(number, std::nullopt, k_stamp));
  EXPECT_FALSE(may_see(k, must(records.find_student(std::to_string(number)))));
  EXPECT_EQ(must(records.changes_of(number)).back().what, "handed over");
}

TEST_P(SchoolTest, WhatIsDueFirstStandsFirstAndPartsOfTheListFit) {
  const Person m = person("m", Role::instructor);
  const std::vector<std::string> days = {"", "2026-06-03", "2026-05-15", "", "2026-05-21", "2026-05-15"};
  for (std::size_t i = 0; i < days.size(); ++i) {
    const long long number = add(records, fmt::format("Student {}", static_cast<char>('A' + i)));
    must(school.set_due(number, days[i], days[i].empty() ? "" : "progress check", k_stamp));
    if (i != 4) must(school.hand_over(number, m.number, k_stamp));
  }
  StudentsPage page;
  page.order = StudentsPage::Order::by_due;
  page.at_most = 2;
  std::string order;
  for (;;) {
    const auto part = must(records.students(page));
    for (const Student& one : part) order += one.name.back();
    if (part.empty()) break;
    page.after = part.back().number;
  }
  EXPECT_EQ(order, "CFEBAD");
  page.after = 0;
  page.at_most = 50;
  page.instructor = m.number;
  order.clear();
  for (const Student& one : must(records.students(page))) order += one.name.back();
  EXPECT_EQ(order, "CFBAD");
  EXPECT_TRUE(school.set_due(1, "21 May", "x", k_stamp));
  EXPECT_TRUE(school.set_due(1, "", "x", k_stamp)) << "what, but not when";
}

TEST_P(SchoolTest, TheLatestAttemptsComeInTheOrderFlown) {
  const long long number = add(records, "Demo Student");
  must(records.file_flight(number, flight("first", 1.70e9, 2), k_stamp));
  must(records.file_flight(number, flight("the day after", 1.7001e9, 1), k_stamp));
  must(records.file_flight(number, flight("second", 1.71e9, 3), k_stamp));
  const long long other = add(records, "Other Student"), nobody = add(records, "New Student");
  must(records.file_flight(other, flight("between", 1.705e9, 2), k_stamp));
  const auto latest = must(school.latest_attempts_of({number, other, nobody}, 4));
  EXPECT_EQ(latest.size(), 2U) << "who has none is not there";
  ASSERT_EQ(latest.at(number).size(), 4U);
  const auto all = must(records.attempts_of(number));
  for (std::size_t i = 0; i < 4; ++i) EXPECT_EQ(latest.at(number)[i].number, all[i + 2].number);
  ASSERT_EQ(latest.at(other).size(), 2U);
  for (const FiledAttempt& one : latest.at(other)) EXPECT_EQ(one.student, other);
  EXPECT_TRUE(must(school.latest_attempts_of({}, 4)).empty());
}

/// A cut in the middle of a day would make its third attempt the cold one.
TEST_P(SchoolTest, TheLatestAttemptsBeginWithAWholeDay) {
  const long long number = add(records, "Demo Student"), other = add(records, "Other Student");
  const double midnight = 86400.0 * 20000.0;
  for (int day = 0; day < 3; ++day)
    must(records.file_flight(number, flight(fmt::format("day {}", day), midnight + 86400.0 * day, 4),
                             k_stamp));
  // A day's attempts need not lie in one log.
  must(records.file_flight(number, flight("the evening of the first day", midnight + 80000.0, 2), k_stamp));
  must(records.file_flight(other, flight("another's", midnight, 9), k_stamp));
  must(records.throw_attempt_away(must(records.attempts_of(number)).at(1).number, k_stamp));
  StandardInForce standard;
  standard.standard.id = "demo";
  const auto all = readiness_from(must(records.attempts_of(number)), standard).attempts;
  ASSERT_EQ(all.size(), 13U);
  for (const auto& [asked, given] :
       std::map<int, std::size_t>{{1, 4}, {4, 4}, {5, 8}, {8, 8}, {9, 13}, {12, 13}, {13, 13}, {50, 13}}) {
    const auto latest = must(school.latest_attempts_of({number, other}, asked));
    EXPECT_EQ(latest.at(other).size(), 9U) << "all of one day";
    const auto some = readiness_from(latest.at(number), standard).attempts;
    ASSERT_EQ(some.size(), given) << asked;
    for (std::size_t i = 0; i < some.size(); ++i) {
      const auto& same = all[all.size() - some.size() + i];
      EXPECT_EQ(some[i].time_unix_s, same.time_unix_s);
      EXPECT_EQ(some[i].rated.first_of_day, same.rated.first_of_day) << asked << ": " << i;
    }
  }
}

TEST_P(SchoolTest, WhoeverIsDeletedTakesTheirSignInAlong) {
  with_password("a", Role::administrator);
  const long long number = add(records, "Demo Student");
  const Person s = person("s", Role::student, number);
  must(school.set_password(s.number, k_right, k_stamp));
  const SignedIn in = must(school.sign_in("s", k_right, "192.0.2.1", k_now));
  must(records.delete_student(number, k_stamp));
  EXPECT_FALSE(must(school.who(in.token, k_now)));
  EXPECT_NE(refused("s", k_right), "");
}

INSTANTIATE_TEST_SUITE_P(Records, SchoolTest, ::testing::Values("file", "server"),
                         [](const auto& where) { return std::string(where.param); });

/// Two hashes of one password differ by their salt; both are it.
TEST(Password, IsSaltedAndKnownAgain) {
  const std::string one = password_hash(k_right), other = password_hash(k_right);
  EXPECT_NE(one, other);
  EXPECT_TRUE(password_is(one, k_right) && password_is(other, k_right));
  EXPECT_FALSE(password_is(one, k_right + " "));
  EXPECT_FALSE(password_is("", ""));
  EXPECT_NE(new_token(), new_token());
}

}  // namespace
}  // namespace glidewright
