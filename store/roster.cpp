// Who looks after whom, and what is due.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "formats/time.hpp"
#include "store/connection.hpp"
#include "store/people_rows.hpp"
#include "store/rows.hpp"
#include "store/school.hpp"

namespace glidewright {

std::optional<Error> School::hand_over(long long student, std::optional<long long> to, const Stamp& stamp) {
  return done_or_error(connection_, [&] {
    require_signed(stamp);
    auto& sql = connection_.sql;
    Writing writing(sql, connection_.kind);
    require_student(connection_, student);
    if (to) {
      const auto person = select_person(sql, *to);
      if (!person || person->closed || person->role == Role::student)
        throw Refusal(fmt::format("person {} is no instructor who could look after a student", *to));
    }
    Nullable<long long> instructor(to);
    sql << "update students set instructor = :to where number = :student",
        soci::use(instructor.value, instructor.indicator), soci::use(student);
    write_down(sql, student, "handed over", "student", student, stamp);
    writing.commit();
  });
}

std::optional<Error> School::set_due(long long student, const std::string& on, const std::string& what,
                                     const Stamp& stamp) {
  return done_or_error(connection_, [&] {
    require_signed(stamp);
    if (!on.empty() && !read_date(on)) throw Refusal("what is due: a day such as 2026-05-21 was expected");
    if (!what.empty()) require_text("what is due", what);
    if (on.empty() && !what.empty()) throw Refusal("what is due needs a day such as 2026-05-21");
    auto& sql = connection_.sql;
    const std::string day = on.empty() ? k_never_due : on;
    Writing writing(sql, connection_.kind);
    require_student(connection_, student);
    sql << "update students set due_on = :day, due_what = :what where number = :student", soci::use(day),
        soci::use(what), soci::use(student);
    write_down(sql, student, on.empty() ? "no longer due" : "due", "student", student, stamp);
    writing.commit();
  });
}

Result<std::map<long long, std::vector<FiledAttempt>>> School::latest_attempts_of(
    const std::vector<long long>& students, int at_least) {
  using Latest = std::map<long long, std::vector<FiledAttempt>>;
  if (students.empty()) return Latest{};
  return answer<Latest>(connection_, [&] {
    // What is written out are numbers, not anybody's text.
    const auto all =
        select_attempts(connection_.sql,
                        fmt::format("a.number in (select number from (select number, day, "
                                    "max(case when place = :what then day end) over (partition "
                                    "by student) as cut from (select number, student, "
                                    "row_number() over (partition by student order by "
                                    "flown_unix_s desc, number desc) as place, {} as day from "
                                    "attempts where in_trash = 0 and student in ({})) as placed) "
                                    "as latest where cut is null or day >= cut)",
                                    day_of("flown_unix_s", connection_.kind), fmt::join(students, ", ")),
                        at_least);
    Latest found;
    for (const FiledAttempt& one : all) found[one.student].push_back(one);
    return found;
  });
}

}  // namespace glidewright
