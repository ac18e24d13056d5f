#include "apps/server/server.hpp"

#include <fmt/format.h>
#include <httplib.h>

#include <atomic>
#include <chrono>
#include <filesystem>
#include <thread>

#include "apps/server/api.hpp"
#include "apps/server/door.hpp"
#include "apps/server/queue_worker.hpp"
#include "store/school.hpp"

namespace glidewright {
namespace {

constexpr std::size_t k_workers = 48;
// A stream holds a worker as long as it lasts; the others must stay free for the rest.
constexpr int k_most_streams = 16;
constexpr std::size_t k_largest_log = std::size_t{256} << 20;

std::string cookie_value(const std::string& cookies, const std::string& name) {
  for (std::size_t at = 0; at < cookies.size();) {
    const std::size_t end = std::min(cookies.find(';', at), cookies.size());
    std::string one = cookies.substr(at, end - at);
    one.erase(0, one.find_first_not_of(' '));
    if (one.rfind(name + "=", 0) == 0) return one.substr(name.size() + 1);
    at = end + 1;
  }
  return {};
}

/// The last one is what the proxy itself saw; whatever stands before it anybody may have written.
std::string last_of_list(const std::string& list) {
  std::string last = list.substr(list.rfind(',') == std::string::npos ? 0 : list.rfind(',') + 1);
  last.erase(0, last.find_first_not_of(' '));
  return last;
}

std::string in_quotes(const std::string& file_name) {
  std::string safe;
  for (const char c : file_name) safe += c >= ' ' && c <= '~' && c != '"' && c != '\\' ? c : '_';
  return "\"" + safe + "\"";
}

}  // namespace

struct Server::Inside {
  Inside(const Door& asked, const ServerParts& given)
      : door(asked), parts(given), pool(parts.records), api(door, parts, pool) {
    const bool tls = !door.certificate_file.empty();
    if (tls)
      server = std::make_unique<httplib::SSLServer>(door.certificate_file.c_str(), door.key_file.c_str());
    else
      server = std::make_unique<httplib::Server>();
  }

  bool secure() const { return !door.certificate_file.empty() || door.behind_proxy; }
  /// "__Host-": a browser takes it over TLS and for this host alone.
  std::string cookie_name() const { return secure() ? "__Host-glidewright" : "glidewright"; }
  std::string cookie(const std::string& token, long long seconds) const {
    return fmt::format("{}={}; Path=/; Max-Age={}; HttpOnly; SameSite=Strict{}", cookie_name(), token,
                       seconds, secure() ? "; Secure" : "");
  }

  ApiRequest asked(const httplib::Request& request) const {
    ApiRequest one;
    one.method = request.method;
    one.path = request.path.substr(std::string("/api/").size());
    for (const auto& [name, value] : request.params) one.query[name] = value;
    one.body = request.body;
    one.address =
        door.behind_proxy ? last_of_list(request.get_header_value("X-Forwarded-For")) : request.remote_addr;
    one.token = cookie_value(request.get_header_value("Cookie"), cookie_name());
    one.from_page = request.has_header("X-Glidewright");
    return one;
  }

  void give(const ApiAnswer& answer, httplib::Response& response) const {
    response.status = answer.status;
    response.set_content(answer.body, answer.type.c_str());
    response.set_header("Cache-Control", "no-store");
    if (!answer.file_name.empty())
      response.set_header("Content-Disposition", "attachment; filename=" + in_quotes(answer.file_name));
    constexpr long long k_week_s = 7 * 24 * 3600;
    if (!answer.new_token.empty()) response.set_header("Set-Cookie", cookie(answer.new_token, k_week_s));
    if (answer.session_ended) response.set_header("Set-Cookie", cookie("", 0));
  }

  /// The debriefs of a student as they come and go, until none is left.
  void stream_jobs(const httplib::Request& request, httplib::Response& response) {
    ApiRequest list = asked(request);
    list.path = list.path.substr(0, list.path.rfind('/')) + "/jobs";
    const JobsNow first = jobs_now(api, list);
    if (first.answer.status != 200) return give(first.answer, response);
    if (streams.fetch_add(1) >= k_most_streams) {
      --streams;
      ApiAnswer full;
      full.status = 503;
      full.body = "{\"error\": \"too many are watching at once; ask for the list instead\"}\n";
      return give(full, response);
    }
    response.set_header("Cache-Control", "no-store");
    response.set_header("X-Accel-Buffering", "no");
    const auto last = std::make_shared<std::string>();
    response.set_chunked_content_provider(
        "text/event-stream",
        [this, list, last](std::size_t, httplib::DataSink& sink) {
          const JobsNow now = jobs_now(api, list);
          if (now.answer.body != *last) {
            *last = now.answer.body;
            std::string line = now.answer.body;
            line.erase(line.find_last_not_of('\n') + 1);
            const std::string event = "data: " + line + "\n\n";
            if (!sink.write(event.data(), event.size())) return false;
          }
          if (now.all_ended || stopping || now.answer.status != 200) {
            sink.done();
            return true;
          }
          std::this_thread::sleep_for(std::chrono::milliseconds(250));
          return true;
        },
        [this](bool) { --streams; });
  }

