#pragma once
// What the page asks of the records, without the protocol: a request in, an answer out. The list of routes is
// in docs/server.md.

#include <map>
#include <string>

#include "apps/server/parts.hpp"
#include "apps/server/records_pool.hpp"

namespace glidewright {

struct ApiRequest {
  std::string method;  ///< "GET" or "POST"
  std::string path;    ///< from "/api/" on
  std::map<std::string, std::string> query;
  std::string body;
  std::string address;     ///< of whoever asks
  std::string token;       ///< of their session; empty where there is none
  bool from_page = false;  ///< has the header that no form of another site can send
};

struct ApiAnswer {
  int status = 200;
  std::string body;
  std::string type = "application/json";
  std::string file_name;  ///< where it is to be saved
  std::string new_token;  ///< a session that has just begun
  bool session_ended = false;
};

class Api {
 public:
  Api(const Door& door, const ServerParts& parts, RecordsPool& pool)
      : door_(door), parts_(parts), pool_(pool) {}

  ApiAnswer answer(const ApiRequest& request);

 private:
  const Door& door_;
  const ServerParts& parts_;
  RecordsPool& pool_;
};

/// The unfinished debriefs of a student as one event of a stream, and whether any is left to wait for; what
/// is wrong otherwise, as for the same request of a list.
struct JobsNow {
  ApiAnswer answer;
  bool all_ended = true;
};
JobsNow jobs_now(Api& api, const ApiRequest& request);

}  // namespace glidewright
