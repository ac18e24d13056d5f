#include "store/correction.hpp"

#include <fmt/format.h>

namespace glidewright {
namespace {

std::string contradiction(long long attempt, const RatedAttempt& rated, const Said& said) {
  const bool around = rated.end == RatedAttempt::End::went_around;
  if (around && (said.met || said.in_box))
    return fmt::format("attempt {} went around, so nothing was met", attempt);
  if (said.met == true && said.in_box == false)
    return "who meets the standard has landed in the box; one of \"met\" and \"in the box\" is wrong";
  return {};
}

template <class Value>
void say_where_given(std::optional<Value>& before, const std::optional<Value>& now) {
  if (now) before = now;
}

}  // namespace

Result<Assessment> corrected(long long attempt, const Assessment& now, const Said& said,
                             const std::string& reason, const Stamp& stamp) {
  if (!said.flown_by && !said.forced && !said.met && !said.in_box)
    return Error{fmt::format(
        "attempt {}: who flew, forced, met or in the box was expected, to say what is corrected", attempt)};
  if (const auto wrong = contradiction(attempt, now.rated, said); !wrong.empty()) return Error{wrong};
  Assessment next = now;
  say_where_given(next.said.flown_by, said.flown_by);
  say_where_given(next.said.forced, said.forced);
  say_where_given(next.said.met, said.met);
  say_where_given(next.said.in_box, said.in_box);
  // The one follows from the other: a standard is met in the box only.
  if (said.met == true) next.said.in_box = true;
  if (said.in_box == false) next.said.met = false;
  apply(next.said, next.rated);
  next.reason = reason;
  next.stamp = stamp;
  return next;
}

}  // namespace glidewright
