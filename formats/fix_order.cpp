#include "formats/fix_order.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "engine/track/frozen_positions.hpp"

namespace glidewright {
namespace {

struct SegmentSpan {
  std::size_t begin = 0;
  std::size_t end = 0;
};

std::vector<SegmentSpan> spans_of(const std::vector<Placed<Fix>>& fixes) {
  std::vector<SegmentSpan> spans;
  for (std::size_t i = 0; i < fixes.size(); ++i) {
    if (i == 0 || fixes[i].row.segment != fixes[i - 1].row.segment) spans.push_back({i, i});
    spans.back().end = i + 1;
  }
  return spans;
}

/// Some programs write the newest track first. Whole segments are moved, and numbered again in order.
void sort_segments(std::vector<Placed<Fix>>& fixes, Repairs& repairs) {
  auto spans = spans_of(fixes);
  const auto start = [&](const SegmentSpan& span) { return fixes[span.begin].row.time_unix_s; };
  const auto earlier = [&](const SegmentSpan& a, const SegmentSpan& b) { return start(a) < start(b); };
  if (std::is_sorted(spans.begin(), spans.end(), earlier)) return;
  for (std::size_t i = 1; i < spans.size(); ++i) {
    if (earlier(spans[i], spans[i - 1]))
      repairs.add(Repair::segments_out_of_order, fixes[spans[i].begin].offset);
  }
  std::stable_sort(spans.begin(), spans.end(), earlier);
  std::vector<Placed<Fix>> sorted;
  sorted.reserve(fixes.size());
  std::uint32_t segment = 0;
  for (const auto& span : spans) {
    for (std::size_t i = span.begin; i < span.end; ++i) {
      sorted.push_back(fixes[i]);
      sorted.back().row.segment = segment;
    }
    ++segment;
  }
  fixes = std::move(sorted);
}

/// placed: as many as ordered.fixes.
void drop_frozen(OrderedFixes& ordered, const std::vector<Placed<Fix>>& placed, Repairs& repairs) {
  const auto frozen = frozen_fixes(ordered.fixes);
  if (frozen.empty()) return;
  std::vector<Fix>& fixes = ordered.fixes;
  std::size_t kept = 0, read = 0;
  for (const FrozenFixes& repeats : frozen) {
    for (; read < repeats.first; ++read) fixes[kept++] = placed[read].row;
    ordered.freezes.push_back({fixes[kept - 1].time_unix_s, placed[repeats.last].row.time_unix_s});
    for (; read <= repeats.last; ++read) repairs.add(Repair::frozen_position, placed[read].offset);
  }
  for (; read < placed.size(); ++read) fixes[kept++] = placed[read].row;
  fixes.resize(kept);
}

}  // namespace

Result<OrderedFixes> order_fixes(std::vector<Placed<Fix>> fixes, Repairs& repairs, std::string_view name) {
  const std::size_t read = fixes.size();
  sort_segments(fixes, repairs);
  keep_increasing(fixes, repairs);
  const auto backwards = repairs.count(Repair::time_ran_backwards);
  if (2 * backwards > read) {
    return Error{fmt::format("{}: time runs backwards at {} of {} fixes; expected rising times", name,
                             backwards, read)};
  }
  if (fixes.size() < 2) {
    return Error{fmt::format("{}: {} usable with a time of its own; expected at least 2", name,
                             fixes.empty() ? "no fix is" : "only one fix is")};
  }
  OrderedFixes ordered;
  ordered.fixes.reserve(fixes.size());
  for (const auto& placed : fixes) ordered.fixes.push_back(placed.row);
  drop_frozen(ordered, fixes, repairs);
  return ordered;
}

}  // namespace glidewright
