// The people of a school, as the office adds them from the command line.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/apps/program.hpp"
#include "tests/apps/schema.hpp"

namespace glidewright {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;

class SchoolCommandsTest : public ::testing::Test {
 protected:
  ProgramRun school(std::vector<std::string> words, const std::string& typed = {}) const {
    words.insert(words.begin(), "school");
    words.insert(words.end(), {"--records", folder.path() + "/records"});
    return run_program(words, {}, folder.with("typed", typed).c_str());
  }
  ProgramRun school_by(std::vector<std::string> words, const std::string& typed = {}) const {
    words.insert(words.end(), {"--by", "Demo Office"});
    return school(words, typed);
  }
  void add_student(const std::string& name) const {
    ASSERT_EQ(
        run_program({"record", "add", name, "--by", "Demo Office", "--records", folder.path() + "/records"})
            .exit_code,
        0);
  }
  json people() const {
    const json found = json::parse(school({"people", "--json"}).output);
    EXPECT_EQ(objections("people", found), "");
    return found.at("people");
  }
  json student() const {
    return json::parse(
               run_program({"record", "list", "--json", "--records", folder.path() + "/records"}).output)
        .at("students")
        .at(0);
  }

  TemporaryFolder folder;
};

TEST_F(SchoolCommandsTest, PeopleAreAddedGivenPasswordsClosedAndOpened) {
  EXPECT_EQ(school({"people"}).exit_code, 1) << "looking makes no records";
  EXPECT_EQ(school({"add", "Instructor M", "--sign-in", "m"}).exit_code, 2) << "nobody says who adds";
  ASSERT_EQ(school_by({"add", "Instructor M '; drop table people; --", "--sign-in", "m"}).exit_code, 0);
  ASSERT_EQ(school_by({"add", "מנהל", "--sign-in", "a", "--role", "administrator"}).exit_code, 0);
  EXPECT_THAT(school_by({"add", "Another", "--sign-in", "m"}).errors, HasSubstr("already"));
  EXPECT_EQ(school_by({"add", "Another", "--sign-in", "n", "--role", "king"}).exit_code, 2);
  EXPECT_THAT(school({"people"}).output, HasSubstr("signs in as \"m\", has no password yet"));
  EXPECT_THAT(school_by({"password", "m"}, "short\n").errors, HasSubstr("10 to 200"));
  const auto given = school_by({"password", "m"}, "seven quiet gliders\n");
  EXPECT_EQ(given.exit_code, 0) << given.errors;
  EXPECT_EQ((given.output + given.errors).find("quiet"), std::string::npos) << "never shown";
  EXPECT_EQ(people().at(0).at("has_password"), true);
  EXPECT_EQ(school_by({"close", "m"}).exit_code, 0);
  EXPECT_EQ(people().at(0).at("closed"), true);
  EXPECT_EQ(school_by({"open", "1"}).exit_code, 0);
  EXPECT_EQ(people().at(0).at("closed"), false);
  EXPECT_EQ(people().at(1).at("name"), "מנהל");
  EXPECT_EQ(school_by({"close", "nobody"}).exit_code, 1);
}

TEST_F(SchoolCommandsTest, AStudentIsHandedOverAndHasSomethingDue) {
  add_student("Demo Student");
  ASSERT_EQ(school_by({"add", "Instructor M", "--sign-in", "m"}).exit_code, 0);
  ASSERT_EQ(school_by({"add", "Instructor K", "--sign-in", "k"}).exit_code, 0);
  ASSERT_EQ(
      school_by({"add", "Demo Student", "--sign-in", "s", "--role", "student", "--student", "1"}).exit_code,
      0);
  EXPECT_EQ(school_by({"hand-over", "Demo Student"}).exit_code, 2) << "to whom";
  EXPECT_EQ(school_by({"hand-over", "Demo Student", "--to", "m", "--to-nobody"}).exit_code, 2);
  EXPECT_EQ(school_by({"hand-over", "Demo Student", "--to", "s"}).exit_code, 1)
      << "a student looks after nobody";
  EXPECT_THAT(school_by({"hand-over", "Demo Student", "--to", "m"}).output,
              HasSubstr("looked after by Instructor M"));
  EXPECT_EQ(student().at("instructor"), 1);
  EXPECT_THAT(school_by({"hand-over", "1", "--to", "k"}).output, HasSubstr("looked after by Instructor K"));
  EXPECT_EQ(student().at("instructor"), 2);
  EXPECT_EQ(school_by({"hand-over", "1", "--to-nobody"}).exit_code, 0);
  EXPECT_FALSE(student().contains("instructor"));
  EXPECT_EQ(school_by({"due", "1", "--on", "next week"}).exit_code, 1);
  EXPECT_THAT(school_by({"due", "1", "--on", "2126-05-21", "--what", "progress check"}).output,
              HasSubstr("Due for Demo Student on 2126-05-21: progress check."));
  EXPECT_EQ(student().at("due").at("what"), "progress check");
  EXPECT_THAT(school_by({"due", "1"}).output, HasSubstr("Nothing is due"));
  EXPECT_FALSE(student().contains("due"));
}

}  // namespace
}  // namespace glidewright
