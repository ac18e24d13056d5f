// Who is here, signing in and out.
#include "apps/server/route.hpp"
#include "formats/time.hpp"

namespace glidewright::api {
namespace {

ApiAnswer here(Call& call) {
  Json object;
  object["schema"] = "glidewright.server/1";
  object["records"] = true;
  object["sign_in"] = call.signs_in;
  if (call.person) object["person"] = person_to_json(*call.person);
  object["now"] = iso8601_utc(call.parts.now_unix_s(), 0);
  return json_answer(object);
}

ApiAnswer sign_in(Call& call) {
  struct Typed {
    std::string name, password;
  };
  const auto typed = read_body(call, [](JsonFields& fields) {
    return Typed{fields.text("name"), fields.text("password")};
  });
  auto signed_in =
      call.school.sign_in(typed.name, typed.password, call.request.address, call.parts.now_unix_s());
  if (!signed_in) refuse(call, signed_in.error(), 401);
  ApiAnswer answer = json_answer({{"person", person_to_json(signed_in->person)}});
  answer.new_token = signed_in->token;
  return answer;
}

ApiAnswer sign_out(Call& call) {
  must(call, call.school.sign_out(call.request.token));
  ApiAnswer answer = done();
  answer.session_ended = true;
  return answer;
}

/// One's own, by the old one: whoever finds a screen unattended cannot take the account.
ApiAnswer change_password(Call& call) {
  struct Typed {
    std::string old_one, new_one;
  };
  if (!call.person) throw Refused{400, "nobody signs in here, so there is no password"};
  const auto typed = read_body(call, [](JsonFields& fields) {
    return Typed{fields.text("old_password"), fields.text("password")};
  });
  const auto now = call.parts.now_unix_s();
  auto again = call.school.sign_in(call.person->sign_in, typed.old_one, call.request.address, now);
  if (!again) refuse(call, again.error(), 403);
  must(call, call.school.set_password(call.person->number, typed.new_one, call.stamp()));
  auto signed_in = call.school.sign_in(call.person->sign_in, typed.new_one, call.request.address, now);
  if (!signed_in) refuse(call, signed_in.error());
  ApiAnswer answer = done();
  answer.new_token = signed_in->token;
  return answer;
}

}  // namespace

const std::vector<Route>& session_routes() {
  static const std::vector<Route> routes = {
      {"GET", "here", Who::anybody, here},
      {"POST", "sign-in", Who::anybody, sign_in},
      {"POST", "sign-out", Who::anybody, sign_out},
      {"POST", "password", Who::signed_in, change_password},
  };
  return routes;
}

}  // namespace glidewright::api
