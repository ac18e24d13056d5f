#include "apps/cli/inputs/typed_answer.hpp"

#include <cmath>
#include <utility>
#include <vector>

#include "formats/number.hpp"

namespace glidewright {
namespace {

std::optional<RunwayPoint> place_in(const std::string& word) {
  const auto comma = word.find(',');
  if (comma == std::string::npos) return std::nullopt;
  const auto along = read_number(word.substr(0, comma)), cross = read_number(word.substr(comma + 1));
  constexpr double k_farthest_ft = 50000.0;
  if (!along || !cross || std::abs(*along) > k_farthest_ft || std::abs(*cross) > k_farthest_ft)
    return std::nullopt;
  return RunwayPoint{*along, *cross};
}

/// The whole word or its first letters.
template <class Enum>
std::optional<Enum> begun(const std::string& word, const std::vector<std::pair<Enum, std::string>>& words) {
  for (const auto& [value, whole_word] : words)
    if (!word.empty() && whole_word.compare(0, word.size(), word) == 0) return value;
  return std::nullopt;
}

std::vector<std::string> split_at_blanks(const std::string& line) {
  std::vector<std::string> words;
  std::string word;
  for (const char c : line + " ") {
    if (c != ' ' && c != '\t' && c != '\r') {
      word += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    } else if (!word.empty()) {
      words.push_back(std::move(word));
      word.clear();
    }
  }
  return words;
}

}  // namespace

std::optional<TypedAnswer> read_typed_answer(const std::string& line) {
  const auto words = split_at_blanks(line);
  TypedAnswer typed;
  const auto said = begun<Energy>(words.empty() ? "" : words[0],
                                  {{Energy::low, "low"}, {Energy::on, "on"}, {Energy::high, "high"}});
  if (!said) return std::nullopt;
  typed.said = *said;
  for (std::size_t i = 1; i < words.size(); ++i) {
    const auto sureness = begun<Sureness>(
        words[i], {{Sureness::guess, "guess"}, {Sureness::fairly, "fairly"}, {Sureness::sure, "sure"}});
    const auto mark = place_in(words[i]);
    if (!sureness && !mark) return std::nullopt;
    if (sureness) typed.sureness = *sureness;
    if (mark) typed.mark = mark;
  }
  return typed;
}

}  // namespace glidewright
