// The standards whose texts are kept: everybody sees them, instructors add to them.
#include "apps/server/route.hpp"

namespace glidewright::api {
namespace {

ApiAnswer list(Call& call) {
  return json_answer(standards_to_json(must(call, call.records.kept_standards())));
}

/// "content": the standard as its file has it; "name": the file's, which becomes its id.
ApiAnswer add(Call& call) {
  struct Sent {
    std::string name, content;
  };
  const auto sent = read_body(call, [](JsonFields& fields) {
    return Sent{fields.text("name"), fields.text("content")};
  });
  const auto kept = must(call, call.records.keep_standard(file_stem(sent.name), sent.content, call.stamp()));
  return json_answer(kept_standard_to_json(kept), 201);
}

}  // namespace

const std::vector<Route>& standard_routes() {
  static const std::vector<Route> routes = {
      {"GET", "standards", Who::signed_in, list},
      {"POST", "standards", Who::instructor, add},
  };
  return routes;
}

}  // namespace glidewright::api
