// record airplane fit: what the logs that are filed under an airplane say of its glide
#include "apps/cli/inputs/fleet_fit.hpp"

#include "apps/cli/commands/record/record.hpp"
#include "apps/cli/terminal.hpp"
#include "apps/cli/words/fit_text.hpp"

namespace glidewright::record {
namespace {

ExitCode fit(const Options& options) {
  auto records = Records::open(options.records, Records::Opening::existing);
  if (!records) return input_is_at_fault(records.error());
  auto airplane = records->find_in_fleet(FleetKind::airplane, options.name);
  if (!airplane) return input_is_at_fault(airplane.error());
  auto fitted = fit_from_filed(*records, *airplane, options.fit_air);
  if (!fitted) return input_is_at_fault(fitted.error());
  const auto kept = keep_fit(*records, *airplane, *fitted, stamp_of(options));
  if (!kept) return input_is_at_fault(kept.error());
  const bool known = *kept == KeptFit::known_already;
  const FitReport& report = fitted->report;
  const std::string& version = *report.written;
  if (options.json) {
    write_json(fit_to_json(report));
    return ExitCode::done;
  }
  const Page page = standard_output_page();
  write_standard_output(
      printed(fit_text(report, page) +
                  wrapped(known ? version + " says this already; nothing was changed."
                                : version + " from now on: debriefs and plans that ask for " +
                                      airplane->name + " in these records use it. The versions before stay.",
                          {}, page),
              page));
  return ExitCode::done;
}

}  // namespace

void add_fleet_fit(const Command& airplane, const Shared& options) {
  const auto command =
      part(airplane, options, "fit",
           "narrow what is known of its glide from all logs that are filed under it; kept as a version", fit);
  command.add_option("NAME", options->name, "as the school calls it, or its number").required();
  add_fit_air(command, options->fit_air);
  add_by(command, options);
  add_json_flag(command, options->json);
}

}  // namespace glidewright::record
