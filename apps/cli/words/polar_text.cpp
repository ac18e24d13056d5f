#include "apps/cli/words/polar_text.hpp"

#include <fmt/format.h>

#include "apps/cli/words/brief_text.hpp"
#include "engine/air/atmosphere.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

constexpr int k_name_columns = 14;

std::string cell(const std::string& text, int columns = 9) {
  return padded_left(text, columns);
}

std::string lost_cell(const std::optional<double>& lost_ft) {
  return cell(lost_ft ? feet(*lost_ft) : "–");
}

std::string flap_words(const FlapGlides& flap) {
  return flap.setting_deg > 0.0 ? fmt::format("flap {:.0f}", flap.setting_deg) : "flaps up";
}

std::string head(const std::string& first, const std::vector<std::string>& columns) {
  std::string text = "  " + padded_right(first, k_name_columns);
  for (const auto& one : columns) text += cell(one);
  return inked(ink::k_faint, text) + '\n';
}

std::string speeds_text(const PolarSheet& asked, const Page& page) {
  std::string text = heading("Glide", "calibrated airspeed, still air, idling", page) +
                     head("", {"stall", "limit", "flattest", "ratio", "flown at", "ratio", "fpm"});
  for (const auto& flap : asked.sheet.flaps) {
    text += "  " + padded_right(flap_words(flap), k_name_columns) +
            cell(decimal(flap.stall_kcas, 1) + " kt") +
            cell(flap.maximum_kcas ? fmt::format("{:.0f} kt", *flap.maximum_kcas) : "–") +
            cell(fmt::format("{:.0f} kt", flap.flattest.calibrated_airspeed_kt)) +
            cell(decimal(flap.flattest.glide.glide_ratio, 1)) +
            cell(fmt::format("{:.0f} kt", flap.flown.calibrated_airspeed_kt)) +
            cell(decimal(flap.flown.glide.glide_ratio, 1)) + cell(feet(flap.flown.glide.sink_fpm)) + '\n';
  }
  return text + wrapped(fmt::format("All drag together is known to {:.0f} %, 95 times in 100.",
                                    196.0 * asked.airplane->glide_sd),
                        {2, 2}, page);
}

std::string wind_row(const std::string& name, const GlideAtSpeed& one) {
  std::string text =
      "  " + padded_right(name, k_name_columns) + cell(fmt::format("{:.0f} kt", one.calibrated_airspeed_kt));
  for (const double headwind_kt : k_headwinds_kt) text += lost_cell(lost_ft_per_nm(one.glide, headwind_kt));
  return text + '\n';
}

std::string by_wind_text(const PolarSheet& asked, const Page& page) {
  std::vector<std::string> columns = {"flown at"};
  for (const double kt : k_headwinds_kt) {
    columns.push_back(kt < 0.0   ? fmt::format("tail {:.0f}", -kt)
                      : kt > 0.0 ? fmt::format("head {:.0f}", kt)
                                 : std::string("calm"));
  }
  std::string text =
      heading("Height lost by wind", "ft a nautical mile over the ground", page) + head("", columns);
  for (const auto& flap : asked.sheet.flaps) {
    text += wind_row(flap_words(flap), flap.flown);
    if (flap.slipping) text += wind_row("  and slipping", *flap.slipping);
  }
  return text;
}

std::string by_speed_text(const PolarSheet& asked, const Page& page) {
  std::vector<std::string> columns;
  for (const auto& flap : asked.sheet.flaps) columns.push_back(flap_words(flap));
  std::string text =
      heading("Height lost by speed", "ft a nautical mile in still air", page) + head("", columns);
  for (const double kt : table_speeds_kt(asked.sheet)) {
    text += "  " + padded_right(fmt::format("{:.0f} kt", kt), k_name_columns);
    for (const auto& flap : asked.sheet.flaps) {
      const GlideAtSpeed* one = on_curve(flap, kt);
      text += lost_cell(one ? lost_ft_per_nm(one->glide, 0.0) : std::nullopt);
    }
    text += '\n';
  }
  return text;
}

std::string turns_text(const PolarSheet& asked, const Page& page) {
  std::string head = "  " + padded_right("", k_name_columns);
  for (const double bank_deg : k_banks_deg)
    head += cell(fmt::format("bank {:.0f}", bank_deg)) + cell("radius", 7) + cell("x", 5);
  std::string text =
      heading(fmt::format("A turn of {:.0f}°", k_turned_deg),
              "height lost and radius in ft; x: airspeed in times the stall in that turn", page) +
      inked(ink::k_faint, head) + '\n';
  for (const auto& flap : asked.sheet.flaps) {
    text += "  " + padded_right(flap_words(flap), k_name_columns);
    for (const double bank_deg : k_banks_deg) {
      const auto turn = gliding_turn(asked.airplane->polar, Knots{flap.flown.calibrated_airspeed_kt},
                                     Pounds{asked.sheet.weight_lb}, Degrees{flap.setting_deg},
                                     Degrees{bank_deg}, Degrees{k_turned_deg}, asked.sheet.density_ratio);
      text += cell(feet(turn.lost_ft)) + cell(feet(turn.radius_ft), 7) + cell(decimal(turn.over_stall, 2), 5);
    }
    text += '\n';
  }
  return text;
}

std::string problems_text(const PolarSheet& asked, const Page& page) {
  std::string text = heading("These numbers do not go together");
  for (const auto& one : asked.problems) text += wrapped(one.field + ": " + one.sentence, {2, 4}, page);
  return text;
}

}  // namespace

std::string polar_text(const PolarSheet& asked, const Page& page) {
  std::string text = labelled("Airplane", asked.handbook.name, page);
  if (!asked.airplane) return text + problems_text(asked, page);
  text += labelled("Weight", whole(asked.sheet.weight_lb) + " lb", page);
  text += labelled(
      "Air", fmt::format("density altitude {} ft", feet(density_altitude(asked.sheet.density_ratio).value)),
      page);
  text += speeds_text(asked, page) + by_wind_text(asked, page) + by_speed_text(asked, page) +
          turns_text(asked, page) + assumed_text(asked.assumed, page);
  return text + '\n' +
         wrapped(
             "An aid for planning on the ground, never guidance in flight. The airplane's handbook prevails.",
             {0, 0}, page);
}

}  // namespace glidewright
