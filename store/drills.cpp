// Answers to drills: each kept once, whichever way it came.
#include <fmt/format.h>

#include "store/connection.hpp"
#include "store/rows.hpp"

namespace glidewright {
namespace {

KeptAnswer answer_of(const soci::row& row) {
  KeptAnswer one;
  one.uid = row.get<std::string>("uid");
  one.setting = row.get<std::string>("setting");
  one.seed = static_cast<std::uint64_t>(whole_number(row, "seed"));
  one.number = static_cast<int>(whole_number(row, "place"));
  one.answer.said = static_cast<Energy>(whole_number(row, "said"));
  one.answer.truth = static_cast<Energy>(whole_number(row, "truth"));
  one.answer.sureness = static_cast<Sureness>(whole_number(row, "sureness"));
  one.answer.mark_ahead_ft = optional_real(row, "mark_ahead_ft");
  one.answer.mark_right_ft = optional_real(row, "mark_right_ft");
  one.touchdown_ft = row.get<double>("touchdown_ft");
  one.time_unix_s = row.get<double>("answered_unix_s");
  return one;
}

}  // namespace

std::vector<KeptAnswer> select_answers(soci::session& sql, long long student) {
  std::vector<KeptAnswer> found;
  const soci::rowset<soci::row> rows =
      (sql.prepare << "select uid, setting, seed, place, said, truth, sureness, mark_ahead_ft, mark_right_ft,"
                      " touchdown_ft, answered_unix_s from answers where student = :student"
                      " order by answered_unix_s, number",
       soci::use(student));
  for (const auto& row : rows) found.push_back(answer_of(row));
  return found;
}

bool insert_answer(soci::session& sql, long long student, const KeptAnswer& one) {
  int there = 0;
  sql << "select count(*) from answers where uid = :uid", soci::use(one.uid), soci::into(there);
  if (there != 0) return false;
  const auto seed = static_cast<long long>(one.seed);
  const int said = static_cast<int>(one.answer.said), truth = static_cast<int>(one.answer.truth),
            sureness = static_cast<int>(one.answer.sureness);
  Nullable<double> ahead(one.answer.mark_ahead_ft), right(one.answer.mark_right_ft);
  sql << "insert into answers(uid, student, setting, seed, place, said, truth, sureness, mark_ahead_ft,"
         " mark_right_ft, touchdown_ft, answered_unix_s) values(:uid, :student, :setting, :seed, :place, "
         ":said,"
         " :truth, :sureness, :ahead, :right, :touchdown, :at)",
      soci::use(one.uid), soci::use(student), soci::use(one.setting), soci::use(seed), soci::use(one.number),
      soci::use(said), soci::use(truth), soci::use(sureness), soci::use(ahead.value, ahead.indicator),
      soci::use(right.value, right.indicator), soci::use(one.touchdown_ft), soci::use(one.time_unix_s);
  return true;
}

Result<int> Records::add_answers(long long student, const std::vector<KeptAnswer>& answers,
                                 const Stamp& stamp) {
  return answer<int>(*connection_, [&] {
    require_signed(stamp);
    auto& sql = connection_->sql;
    Writing writing(sql, connection_->kind);
    require_student(*connection_, student);
    int added = 0;
    for (const KeptAnswer& one : answers) {
      require_text("a drill's setting", one.setting);
      added += insert_answer(sql, student, one);
    }
    if (added > 0) write_down(sql, student, "answered", "drill", added, stamp);
    writing.commit();
    return added;
  });
}

Result<std::vector<KeptAnswer>> Records::answers_of(long long student) {
  return answer<std::vector<KeptAnswer>>(*connection_,
                                         [&] { return select_answers(connection_->sql, student); });
}

}  // namespace glidewright
