#pragma once
// Words with a tone: what HTML sets by classes and paper by weights.

#include <string>
#include <vector>

namespace glidewright::report {

enum class Tone { plain, strong, note, verdict, plan, to_long, to_short, undecided };

struct Run {
  std::string text;
  Tone tone = Tone::plain;
};

/// One line or paragraph.
using Runs = std::vector<Run>;

/// As HTML, escaped.
std::string html_of(const Runs& runs);

}  // namespace glidewright::report
