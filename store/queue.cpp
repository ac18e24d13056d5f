#include "store/queue.hpp"

#include <fmt/format.h>

#include "formats/sha256.hpp"
#include "store/connection.hpp"
#include "store/rows.hpp"

namespace glidewright {
namespace {

constexpr int k_most_tries = 3;

constexpr const char* k_jobs =
    "select number, student, log, log_name, asked, state, tries, said, attempts, judged_anew, made_by,"
    " made_unix_s, ended_unix_s from jobs ";

Job::State state_named(const std::string& name) {
  for (const auto state : {Job::State::waiting, Job::State::taken, Job::State::done})
    if (name == name_of(state)) return state;
  return Job::State::failed;
}

Job job_of(const soci::row& row) {
  Job job;
  job.number = whole_number(row, "number");
  job.student = whole_number(row, "student");
  job.log_sha256 = row.get<std::string>("log");
  job.log_name = row.get<std::string>("log_name");
  job.asked = row.get<std::string>("asked");
  job.state = state_named(row.get<std::string>("state"));
  job.tries = static_cast<int>(whole_number(row, "tries"));
  job.said = row.get<std::string>("said");
  job.attempts = static_cast<int>(whole_number(row, "attempts"));
  job.judged_anew = static_cast<int>(whole_number(row, "judged_anew"));
  job.stamp = {row.get<std::string>("made_by"), row.get<double>("made_unix_s")};
  job.ended_unix_s = optional_real(row, "ended_unix_s");
  return job;
}

std::optional<Job> select_job(soci::session& sql, long long number) {
  const soci::rowset<soci::row> rows =
      (sql.prepare << std::string(k_jobs) + "where number = :number", soci::use(number));
  for (const auto& row : rows) return job_of(row);
  return std::nullopt;
}

/// The oldest of that state that nobody else is taking at this moment; 0 where there is none. In a file the
/// transaction alone sees to that.
long long next_in(soci::session& sql, DatabaseKind kind, const std::string& condition) {
  long long number = 0;
  sql << "select number from jobs where " + condition + " order by number limit 1" +
             (kind == DatabaseKind::postgresql ? " for update skip locked" : ""),
      soci::into(number);
  return sql.got_data() ? number : 0;
}

/// Bytes that no unfinished job needs any more.
void forget_bytes(soci::session& sql, const std::string& sha256) {
  sql << "delete from waiting_logs where sha256 = :sha and not exists"
         " (select 1 from jobs where log = :same and state <> 'done')",
      soci::use(sha256, "sha"), soci::use(sha256, "same");
}

/// Ends the job where it still is the worker's.
bool end(soci::session& sql, const Job& job, const std::string& worker, const std::string& state,
         const std::string& said, double unix_s) {
  long long ended = 0;
  sql << "update jobs set state = :state, said = :said, ended_unix_s = :now where number = :number"
         " and state = 'taken' and taken_by = :worker returning number",
      soci::use(state, "state"), soci::use(said, "said"), soci::use(unix_s, "now"),
      soci::use(job.number, "number"), soci::use(worker, "worker"), soci::into(ended);
  return sql.got_data();
}

void require_failed(const std::optional<Job>& job, long long number) {
  if (!job) throw Refusal(fmt::format("no debrief has the number {}", number));
  if (job->state != Job::State::failed)
    throw Refusal(fmt::format("debrief {} has not failed: it is {}", number, name_of(job->state)));
}

}  // namespace

const char* name_of(Job::State state) {
  switch (state) {
    case Job::State::waiting:
      return "waiting";
    case Job::State::taken:
      return "taken";
    case Job::State::done:
      return "done";
    default:
      return "failed";
  }
}

Queue::Queue(Records& records) : connection_(*records.connection_) {}

Result<Job> Queue::put(long long student, const std::string& log_name, const std::string& log_bytes,
                       const std::string& asked, const Stamp& stamp) {
  return answer<Job>(connection_, [&] {
    require_signed(stamp);
    require_text("the name of a log", log_name);
    require_text("how to debrief a log", asked);
    if (log_bytes.empty()) throw Refusal(log_name + ": is empty");
    auto& sql = connection_.sql;
    const std::string sha = sha256_hex(log_bytes);
    Writing writing(sql, connection_.kind);
    require_student(connection_, student);
    insert_log(sql, connection_.kind, sha, log_bytes, BytesOf::waiting_logs);
    long long number = 0;
    sql << "insert into jobs(student, log, log_name, asked, state, made_by, made_unix_s)"
           " values(:student, :log, :name, :asked, 'waiting', :by, :at) returning number",
        soci::use(student), soci::use(sha), soci::use(log_name), soci::use(asked), soci::use(stamp.by),
        soci::use(stamp.unix_s), soci::into(number);
    const auto job = select_job(sql, number);
    writing.commit();
    return *job;
  });
}

Result<std::optional<TakenJob>> Queue::take(const std::string& worker, double unix_s, double hold_s) {
  return answer<std::optional<TakenJob>>(connection_, [&]() -> std::optional<TakenJob> {
    auto& sql = connection_.sql;
    Writing writing(sql, connection_.kind);
    long long number = next_in(sql, connection_.kind, "state = 'waiting'");
    if (number == 0)
      number = next_in(sql, connection_.kind,
                       fmt::format("state = 'taken' and held_until_unix_s < {:.3f}", unix_s));
    if (number == 0) return std::nullopt;
    auto job = select_job(sql, number);
    if (job->tries >= k_most_tries) {
      sql << "update jobs set state = 'failed', ended_unix_s = :now, said = 'the debrief was begun three "
             "times"
             " and never ended' where number = :number",
          soci::use(unix_s), soci::use(number);
      writing.commit();
      return std::nullopt;
    }
    const double until = unix_s + hold_s;
    sql << "update jobs set state = 'taken', taken_by = :worker, held_until_unix_s = :until,"
           " tries = tries + 1 where number = :number",
        soci::use(worker), soci::use(until), soci::use(number);
    auto bytes = read_log(sql, connection_.kind, job->log_sha256, BytesOf::waiting_logs);
    if (!bytes) throw Refusal(fmt::format("the log of debrief {} is not there", number));
    writing.commit();
    job->state = Job::State::taken;
    ++job->tries;
    return TakenJob{std::move(*job), std::move(*bytes)};
  });
}

Result<bool> Queue::finish(const Job& job, const std::string& worker, const NewFlight& flight,
                           double unix_s) {
  return answer<bool>(connection_, [&] {
    auto& sql = connection_.sql;
    Writing writing(sql, connection_.kind);
    require_student(connection_, job.student);
    if (!end(sql, job, worker, "done", "", unix_s)) return false;
    const FiledFlight filed =
        file_flight_of_held(sql, connection_.kind, job.student, flight, {job.stamp.by, unix_s});
    sql << "update jobs set attempts = :attempts, judged_anew = :anew where number = :number",
        soci::use(filed.attempts), soci::use(filed.judged_anew), soci::use(job.number);
    forget_bytes(sql, job.log_sha256);
    writing.commit();
    return true;
  });
}

Result<bool> Queue::fail(const Job& job, const std::string& worker, const std::string& sentence,
                         double unix_s) {
  return answer<bool>(connection_, [&] {
    Writing writing(connection_.sql, connection_.kind);
    const bool ended = end(connection_.sql, job, worker, "failed", sentence, unix_s);
    writing.commit();
    return ended;
  });
}

std::optional<Error> Queue::ask_again(long long number, const std::string& asked, const Stamp& stamp) {
  return done_or_error(connection_, [&] {
    require_signed(stamp);
    require_text("how to debrief a log", asked);
    auto& sql = connection_.sql;
    Writing writing(sql, connection_.kind);
    require_failed(select_job(sql, number), number);
    sql << "update jobs set state = 'waiting', asked = :asked, said = '', tries = 0, ended_unix_s = null,"
           " made_by = :by, made_unix_s = :at where number = :number and state = 'failed'",
        soci::use(asked), soci::use(stamp.by), soci::use(stamp.unix_s), soci::use(number);
    writing.commit();
  });
}

std::optional<Error> Queue::dismiss(long long number, const Stamp& stamp) {
  return done_or_error(connection_, [&] {
    require_signed(stamp);
    auto& sql = connection_.sql;
    Writing writing(sql, connection_.kind);
    const auto job = select_job(sql, number);
    require_failed(job, number);
    sql << "delete from jobs where number = :number and state = 'failed'", soci::use(number);
    forget_bytes(sql, job->log_sha256);
    writing.commit();
  });
}

Result<Job> Queue::find(long long number) {
  return answer<Job>(connection_, [&] {
    const auto job = select_job(connection_.sql, number);
    if (!job) throw Refusal(fmt::format("no debrief has the number {}", number));
    return *job;
  });
}

Result<std::vector<Job>> Queue::of_student(long long student, int at_most) {
  return answer<std::vector<Job>>(connection_, [&] {
    std::vector<Job> found;
    const soci::rowset<soci::row> rows =
        (connection_.sql.prepare << std::string(k_jobs) +
                                        "where student = :student order by number desc limit :most",
         soci::use(student), soci::use(at_most));
    for (const auto& row : rows) found.push_back(job_of(row));
    return found;
  });
}

Result<int> Queue::waiting() {
  return answer<int>(connection_, [&] {
    int count = 0;
    connection_.sql << "select count(*) from jobs where state = 'waiting'", soci::into(count);
    return count;
  });
}

}  // namespace glidewright
