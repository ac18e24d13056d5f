// The page makes no PDF: there the browser prints what it shows.

#include "apps/cli/paper/paper.hpp"

namespace glidewright {
namespace {

Error none_here() {
  return Error{"no PDF is made here; print the page, or expected a name that ends in .html"};
}

}  // namespace

Result<std::string> debrief_report_pdf(const DebriefedLog&) {
  return none_here();
}

Result<std::string> plan_card_pdf(const Brief&, const std::vector<CueAtWind>&, CardSize) {
  return none_here();
}

}  // namespace glidewright
