#include <fmt/format.h>

#include <chrono>
#include <memory>
#include <optional>
#include <thread>

#include "apps/cli/commands/commands.hpp"
#include "apps/cli/inputs/stop_wish.hpp"
#include "apps/cli/recording/kept_sentences.hpp"
#include "apps/cli/recording/sentence_source.hpp"
#include "apps/cli/terminal.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

struct RecordLogOptions {
  std::string file;
  std::string tcp;
  std::string device;
  std::optional<double> baud;
  bool append = false;
  bool json = false;
};

Result<SourceAddress> address_of(const RecordLogOptions& options) {
  if (options.tcp.empty() == options.device.empty())
    return Error{"name one place to listen to: --tcp 127.0.0.1:PORT or --device /dev/..."};
  if (options.tcp.empty())
    return read_device_address(options.device, static_cast<int>(options.baud.value_or(9600.0)));
  if (options.baud) return Error{"--baud goes with --device"};
  return read_tcp_address(options.tcp);
}

std::string counted(std::size_t number, const char* what) {
  return fmt::format("{} {}{}", whole(static_cast<double>(number)), what, number == 1 ? "" : "s");
}

/// Short enough that a wish to stop is heard at once.
constexpr int k_wait_ms = 200;

/// Until somebody wishes to stop, or the file cannot be written. A source that is gone is looked for again.
std::optional<Error> listen(const SourceAddress& address, std::optional<SentenceSource> source,
                            KeptSentences& kept, Progress& progress) {
  using Clock = std::chrono::steady_clock;
  constexpr auto between_looks = std::chrono::seconds(1);
  auto looked = Clock::now();
  while (!StopWish::made()) {
    if (!source) {
      std::this_thread::sleep_for(std::chrono::milliseconds(k_wait_ms));
      if (Clock::now() - looked < between_looks) continue;
      looked = Clock::now();
      if (auto again = SentenceSource::open(address)) source.emplace(std::move(*again));
      continue;
    }
    const auto bytes = source->read(k_wait_ms);
    if (!bytes) {
      kept.forget_the_rest();
      source.reset();
      looked = Clock::now();
      progress.say(address.words() + " is gone; looking for it every second, Ctrl-C ends");
      continue;
    }
    if (bytes->empty()) continue;
    if (const auto error = kept.add(*bytes)) return error;
    progress.say(counted(kept.sentences(), "sentence") + " kept; Ctrl-C ends");
  }
  return std::nullopt;
}

ExitCode run(const RecordLogOptions& options) {
  const auto address = address_of(options);
  if (!address) return input_is_at_fault(address.error());
  // Nothing is begun where there is nothing to listen to: a wrong port is found now and not after the flight.
  auto source = SentenceSource::open(*address);
  if (!source) return input_is_at_fault(source.error());
  auto kept = KeptSentences::open(options.file, options.append);
  if (!kept) return input_is_at_fault(kept.error());
  std::optional<Error> error;
  {
    const StopWish wish;
    Progress progress("listening to " + address->words() + "; Ctrl-C ends");
    error = listen(*address, std::move(*source), *kept, progress);
  }
  if (options.json)
    write_json({{"schema", "glidewright.record-log/1"},
                {"file", options.file},
                {"sentences", kept->sentences()},
                {"places", kept->places()}});
  else
    say(fmt::format("{} kept in {}, {} with a place.{}", counted(kept->sentences(), "sentence"), options.file,
                    whole(static_cast<double>(kept->places())),
                    kept->places() > 0 ? " On the ground: glidewright debrief " + options.file : ""));
  return error ? input_is_at_fault(*error) : ExitCode::done;
}

}  // namespace

void add_record_log(Program& program) {
  const auto options = std::make_shared<RecordLogOptions>();
  const auto command = program.add_command(
      "record-log", "keep what a receiver on this machine says (NMEA), to be debriefed on the ground");
  command.add_option("FILE", options->file, "the log to be written, new").required();
  command.add_option("--tcp", options->tcp, "a port of this machine that sends sentences: 127.0.0.1:10110")
      .type_name("HOST:PORT");
  command.add_option("--device", options->device, "a serial device: /dev/ttyUSB0").type_name("DEVICE");
  command.add_option("--baud", options->baud, "its speed; else 9600").type_name("BAUD");
  command.add_flag("--append", options->append, "go on with a log that is there");
  add_json_flag(command, options->json);
  command.footer(
      "It only listens and writes, each sentence as it comes: nothing is sent, and nothing of the flight is "
      "shown; it is no\n"
      "aid in flight. A connection that is lost is looked for again until Ctrl-C.\n"
      "  glidewright record-log lesson.nmea --tcp 127.0.0.1:10110\n"
      "  glidewright record-log lesson.nmea --device /dev/ttyUSB0 --baud 38400\n");
  command.runs([options] { return run(*options); });
}

}  // namespace glidewright
