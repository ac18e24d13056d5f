#pragma once
// A school: the people who sign in, who looks after whom, and what is due.

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "store/records.hpp"

namespace glidewright {

enum class Role {
  student,       ///< sees the own record, and may file logs
  instructor,    ///< sees the students whom they look after
  administrator  ///< sees everybody, and the people
};
const char* name_of(Role role);
std::optional<Role> role_named(const std::string& name);

struct Person {
  long long number = 0;
  std::string uid;
  std::string name;     ///< "Instructor M", as it stands on what they change
  std::string sign_in;  ///< what they type; lower case
  Role role = Role::instructor;
  std::optional<long long> student;  ///< whose record is their own
  bool closed = false;               ///< may no longer sign in; what they wrote stays
  bool has_password = false;
  Stamp added;
};

struct NewPerson {
  std::string name;
  std::string sign_in;
  Role role = Role::instructor;
  std::optional<long long> student;  ///< for the role student, and only there
};

/// How often anybody may be wrong. Common practice, no source.
struct SignInRules {
  int tries_of_a_name = 5;         ///< then nobody signs in by that name for a while, right password or not
  int tries_from_an_address = 50;  ///< whatever the names
  double within_s = 900.0;
  double shut_for_s = 900.0;
  double idle_s = 12.0 * 3600.0;         ///< a session that is not used for so long has ended
  double longest_s = 7.0 * 24 * 3600.0;  ///< and so has one that began so long ago
};

struct SignedIn {
  std::string token;  ///< 64 hexadecimal digits; the records keep only its SHA-256
  Person person;
};

/// Over the connection of these records, which must outlive it. Errors are a sentence for whoever asked.
class School {
 public:
  explicit School(Records& records, const SignInRules& rules = {});

  // --- people ---
  Result<Person> add(const NewPerson& person, const Stamp& stamp);
  Result<std::vector<Person>> people();
  /// By number or by what they sign in with.
  Result<Person> find(const std::string& number_or_sign_in);
  /// Ends their sessions. `password`: of 10 to 200 bytes.
  std::optional<Error> set_password(long long person, const std::string& password, const Stamp& stamp);
  /// Ends their sessions. The last administrator who can sign in stays.
  std::optional<Error> close(long long person, const Stamp& stamp);
  std::optional<Error> open_again(long long person, const Stamp& stamp);
  /// An administrator with a password is there, so that somebody can sign in and add the others.
  Result<bool> can_be_signed_in_to();

  // --- signing in ---
  /// The same sentence and about the same time, whether the name, the password or both are wrong, and for
  /// people who may not. `address`: where it comes from.
  Result<SignedIn> sign_in(const std::string& sign_in, const std::string& password,
                           const std::string& address, double unix_s);
  /// Whose session it is; none where it has ended or never was.
  Result<std::optional<Person>> who(const std::string& token, double unix_s);
  std::optional<Error> sign_out(const std::string& token);

  // --- who looks after whom, and what is due ---
  /// To a person who is an instructor or administrator and not closed; none: to nobody.
  std::optional<Error> hand_over(long long student, std::optional<long long> to, const Stamp& stamp);
  /// `on`: "2026-05-21", or empty where nothing is due.
  std::optional<Error> set_due(long long student, const std::string& on, const std::string& what,
                               const Stamp& stamp);
  /// The latest `at_least` attempts of each, where there are so many, in the order flown; those in the trash
  /// are left out. The day (UTC) of the first of them is there from its beginning: which attempt was a day's
  /// first can be told of a whole day only. All of a page of students are asked for at once: each question of
  /// its own takes a server a millisecond.
  Result<std::map<long long, std::vector<FiledAttempt>>> latest_attempts_of(
      const std::vector<long long>& students, int at_least);

 private:
  Records::Connection& connection_;
  SignInRules rules_;
};

/// Whether this person may see the student's record.
bool may_see(const Person& person, const Student& student);
/// Whether this person may assess, note and file for the student; a student files own logs only.
bool may_change(const Person& person, const Student& student);

}  // namespace glidewright
