#include "formats/report/runs.hpp"

#include "formats/report/markup.hpp"

namespace glidewright::report {
namespace {

std::string html_of(const Run& run) {
  switch (run.tone) {
    case Tone::plain:
      return escaped(run.text);
    case Tone::strong:
      return element("strong", "", run.text);
    case Tone::note:
      return element("span", "note", run.text);
    case Tone::verdict:
      return element("span", "verdict", run.text);
    case Tone::plan:
      return element("span", "plan", run.text);
    case Tone::to_long:
      return element("span", "long", run.text);
    case Tone::to_short:
      return element("span", "short", run.text);
    case Tone::undecided:
      break;
  }
  return element("span", "open", run.text);
}

}  // namespace

std::string html_of(const Runs& runs) {
  std::string html;
  for (const Run& run : runs) html += html_of(run);
  return html;
}

}  // namespace glidewright::report
