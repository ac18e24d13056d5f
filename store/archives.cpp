// All that is kept of a student, out and in again.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "formats/sha256.hpp"
#include "store/connection.hpp"
#include "store/rows.hpp"

namespace glidewright {
namespace {

std::optional<Student> student_by_uid(soci::session& sql, const std::string& uid) {
  const soci::rowset<soci::row> rows =
      (sql.prepare << std::string(k_students) + "where uid = :uid", soci::use(uid));
  for (const auto& row : rows) return student_of(row);
  return std::nullopt;
}

void refuse_the_deleted(soci::session& sql, const Student& student) {
  int deleted = 0;
  sql << "select count(*) from deleted where uid = :uid", soci::use(student.uid), soci::into(deleted);
  if (deleted != 0) throw Refusal("this person was deleted from these records, and stays deleted");
}

bool same(const Assessment& a, const Assessment& b) {
  return a.standard_id == b.standard_id && a.stamp.by == b.stamp.by && a.stamp.unix_s == b.stamp.unix_s &&
         a.reason == b.reason && a.rated.probability_met == b.rated.probability_met &&
         a.standard_sha256 == b.standard_sha256;
}

class Merging {
 public:
  Merging(Records::Connection& records, const Stamp& stamp) : records_(records), stamp_(stamp) {}

  Merged merge(const StudentArchive& archive, const std::map<std::string, std::string>& logs) {
    refuse_the_deleted(sql(), archive.student);
    const auto known = student_by_uid(sql(), archive.student.uid);
    const Student student =
        known ? *known
              : insert_student(sql(), archive.student.uid, archive.student.name, archive.student.added);
    merged_.student = !known;
    hold_student(sql(), records_.kind, student.number);
    merge_attempts(student.number, archive, logs);
    merge_notes(student.number, archive);
    merge_sign_offs(student.number, archive);
    for (const KeptAnswer& one : archive.answers)
      merged_.answers += insert_answer(sql(), student.number, one);
    if (merged_.anything())
      write_down(sql(), student.number, "brought in", "student", student.number, stamp_);
    return merged_;
  }

 private:
  soci::session& sql() { return records_.sql; }

  void keep_log(const FiledAttempt& attempt, const std::map<std::string, std::string>& logs) {
    const auto log = logs.find(attempt.log_sha256);
    if (log != logs.end()) {
      merged_.logs += insert_log(sql(), records_.kind, log->first, log->second);
      return;
    }
    if (!read_log(sql(), records_.kind, attempt.log_sha256))
      throw Refusal(fmt::format("the log {} of {} is missing", attempt.log_sha256, attempt.log_name));
  }

  void require_its_standard(const Assessment& one) {
    if (one.standard_sha256.empty() || select_standard(sql(), one.standard_sha256)) return;
    throw Refusal(
        fmt::format("the text {} of the standard {} is missing", one.standard_sha256, one.standard_id));
  }

  void merge_attempts(long long student, const StudentArchive& archive,
                      const std::map<std::string, std::string>& logs) {
    const auto known = select_attempts(sql(), "a.student = :what", student);
    for (const FiledAttempt& one : archive.attempts) {
      const auto here = std::find_if(known.begin(), known.end(), [&](const FiledAttempt& other) {
        return other.log_sha256 == one.log_sha256 && other.index == one.index;
      });
      FiledAttempt mine;
      if (here != known.end()) {
        mine = *here;
      } else {
        keep_log(one, logs);
        mine.number =
            insert_attempt(sql(), student, one.log_sha256, one.log_name, one.index, one.time_unix_s);
        ++merged_.attempts;
        if (one.in_trash)
          sql() << "update attempts set in_trash = 1 where number = :number", soci::use(mine.number);
      }
      number_here_[one.number] = mine.number;
      for (const Assessment& assessment : one.assessments) {
        const auto is_same = [&](const Assessment& other) { return same(other, assessment); };
        if (std::any_of(mine.assessments.begin(), mine.assessments.end(), is_same)) continue;
        require_its_standard(assessment);
        insert_assessment(sql(), mine.number, assessment);
        ++merged_.assessments;
      }
    }
  }

  void merge_notes(long long student, const StudentArchive& archive) {
    const auto known = select_notes(sql(), student);
    for (Note note : archive.notes) {
      const auto is_same = [&](const Note& other) { return other.uid == note.uid; };
      if (std::any_of(known.begin(), known.end(), is_same)) continue;
      if (note.attempt) {
        const auto here = number_here_.find(*note.attempt);
        note.attempt = here == number_here_.end() ? std::nullopt : std::optional<long long>(here->second);
      }
      insert_note(sql(), student, note);
      ++merged_.notes;
    }
  }

  void merge_sign_offs(long long student, const StudentArchive& archive) {
    const auto known = select_sign_offs(sql(), student);
    for (const SignOff& one : archive.sign_offs) {
      const auto is_same = [&](const SignOff& other) { return other.uid == one.uid; };
      if (std::any_of(known.begin(), known.end(), is_same)) continue;
      insert_sign_off(sql(), student, one);
      ++merged_.sign_offs;
    }
  }

  Records::Connection& records_;
  const Stamp& stamp_;
  Merged merged_;
  std::map<long long, long long> number_here_;
};

std::vector<KeptStandard> standards_named_by(soci::session& sql, const std::vector<FiledAttempt>& attempts) {
  std::set<std::string> named;
  for (const FiledAttempt& one : attempts)
    for (const Assessment& assessment : one.assessments) named.insert(assessment.standard_sha256);
  std::vector<KeptStandard> found;
  for (const std::string& sha : named)
    if (auto kept = select_standard(sql, sha)) found.push_back(std::move(*kept));
  return found;
}

void require_whole(const StudentArchive& archive) {
  require_text("a student's name", archive.student.name);
  if (archive.student.uid.size() != 32) throw Refusal("a student's uid of 32 digits was expected");
  for (const FiledAttempt& one : archive.attempts)
    if (one.assessments.empty())
      throw Refusal(fmt::format("attempt {} has no assessment; at least one was expected", one.number));
}

}  // namespace

Result<StudentArchive> Records::archive_of(long long student) {
  return answer<StudentArchive>(*connection_, [&] {
    auto& sql = connection_->sql;
    StudentArchive archive;
    const auto known = select_student(sql, student);
    if (!known) throw Refusal(fmt::format("no student has the number {}", student));
    archive.student = *known;
    archive.attempts = select_attempts(sql, "a.student = :what", student);
    archive.notes = select_notes(sql, student);
    archive.sign_offs = select_sign_offs(sql, student);
    archive.answers = select_answers(sql, student);
    archive.standards = standards_named_by(sql, archive.attempts);
    return archive;
  });
}

Result<Merged> Records::merge(const StudentArchive& archive, const std::map<std::string, std::string>& logs,
                              const Stamp& stamp) {
  return answer<Merged>(*connection_, [&] {
    require_signed(stamp);
    require_whole(archive);
    Writing writing(connection_->sql, connection_->kind);
    const Merged merged = Merging(*connection_, stamp).merge(archive, logs);
    writing.commit();
    return merged;
  });
}

}  // namespace glidewright