  void set_up() {
    server->new_task_queue = [] { return new httplib::ThreadPool(k_workers); };
    server->set_keep_alive_max_count(1000);
    server->set_keep_alive_timeout(2);
    server->set_payload_max_length(k_largest_log);
    server->set_tcp_nodelay(true);
    server->set_file_extension_and_mimetype_mapping("mjs", "text/javascript");
    server->set_file_extension_and_mimetype_mapping("wasm", "application/wasm");
    server->set_file_extension_and_mimetype_mapping("webmanifest", "application/manifest+json");
    httplib::Headers headers{{"X-Content-Type-Options", "nosniff"},
                             {"Referrer-Policy", "no-referrer"},
                             {"X-Frame-Options", "SAMEORIGIN"},
                             {"Cross-Origin-Opener-Policy", "same-origin"}};
    if (secure()) headers.emplace("Strict-Transport-Security", "max-age=31536000");
    server->set_default_headers(headers);
    server->set_file_request_handler([](const httplib::Request&, httplib::Response& response) {
      response.set_header("Cache-Control", "no-cache");
    });
    server->set_pre_routing_handler([this](const httplib::Request& request, httplib::Response& response) {
      const auto refuse = [&](const char* sentence) {
        response.status = 403;
        response.set_content(sentence, "text/plain");
        return httplib::Server::HandlerResponse::Handled;
      };
      if (!answers_to(door, request.get_header_value("Host")))
        return refuse("This server is called by another name: open it by its own.\n");
      if (door.behind_proxy && request.get_header_value("X-Forwarded-Proto") != "https")
        return refuse("Only by way of the proxy, and there by https.\n");
      return httplib::Server::HandlerResponse::Unhandled;
    });
    const auto answer = [this](const httplib::Request& request, httplib::Response& response) {
      give(api.answer(asked(request)), response);
      if (worker && response.status == 202) worker->wake();
    };
    server->Get(R"(/api/students/(\d+)/events)",
                [this](const httplib::Request& request, httplib::Response& response) {
                  stream_jobs(request, response);
                });
    server->Get("/api/.*", answer);
    server->Post("/api/.*", answer);
    server->set_mount_point("/", parts.page_folder);
  }

  Door door;
  ServerParts parts;
  RecordsPool pool;
  Api api;
  std::string url;
  std::atomic<int> streams = 0;
  std::atomic<bool> stopping = false;
  std::unique_ptr<httplib::Server> server;
  std::unique_ptr<QueueWorker> worker;
};

Server::Server(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Server::Server(Server&&) noexcept = default;
Server& Server::operator=(Server&&) noexcept = default;
Server::~Server() = default;

Result<Server> Server::open(const Door& asked, const ServerParts& parts) {
  std::error_code ignored;
  if (!std::filesystem::is_regular_file(std::filesystem::path(parts.page_folder) / "index.html", ignored))
    return Error{parts.page_folder + ": the page is not built there; build it with scripts/build-web"};
  Door door = asked;
  door.sign_in = door.sign_in || door.behind_proxy || !is_loopback(door.address);
  bool can_sign_in = false;
  if (!parts.records.empty()) {
    auto records = Records::open(parts.records);
    if (!records) return records.error();
    const auto can = School(*records).can_be_signed_in_to();
    if (!can) return can.error();
    can_sign_in = *can;
  }
  if (const auto unsafe = unsafe_door(door, !parts.records.empty(), can_sign_in); !unsafe.empty())
    return Error{unsafe};
  auto inside = std::make_unique<Inside>(door, parts);
  if (!inside->server->is_valid())
    return Error{door.certificate_file + ", " + door.key_file +
                 ": a certificate and its key in PEM were expected, and that they belong together"};
  inside->set_up();
  int port = door.port;
  const bool bound = port == 0 ? (port = inside->server->bind_to_any_port(door.address.c_str())) > 0
                               : inside->server->bind_to_port(door.address.c_str(), port);
  if (!bound)
    return Error{fmt::format("{} port {} is taken or not this machine's; choose another with --port",
                             door.address, door.port)};
  const std::string name =
      !is_loopback(door.address) && !door.host_names.empty() ? door.host_names.front() : door.address;
  inside->url = fmt::format("{}://{}:{}/", door.certificate_file.empty() ? "http" : "https", name, port);
  return Server(std::move(inside));
}

const std::string& Server::url() const {
  return inside_->url;
}

void Server::serve() {
  if (!inside_->parts.records.empty()) inside_->worker = std::make_unique<QueueWorker>(inside_->parts);
  inside_->server->listen_after_bind();
  inside_->worker.reset();
}

void Server::stop() {
  inside_->stopping = true;
  inside_->server->stop();
}

}  // namespace glidewright
