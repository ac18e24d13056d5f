#include "formats/repairs.hpp"

#include <fmt/format.h>

#include "formats/lines.hpp"

namespace glidewright {
namespace {

struct Wording {
  std::string_view one;
  std::string_view many;  // follows the number
};

constexpr std::array<Wording, static_cast<std::size_t>(Repair::count)> k_wordings{{
    {"time repeated, fix dropped", "fixes with repeated times dropped"},
    {"time ran backwards, fix dropped", "fixes whose time ran backwards dropped"},
    {"no time, fix dropped", "fixes without a time dropped"},
    {"time cannot be read, fix dropped", "fixes whose time cannot be read dropped"},
    {"latitude 0 and longitude 0 (no position yet), fix dropped",
     "fixes at latitude 0 and longitude 0 (no position yet) dropped"},
    {"altitude cannot be read, left out", "altitudes that cannot be read left out"},
    {"value cannot be read as a number, left out", "values that cannot be read as numbers left out"},
    {"row with too few columns dropped", "rows with too few columns dropped"},
    {"record cannot be read, dropped", "records that cannot be read dropped"},
    {"checksum does not agree, sentence dropped", "sentences whose checksum does not agree dropped"},
    {"track segment out of order in time, sorted", "track segments out of order in time, sorted"},
    {"position repeated while the airplane moved on, fix dropped",
     "fixes that repeat the last position while the airplane moved on dropped"},
}};

}  // namespace

void Repairs::add(Repair repair, std::size_t offset) {
  auto& tally = tallies_[static_cast<std::size_t>(repair)];
  if (tally.count == 0 || offset < tally.first_offset) tally.first_offset = offset;
  ++tally.count;
}

std::vector<std::string> Repairs::sentences(std::string_view bytes) const {
  std::vector<std::string> sentences;
  for (std::size_t kind = 0; kind < tallies_.size(); ++kind) {
    const auto& tally = tallies_[kind];
    if (tally.count == 0) continue;
    const auto line = line_at(bytes, tally.first_offset);
    sentences.push_back(
        tally.count == 1 ? fmt::format("line {}: {}", line, k_wordings[kind].one)
                         : fmt::format("{} {} (first at line {})", tally.count, k_wordings[kind].many, line));
  }
  return sentences;
}

}  // namespace glidewright
