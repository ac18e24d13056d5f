#include <fmt/format.h>

#include <csignal>
#include <cstdlib>
#include <memory>

#include "apps/cli/commands/brief.hpp"
#include "apps/cli/commands/commands.hpp"
#include "apps/cli/inputs/asked_debrief.hpp"
#include "apps/cli/inputs/clock.hpp"
#include "apps/cli/inputs/data_folder.hpp"
#include "apps/cli/inputs/fleet_fit.hpp"
#include "apps/cli/inputs/own_flights.hpp"
#include "apps/cli/terminal.hpp"
#include "apps/server/server.hpp"

namespace glidewright {
namespace {

struct ServeOptions {
  std::optional<double> port;
  std::string page;
  std::string records;
  Door door;
};

Server* serving = nullptr;

void stop_serving(int) {
  if (serving) serving->stop();
}

std::string page_folder(const ServeOptions& options) {
  if (!options.page.empty()) return options.page;
  if (const char* given = std::getenv("GLIDEWRIGHT_PAGE")) return given;
  return GLIDEWRIGHT_PAGE_DIR;
}

/// Over the network a standard is known by its id, never by the name of a file.
Result<Standard> standard_by_id(const std::string& id) {
  if (id.empty()) return find_standard(k_usual_standard);
  if (id.find_first_of("/.\\") != std::string::npos) return Error{"standard: an id was expected"};
  return find_standard(id);
}

Result<Json> fit_for_page(Records& records, const FleetItem& airplane, std::optional<double> weight_lb,
                          const Stamp* keep) {
  FitAir air;
  air.weight_lb = weight_lb;
  auto fit = fit_from_filed(records, airplane, air);
  if (!fit) return fit.error();
  if (keep != nullptr) {
    const auto kept = keep_fit(records, airplane, *fit, *keep);
    if (!kept) return kept.error();
  }
  return fit_to_json(fit->report);
}

Result<OwnDrill> drill_for_page(Records& records, long long student, std::uint64_t seed, std::size_t count) {
  return draw_own_drill(records, student, {seed, count, {}, {}});
}

ExitCode run(const ServeOptions& options) {
  if (const auto error = outside(options.port, {"--port", "", 0.0, 65535.0}))
    return input_is_at_fault(*error);
  Door door = options.door;
  door.port = static_cast<int>(options.port.value_or(0.0));
  const ServerParts parts{page_folder(options), options.records,  now_unix_s,   standard_by_id,
                          debrief_as_asked,     wrong_with_asked, fit_for_page, drill_for_page};
  auto server = Server::open(door, parts);
  if (!server) return input_is_at_fault(server.error());
  serving = &*server;
  std::signal(SIGINT, stop_serving);
  std::signal(SIGTERM, stop_serving);
  write_standard_output(server->url() + "\n");
  write_standard_output(options.records.empty() ? "The page for this machine alone; Ctrl-C ends it.\n"
                                                : "The page and the records; Ctrl-C ends it.\n");
  server->serve();
  serving = nullptr;
  return ExitCode::done;
}

}  // namespace

void add_serve(Program& program) {
  const auto options = std::make_shared<ServeOptions>();
  const auto command =
      program.add_command("serve", "the page and the records, in a browser; prints the address");
  command
      .add_option("--records", options->records,
                  "the file of records, made where there is none, or postgresql://...; else the page alone")
      .type_name("FILE");
  command.add_option("--port", options->port, "else any that is free").type_name("N");
  command.add_option("--page", options->page, "folder of the built page; else build/page")
      .type_name("FOLDER");
  command.add_option("--listen", options->door.address, "another address than this machine's own: 0.0.0.0")
      .type_name("ADDRESS");
  command
      .add_option("--host", options->door.host_names,
                  "a name by which it is called, each with its own --host")
      .type_name("NAME")
      .repeatable();
  command.add_option("--certificate", options->door.certificate_file, "for TLS, with its chain")
      .type_name("PEM");
  command.add_option("--key", options->door.key_file, "the certificate's key").type_name("PEM");
  command.add_flag("--behind-proxy", options->door.behind_proxy,
                   "a reverse proxy on this machine does the TLS and names who asks");
  command.add_flag("--sign-in", options->door.sign_in, "everybody says who they are, on this machine too");
  command.footer(
      "The page plans and debriefs in the browser itself, and after the first visit it works without this "
      "server.\n"
      "With records it shows students and the school, and debriefs the logs that are dropped on a student. "
      "On\n"
      "another address than this machine's own it starts only with TLS, and with somebody who can sign in:\n"
      "  glidewright school add 'Instructor M' --sign-in m --role administrator --by me --records FILE\n"
      "Build the page first with scripts/build-web. docs/server.md tells how to run it for a school.");
  command.runs([options] { return run(*options); });
}

}  // namespace glidewright
