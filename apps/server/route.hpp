#pragma once
// What every route of the API is given, and how it refuses.

#include <optional>
#include <string>
#include <vector>

#include "apps/server/api.hpp"
#include "formats/json_reader.hpp"
#include "store/record_json.hpp"

namespace glidewright::api {

/// Why a request gets no answer; caught in one place.
struct Refused {
  int status;
  std::string sentence;
};

/// One request with what was found out about it.
struct Call {
  const ApiRequest& request;
  const ServerParts& parts;
  Records& records;
  School school;
  bool signs_in;                   ///< everybody says who they are
  std::optional<Person> person;    ///< who that is; none as long as nobody has, and where nobody needs to
  std::vector<long long> numbers;  ///< those in the path
  std::vector<std::string> words;  ///< other variable parts of the path

  std::string query(const std::string& name) const;
  std::optional<long long> query_number(const std::string& name) const;
  /// Who does it: the person who is signed in; else whom the page names by `by`.
  Stamp stamp() const;
  /// The data folder's of that id, or what the records keep of it.
  StandardInForce standard() const;
};

using Handler = ApiAnswer (*)(Call& call);
enum class Who { anybody, signed_in, instructor, administrator };

struct Route {
  const char* method;
  const char* path;  ///< "students/#/notes"; # stands for a number, * for a word
  Who who;
  Handler handler;
};

/// What the records refuse: 409, or 503 where the database did not do its part.
[[noreturn]] void refuse(const Call& call, const Error& error, int status = 409);
template <class Value>
Value must(const Call& call, Result<Value> result, int status = 409) {
  if (!result) refuse(call, result.error(), status);
  return std::move(*result);
}
inline void must(const Call& call, const std::optional<Error>& failed) {
  if (failed) refuse(call, *failed);
}

/// The student of the path, whom the person may see; 404 else, so that nobody learns who is there.
Student student_seen(Call& call);
/// The same where it is going to be changed; 403 for who may only look.
Student student_changed(Call& call);
void require_visible(const Call& call, const Student& student);

/// Fields of the body; 400 where they are wrong.
template <class Read>
auto read_body(const Call& call, Read read) {
  auto value = read_json_object(call.request.body, "what was sent", read);
  if (!value) throw Refused{400, value.error().sentence};
  return std::move(*value);
}

/// The number of a student, person or attempt in these records; none where the field is missing or null.
std::optional<long long> optional_record_number(JsonFields& fields, std::string_view name);

/// Held while something is reckoned for whoever waits for it: of such only so many at once, so that a school
/// that asks for them all at once can still open its pages. 503 beyond.
class LongReckoning {
 public:
  LongReckoning();
  ~LongReckoning();
  LongReckoning(const LongReckoning&) = delete;
  LongReckoning& operator=(const LongReckoning&) = delete;
};

ApiAnswer json_answer(const Json& object, int status = 200);
ApiAnswer done();

const std::vector<Route>& student_routes();
const std::vector<Route>& log_routes();
const std::vector<Route>& school_routes();
const std::vector<Route>& session_routes();
const std::vector<Route>& fleet_routes();
const std::vector<Route>& drill_routes();
const std::vector<Route>& standard_routes();

}  // namespace glidewright::api
