// Signing in, and how often anybody may be wrong about it.
#include <fmt/format.h>

#include <cmath>

#include "formats/sha256.hpp"
#include "store/connection.hpp"
#include "store/password.hpp"
#include "store/people_rows.hpp"
#include "store/school.hpp"

namespace glidewright {
namespace {

/// Counted under a digest: what is typed as a name may be a password typed in the wrong place.
std::string counted_as(const char* kind, const std::string& what) {
  return sha256_hex(std::string(kind) + ":" + what);
}

std::string lower_case(std::string text) {
  for (char& c : text)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return text;
}

/// One more try, counted before the password is looked at, so that many at once do not slip through.
class Tries {
 public:
  Tries(soci::session& sql, const SignInRules& rules, double now) : sql_(sql), rules_(rules), now_(now) {}

  void count(const std::string& who, int allowed) {
    int failed = 0;
    double since = now_, until = 0.0;
    sql_ << "insert into sign_in_tries(who, failed, since_unix_s, until_unix_s) values(:who, 0, :now, 0)"
            " on conflict (who) do nothing",
        soci::use(who), soci::use(now_);
    sql_ << "update sign_in_tries set failed = failed + 1 where who = :who"
            " returning failed, since_unix_s, until_unix_s",
        soci::use(who), soci::into(failed), soci::into(since), soci::into(until);
    if (until > now_) refuse(until);
    if (now_ - since > rules_.within_s || until > 0.0) {
      failed = 1;
      sql_ << "update sign_in_tries set failed = 1, since_unix_s = :now, until_unix_s = 0 where who = :who",
          soci::use(now_), soci::use(who);
    }
    if (failed < allowed) return;
    const double shut = now_ + rules_.shut_for_s;
    sql_ << "update sign_in_tries set until_unix_s = :shut where who = :who", soci::use(shut), soci::use(who);
  }
  void forget(const std::string& who) {
    sql_ << "delete from sign_in_tries where who = :who", soci::use(who);
  }
  void take_one_back(const std::string& who) {
    sql_ << "update sign_in_tries set failed = failed - 1, until_unix_s = 0 where who = :who", soci::use(who);
  }

 private:
  [[noreturn]] void refuse(double until) const {
    throw Refusal(
        fmt::format("too many tries to sign in; wait {:.0f} min", std::ceil((until - now_) / 60.0)));
  }

  soci::session& sql_;
  const SignInRules& rules_;
  double now_;
};

struct Known {
  std::optional<Person> person;
  std::string hash;
};

Known known_as(soci::session& sql, const std::string& sign_in) {
  const soci::rowset<soci::row> rows =
      (sql.prepare << std::string(k_people) + "where sign_in = :name and closed = 0", soci::use(sign_in));
  for (const auto& row : rows) return {person_of(row), row.get<std::string>("password")};
  return {};
}

constexpr std::size_t k_longest_typed = 200;

}  // namespace

Result<SignedIn> School::sign_in(const std::string& typed, const std::string& password,
                                 const std::string& address, double unix_s) {
  return answer<SignedIn>(connection_, [&] {
    const Refusal wrong("that name and password do not belong together");
    if (typed.size() > k_longest_typed || password.size() > k_longest_typed) throw wrong;
    const std::string name = lower_case(typed);
    const std::string by_name = counted_as("name", name), by_address = counted_as("address", address);
    auto& sql = connection_.sql;
    {
      Writing writing(sql, connection_.kind);
      Tries tries(sql, rules_, unix_s);
      tries.count(by_address, rules_.tries_from_an_address);
      tries.count(by_name, rules_.tries_of_a_name);
      writing.commit();
    }
    const Known known = name.find('\0') == std::string::npos ? known_as(sql, name) : Known{};
    if (!password_is(known.hash, password)) throw wrong;
    const SignedIn signed_in{new_token(), *known.person};
    const std::string token = sha256_hex(signed_in.token);
    Writing writing(sql, connection_.kind);
    Tries tries(sql, rules_, unix_s);
    tries.forget(by_name);
    tries.take_one_back(by_address);
    const double oldest = unix_s - rules_.longest_s;
    sql << "delete from sessions where began_unix_s < :oldest", soci::use(oldest);
    sql << "delete from sign_in_tries where since_unix_s < :oldest", soci::use(oldest);
    sql << "insert into sessions(token, person, began_unix_s, used_unix_s) values(:token, :person, :now, "
           ":same)",
        soci::use(token, "token"), soci::use(signed_in.person.number, "person"), soci::use(unix_s, "now"),
        soci::use(unix_s, "same");
    writing.commit();
    return signed_in;
  });
}

Result<std::optional<Person>> School::who(const std::string& token, double unix_s) {
  return answer<std::optional<Person>>(connection_, [&]() -> std::optional<Person> {
    auto& sql = connection_.sql;
    const std::string digest = sha256_hex(token);
    long long number = 0;
    double began = 0.0, used = 0.0;
    sql << "select person, began_unix_s, used_unix_s from sessions where token = :token", soci::use(digest),
        soci::into(number), soci::into(began), soci::into(used);
    if (!sql.got_data()) return std::nullopt;
    if (unix_s - used > rules_.idle_s || unix_s - began > rules_.longest_s) return std::nullopt;
    // To the nearest few minutes: not every look at a page has to write.
    constexpr double k_often_enough_s = 300.0;
    if (unix_s - used > k_often_enough_s)
      sql << "update sessions set used_unix_s = :now where token = :token", soci::use(unix_s),
          soci::use(digest);
    const auto person = select_person(sql, number);
    return person && !person->closed ? person : std::nullopt;
  });
}

std::optional<Error> School::sign_out(const std::string& token) {
  return done_or_error(connection_, [&] {
    const std::string digest = sha256_hex(token);
    connection_.sql << "delete from sessions where token = :token", soci::use(digest);
  });
}

}  // namespace glidewright
