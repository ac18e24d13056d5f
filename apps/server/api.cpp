#include "apps/server/api.hpp"

#include <fmt/format.h>

#include <atomic>
#include <cmath>

#include "apps/server/route.hpp"
#include "formats/number.hpp"

namespace glidewright {
namespace api {

std::string Call::query(const std::string& name) const {
  const auto found = request.query.find(name);
  return found == request.query.end() ? std::string() : found->second;
}

std::optional<long long> Call::query_number(const std::string& name) const {
  const std::string given = query(name);
  if (given.empty()) return std::nullopt;
  const auto number = read_whole_number(given);
  if (!number) throw Refused{400, name + ": a number was expected"};
  return number;
}

Stamp Call::stamp() const {
  if (person) return {person->name, parts.now_unix_s()};
  const std::string by = query("by");
  if (by.empty()) throw Refused{400, "by: the name of who does it was expected"};
  return {by, parts.now_unix_s()};
}

void refuse(const Call& call, const Error& error, int status) {
  throw Refused{call.records.database_failed() ? 503 : status, error.sentence};
}

StandardInForce Call::standard() const {
  const std::string named = query("standard");
  const auto found = parts.standard(named);
  if (found) return must(*this, records.in_force(*found));
  const auto kept = must(*this, records.kept_standard(named));
  if (!kept) throw Refused{400, found.error().sentence};
  return must(*this, records.in_force(kept->standard));
}

void require_visible(const Call& call, const Student& student) {
  if (call.person && !may_see(*call.person, student))
    throw Refused{404, fmt::format("no student has the name or number \"{}\"", student.number)};
}

Student student_seen(Call& call) {
  Student student = must(call, call.records.find_student(std::to_string(call.numbers.at(0))), 404);
  require_visible(call, student);
  return student;
}

Student student_changed(Call& call) {
  Student student = student_seen(call);
  if (call.person && !may_change(*call.person, student))
    throw Refused{403, "this is for an instructor to do"};
  return student;
}

namespace {
constexpr int k_most_reckonings = 2;
std::atomic<int> reckonings = 0;
}  // namespace

LongReckoning::LongReckoning() {
  if (reckonings.fetch_add(1) < k_most_reckonings) return;
  --reckonings;
  throw Refused{503, "others are being reckoned just now; try again in a moment"};
}

LongReckoning::~LongReckoning() {
  --reckonings;
}

std::optional<long long> optional_record_number(JsonFields& fields, std::string_view name) {
  const auto number = fields.optional_number(name, {1.0, 9e15});
  return number ? std::optional<long long>(std::llround(*number)) : std::nullopt;
}

ApiAnswer json_answer(const Json& object, int status) {
  ApiAnswer answer;
  answer.status = status;
  answer.body = object.dump() + "\n";
  return answer;
}

ApiAnswer done() {
  return json_answer({{"done", true}});
}

namespace {

std::vector<std::string> parts_of(const std::string& path) {
  std::vector<std::string> parts;
  std::size_t from = 0;
  for (std::size_t at = path.find('/'); at != std::string::npos; at = path.find('/', from)) {
    parts.push_back(path.substr(from, at - from));
    from = at + 1;
  }
  parts.push_back(path.substr(from));
  return parts;
}

/// Takes the variable parts out of the path where it is the route's.
bool is_path_of(const Route& route, const std::vector<std::string>& asked, Call& call) {
  const auto wanted = parts_of(route.path);
  if (wanted.size() != asked.size()) return false;
  std::vector<long long> numbers;
  std::vector<std::string> words;
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    if (wanted[i] == "#") {
      const auto number = read_whole_number(asked[i]);
      if (!number) return false;
      numbers.push_back(*number);
    } else if (wanted[i] == "*") {
      words.push_back(asked[i]);
    } else if (wanted[i] != asked[i]) {
      return false;
    }
  }
  call.numbers = std::move(numbers);
  call.words = std::move(words);
  return true;
}

void require(Who who, const Call& call) {
  if (who == Who::anybody || !call.signs_in) return;
  if (!call.person) throw Refused{401, "sign in first"};
  if (who == Who::instructor && call.person->role == Role::student)
    throw Refused{403, "this is for an instructor to do"};
  if (who == Who::administrator && call.person->role != Role::administrator)
    throw Refused{403, "this is for an administrator to do"};
}

ApiAnswer routed(Call& call) {
  const auto asked = parts_of(call.request.path);
  bool other_method = false;
  for (const auto* routes : {&session_routes(), &student_routes(), &log_routes(), &school_routes(),
                             &fleet_routes(), &drill_routes(), &standard_routes()}) {
    for (const Route& route : *routes) {
      if (!is_path_of(route, asked, call)) continue;
      if (call.request.method != route.method) {
        other_method = true;
        continue;
      }
      require(route.who, call);
      return route.handler(call);
    }
  }
  if (other_method) throw Refused{405, "this cannot be asked that way"};
  throw Refused{404, "there is nothing at /api/" + call.request.path};
}

}  // namespace
}  // namespace api

ApiAnswer Api::answer(const ApiRequest& request) {
  try {
    if (request.method != "GET" && !request.from_page)
      throw api::Refused{403, "only the page itself may change something"};
    if (parts_.records.empty()) {
      if (request.path == "here")
        return api::json_answer({{"schema", "glidewright.server/1"}, {"records", false}});
      throw api::Refused{404, "this server keeps no records; serve --records names them"};
    }
    auto lent = pool_.lend();
    if (!lent) throw api::Refused{503, lent.error().sentence};
    api::Call call{request, parts_, **lent, School(**lent), door_.sign_in, std::nullopt, {}, {}};
    if (door_.sign_in && !request.token.empty())
      call.person = api::must(call, call.school.who(request.token, parts_.now_unix_s()));
    return api::routed(call);
  } catch (const api::Refused& refused) {
    return api::json_answer({{"error", refused.sentence}}, refused.status);
  } catch (const std::exception& error) {
    return api::json_answer({{"error", std::string("our mistake: ") + error.what()}}, 500);
  }
}

}  // namespace glidewright
