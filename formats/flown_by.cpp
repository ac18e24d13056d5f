#include "formats/flown_by.hpp"

#include <algorithm>
#include <array>

namespace glidewright {
namespace {

struct Kind {
  FlownBy flown_by;
  std::string_view name;
  std::string_view words;
};
constexpr std::array<Kind, 5> k_kinds{
    {{FlownBy::student, "student", "flown by the student alone"},
     {FlownBy::student_prompted, "student_prompted", "flown by the student with prompts"},
     {FlownBy::instructor, "instructor", "flown by the instructor"},
     {FlownBy::controls_taken, "controls_taken", "the instructor took the controls"},
     {FlownBy::not_alone, "not_alone", "not flown by the student alone"}}};

const Kind& kind_of(FlownBy flown_by) {
  return *std::find_if(k_kinds.begin(), k_kinds.end(),
                       [&](const Kind& one) { return one.flown_by == flown_by; });
}

}  // namespace

std::string flown_by_name(FlownBy flown_by) {
  return std::string(kind_of(flown_by).name);
}

std::optional<FlownBy> flown_by_named(std::string_view name) {
  for (const Kind& one : k_kinds)
    if (one.name == name) return one.flown_by;
  return std::nullopt;
}

const std::vector<std::string>& flown_by_choices() {
  static const std::vector<std::string> choices = [] {
    std::vector<std::string> names;
    for (const Kind& one : k_kinds)
      if (one.flown_by != FlownBy::not_alone) names.emplace_back(one.name);
    return names;
  }();
  return choices;
}

std::optional<FlownBy> flown_by_said(std::string_view name) {
  const auto known = flown_by_named(name);
  return known == FlownBy::not_alone ? std::nullopt : known;
}

std::string flown_by_expected() {
  std::string words;
  const auto& choices = flown_by_choices();
  for (std::size_t i = 0; i < choices.size(); ++i)
    words += (i == 0 ? "" : i + 1 == choices.size() ? " or " : ", ") + choices[i];
  return words;
}

std::string flown_by_words(FlownBy flown_by) {
  return std::string(kind_of(flown_by).words);
}

}  // namespace glidewright
