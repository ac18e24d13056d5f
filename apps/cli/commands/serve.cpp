#include <csignal>
#include <cstdlib>
#include <memory>

#include "apps/cli/commands/commands.hpp"
#include "apps/cli/terminal.hpp"
#include "apps/server/page_server.hpp"

namespace glidewright {
namespace {

struct ServeOptions {
  std::optional<double> port;
  std::string folder;
};

PageServer* serving = nullptr;

void stop_serving(int) {
  if (serving) serving->stop();
}

std::string page_folder(const ServeOptions& options) {
  if (!options.folder.empty()) return options.folder;
  if (const char* given = std::getenv("GLIDEWRIGHT_PAGE")) return given;
  return GLIDEWRIGHT_PAGE_DIR;
}

ExitCode run(const ServeOptions& options) {
  if (const auto error = outside(options.port, {"--port", "", 0.0, 65535.0}))
    return input_is_at_fault(*error);
  auto server = PageServer::on_loopback(page_folder(options), static_cast<int>(options.port.value_or(0.0)));
  if (!server) return input_is_at_fault(server.error());
  serving = &*server;
  std::signal(SIGINT, stop_serving);
  std::signal(SIGTERM, stop_serving);
  write_standard_output("http://127.0.0.1:" + std::to_string(server->port()) + "/\n");
  write_standard_output("The page for this machine alone; Ctrl-C ends it.\n");
  server->serve();
  serving = nullptr;
  return ExitCode::done;
}

}  // namespace

void add_serve(Program& program) {
  const auto options = std::make_shared<ServeOptions>();
  const auto command =
      program.add_command("serve", "the page, in a browser on this machine; prints its address");
  command.add_option("--port", options->port, "else any that is free").type_name("N");
  command.add_option("--page", options->folder, "folder of the built page; else build/page")
      .type_name("FOLDER");
  command.footer(
      "The page plans and debriefs in the browser itself: nothing leaves this machine, and after the first "
      "visit\n"
      "it works without this server. Build it first with scripts/build-web.");
  command.runs([options] { return run(*options); });
}

}  // namespace glidewright
