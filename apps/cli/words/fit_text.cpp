#include "apps/cli/words/fit_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "apps/cli/words/brief_text.hpp"
#include "engine/units/words.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

constexpr double k_doubtful = 0.5;
constexpr std::size_t k_doubtful_shown = 5;

std::string glides_words(std::size_t count) {
  return fmt::format("{} {}", count, count == 1 ? "glide" : "glides");
}

std::string log_text(const FitReport& report, std::size_t i, const Page& page) {
  const FittedLog& log = report.logs[i];
  std::string words = fmt::format("{}: {} used", log.file, glides_words(report.glides[i].glides.size()));
  for (const auto& one : log.left_out) words += fmt::format("; {} left out, {}", one.glides, one.reason);
  for (const auto& note : log.notes) words += "; " + note;
  const LogOffset& offset = report.fit.offsets[i];
  words += fmt::format("; its airspeed reads {} ± {} kt {}", decimal(std::abs(offset.airspeed_kt), 1),
                       decimal(1.96 * offset.airspeed_sd_kt, 1), offset.airspeed_kt > 0.0 ? "low" : "high");
  return labelled(i == 0 ? "Glides" : "", words, page);
}

/// A digit beyond the thousands separator only where the quantity has decimals.
std::string in_words(double value, int decimals) {
  return decimals == 0 ? whole(std::round(value / 5.0) * 5.0) : decimal(value, decimals);
}

std::string with_interval(const Estimate& estimate, int decimals) {
  return fmt::format("{} ({} to {})", in_words(estimate.value, decimals), in_words(estimate.low95, decimals),
                     in_words(estimate.high95, decimals));
}

std::string estimates_text(const FitReport& report, const Page& page) {
  std::string text =
      heading(fmt::format("What it does at {} lb, idling", whole(report.weight_lb)),
              "in parentheses where it lies 95 times in 100; calibrated airspeed, sea level", page);
  text +=
      inked(ink::k_faint, fmt::format("  {:<30}{:>22}{:>24}", "", "profile alone", "with the glides")) + '\n';
  for (const auto& one : estimates(report)) {
    const bool fitted = !report.fit.residuals.empty();
    text += "  " + padded_right(capitalised(one.words), 30) +
            padded_left(with_interval(one.before, one.decimals), 22) +
            padded_left(fitted ? with_interval(one.after, one.decimals) : "–", 24) +
            (one.unit.empty() ? "" : "  " + one.unit) + '\n';
  }
  return text +
         wrapped(fmt::format("The speed to fly stays the handbook's best glide, {:.0f} kt at maximum weight.",
                             report.profile.best_glide_speed_kcas.value),
                 {2, 2}, page);
}

std::string spread_text(const FitReport& report, const Page& page) {
  const double before = 100.0 * drag_sd(report.fit.before);
  std::string text = heading("Spread for the plan");
  if (report.fit.residuals.empty()) {
    return text +
           wrapped(fmt::format("Drag is known to {:.1f} % (one standard deviation) from the profile alone; "
                               "logged glides would narrow it.",
                               before),
                   {2, 2}, page);
  }
  return text +
         wrapped(
             fmt::format("Drag was known to {:.1f} %, now to {:.1f} % (one standard deviation). The glides "
                         "scatter {:.1f} times as much as their readings' own errors would make them.",
                         before, 100.0 * report.profile.fitted->drag_sd, report.fit.noise_scale),
             {2, 2}, page);
}

std::string doubtful_text(const FitReport& report, const Page& page) {
  auto residuals = report.fit.residuals;
  std::erase_if(residuals, [](const GlideResidual& one) { return one.trust >= k_doubtful; });
  if (residuals.empty()) return {};
  std::sort(residuals.begin(), residuals.end(),
            [](const GlideResidual& a, const GlideResidual& b) { return a.trust < b.trust; });
  std::string text = heading("Glides that do not fit the others, and count little");
  for (std::size_t i = 0; i < std::min(residuals.size(), k_doubtful_shown); ++i) {
    const GlideResidual& one = residuals[i];
    const LoggedGlide& glide = report.glides[one.log].glides[one.glide];
    const std::string where = glide.line > 0 ? fmt::format("{}:{}", report.logs[one.log].file, glide.line)
                                             : fmt::format("{} at {} UTC", report.logs[one.log].file,
                                                           time_of_day(glide.begin_unix_s));
    text +=
        wrapped(fmt::format("{}: {:.0f} kt, flap {:.0f}°: {:.0f} % {} drag than the others say", where,
                            glide.calibrated_airspeed_kt, glide.flap_deg, 100.0 * std::abs(one.drag_relative),
                            one.drag_relative > 0.0 ? "more" : "less"),
                {2, 4}, page);
  }
  if (residuals.size() > k_doubtful_shown)
    text += wrapped(fmt::format("and {} more", residuals.size() - k_doubtful_shown), {2, 4}, page);
  return text;
}

std::string written_text(const FitReport& report, const Page& page) {
  if (!report.written) return {};
  return heading("Written") +
         wrapped(fmt::format("{}: the profile with the fitted numbers; what the handbook said stands under "
                             "\"fitted\". Stall, approach and limit speeds are the handbook's.",
                             *report.written),
                 {2, 2}, page);
}

}  // namespace

std::string fit_text(const FitReport& report, const Page& page) {
  std::string text = labelled("Airplane", report.airplane_name, page);
  for (std::size_t i = 0; i < report.logs.size(); ++i) text += log_text(report, i, page);
  if (report.logs.empty()) text += labelled("Glides", "none given; what the profile alone says", page);
  text += estimates_text(report, page) + spread_text(report, page) + doubtful_text(report, page);
  text += written_text(report, page) + assumed_text(report.assumed, page);
  return text + '\n' +
         wrapped(
             "An aid for planning on the ground, never guidance in flight. The airplane's handbook prevails.",
             {0, 0}, page);
}

}  // namespace glidewright
