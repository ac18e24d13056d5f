#include "apps/server/page_server.hpp"

#include <httplib.h>

#include <filesystem>

namespace glidewright {

struct PageServer::Inside {
  httplib::Server server;
};

PageServer::PageServer() : inside_(std::make_unique<Inside>()) {}
PageServer::PageServer(PageServer&&) noexcept = default;
PageServer& PageServer::operator=(PageServer&&) noexcept = default;
PageServer::~PageServer() = default;

Result<PageServer> PageServer::on_loopback(const std::string& folder, int port) {
  std::error_code ignored;
  if (!std::filesystem::is_regular_file(std::filesystem::path(folder) / "index.html", ignored)) {
    return Error{folder + ": the page is not built there; build it with scripts/build-web"};
  }
  PageServer page;
  httplib::Server& server = page.inside_->server;
  server.set_file_extension_and_mimetype_mapping("mjs", "text/javascript");
  server.set_file_extension_and_mimetype_mapping("wasm", "application/wasm");
  server.set_file_extension_and_mimetype_mapping("webmanifest", "application/manifest+json");
  server.set_default_headers({{"X-Content-Type-Options", "nosniff"},
                              {"Referrer-Policy", "no-referrer"},
                              {"Cache-Control", "no-cache"},
                              {"Cross-Origin-Opener-Policy", "same-origin"}});
  // A page of another name that points here must not be answered: only this machine's own names are.
  server.set_pre_routing_handler([](const httplib::Request& request, httplib::Response& response) {
    const std::string host = request.get_header_value("Host");
    const std::string name = host.substr(0, host.find(':'));
    if (name == "127.0.0.1" || name == "localhost") return httplib::Server::HandlerResponse::Unhandled;
    response.status = 403;
    response.set_content("Only for this machine: open it as 127.0.0.1 or localhost.\n", "text/plain");
    return httplib::Server::HandlerResponse::Handled;
  });
  if (!server.set_mount_point("/", folder)) return Error{folder + ": no folder"};
  const bool bound = port == 0 ? (page.port_ = server.bind_to_any_port("127.0.0.1")) > 0
                               : server.bind_to_port("127.0.0.1", port);
  if (!bound) return Error{"port " + std::to_string(port) + " is taken; choose another with --port"};
  if (port != 0) page.port_ = port;
  return page;
}

void PageServer::serve() {
  inside_->server.listen_after_bind();
}

void PageServer::stop() {
  inside_->server.stop();
}

}  // namespace glidewright
