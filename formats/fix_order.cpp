#include "formats/fix_order.hpp"

#include <fmt/format.h>

#include <algorithm>

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

}  // namespace

Result<std::vector<Fix>> order_fixes(std::vector<Placed<Fix>> fixes, Repairs& repairs,
                                     std::string_view name) {
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
  std::vector<Fix> ordered;
  ordered.reserve(fixes.size());
  for (const auto& placed : fixes) ordered.push_back(placed.row);
  return ordered;
}

}  // namespace glidewright
