#include "formats/report/ribbon.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <string_view>

#include "formats/report/markup.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright::report {
namespace {

struct Layer {
  double Room::*low;
  double Room::*high;
  const char* css_class;
  const char* name;
};

constexpr Layer k_layers[] = {{&Room::lowest_ft, &Room::by_path_ft, "ribbon", "path"},
                              {&Room::by_path_ft, &Room::by_flaps_ft, "ribbon flaps", "flaps"},
                              {&Room::by_flaps_ft, &Room::by_slip_ft, "ribbon", "slip"}};

struct Slice {
  double x = 0.0, low = 0.0, high = 0.0;  ///< in drawing units, y downwards
};

/// The stretches along which the layer is open.
std::vector<std::vector<Slice>> open_stretches(const BandAlong& band, const std::vector<PathPlace>& path,
                                               const Mapping& x, const Mapping& y, double top_ft,
                                               const Layer& layer) {
  std::vector<std::vector<Slice>> stretches(1);
  for (const RoomOnTrack& at : band.places) {
    const auto place = place_at(path, at.time_s);
    const double low = std::max(at.sure.*layer.low, at.sure.lowest_ft);
    const double high = std::min(at.sure.*layer.high, top_ft);
    if (!place || high <= low) {
      if (!stretches.back().empty()) stretches.emplace_back();
      continue;
    }
    stretches.back().push_back({x(place->to_go_ft), y(low), y(high)});
  }
  if (stretches.back().empty()) stretches.pop_back();
  return stretches;
}

std::string polygon(const std::vector<Slice>& slices, const char* css_class) {
  std::string points;
  for (const Slice& slice : slices) points += at(slice.x) + "," + at(slice.high) + " ";
  for (auto slice = slices.rbegin(); slice != slices.rend(); ++slice) {
    points += at(slice->x) + "," + at(slice->low) + " ";
  }
  return fmt::format("<polygon class=\"{}\" points=\"{}\"/>", css_class, points);
}

struct Name {
  double x = 0.0, y = 0.0;
};

/// A third of the way along, where the layer is thick enough there; else where it is thickest. None where it
/// is too thin or another name is near.
std::optional<Name> place_for_name(const std::vector<Slice>& slices, const std::vector<Name>& others) {
  constexpr double line_height = 13.0, near = 30.0;
  const auto clear = [&](const Slice& slice) {
    const double middle = 0.5 * (slice.low + slice.high);
    return slice.low - slice.high >= line_height &&
           std::none_of(others.begin(), others.end(), [&](const Name& other) {
             return std::abs(other.x - slice.x) < near && std::abs(other.y - middle) < line_height;
           });
  };
  const auto thickest = std::max_element(slices.begin(), slices.end(), [](const Slice& a, const Slice& b) {
    return a.low - a.high < b.low - b.high;
  });
  for (const Slice* slice : {&slices[slices.size() / 3], &slices[2 * slices.size() / 3], &*thickest}) {
    if (clear(*slice)) return Name{slice->x, 0.5 * (slice->low + slice->high)};
  }
  return std::nullopt;
}

const char* words_of(LastChance::Mean mean) {
  switch (mean) {
    case LastChance::Mean::shortest_way:
      return "too low from here";
    case LastChance::Mean::path:
      return "path no longer enough";
    case LastChance::Mean::flaps:
      return "flaps no longer enough";
    case LastChance::Mean::slip:
      break;
  }
  return "slip no longer enough";
}

}  // namespace

std::string ribbon(const BandAlong& band, const std::vector<PathPlace>& path, const Mapping& x,
                   const Mapping& y, double top_ft) {
  std::string shapes, words;
  std::vector<Name> names;
  for (const Layer& layer : k_layers) {
    for (const auto& stretch : open_stretches(band, path, x, y, top_ft, layer)) {
      if (stretch.size() < 2) continue;
      shapes += polygon(stretch, layer.css_class);
      const auto name = place_for_name(stretch, names);
      if (!name) continue;
      names.push_back(*name);
      words += text(name->x, name->y + 4.0, "middle", "label", layer.name);
    }
  }
  return shapes + words;
}

std::string last_chance_ticks(const BandAlong& band, const std::vector<PathPlace>& path, const Mapping& x,
                              const Mapping& y, double right) {
  constexpr double letter = 5.6, line_height = 12.0;
  std::string ticks;
  std::vector<Name> names;
  for (const LastChance& chance : band.last_chances) {
    const auto place = place_at(path, chance.time_s);
    if (!place) continue;
    const double here = x(place->to_go_ft), there = y(place->height_ft);
    ticks += line(here - 5.0, there - 5.0, here + 5.0, there + 5.0, "chance");
    ticks += line(here - 5.0, there + 5.0, here + 5.0, there - 5.0, "chance");
    // Moved to where it fits it would lie on the path; the sentence beside the picture says it too.
    const std::string_view words = words_of(chance.mean);
    const bool fits = here + 9.0 + letter * static_cast<double>(words.size()) <= right;
    const bool clear = std::none_of(names.begin(), names.end(), [&](const Name& other) {
      return std::abs(other.y - there) < line_height;
    });
    if (!fits || !clear) continue;
    names.push_back({here, there});
    ticks += text(here + 9.0, there - 7.0, "start", "label", words);
  }
  return ticks;
}

std::string reach_lines(const std::vector<ReachContour>& contours, const Mapping& x, const Mapping& y,
                        double right, double top) {
  std::string lines, words;
  for (const ReachContour& contour : contours) {
    std::optional<Name> name;
    for (const auto& places : contour.lines) {
      std::string points;
      for (const PlaceOnGround& place : places) {
        const double across = x(place.along_ft), up = y(std::abs(place.cross_ft));
        points += at(across) + "," + at(up) + " ";
        // Named where the line is farthest out and still in the picture.
        if (across < 20.0 || across > right - 20.0 || up < top + 8.0) continue;
        if (!name || up < name->y) name = Name{across, up};
      }
      lines += fmt::format("<polyline class=\"reach\" points=\"{}\"/>", points);
    }
    if (name) words += text(name->x, name->y + 4.0, "middle", "label reach", whole(contour.height_ft));
  }
  return lines + words;
}

}  // namespace glidewright::report
