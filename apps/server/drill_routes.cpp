// Moments of a student's own flights, to be judged on the page.
#include <algorithm>
#include <cmath>

#include "apps/server/route.hpp"
#include "formats/own_drill_json.hpp"

namespace glidewright::api {
namespace {

constexpr long long k_usual_pictures = 5, k_most_pictures = 20;

std::size_t pictures_asked(const Call& call) {
  return static_cast<std::size_t>(
      std::clamp(call.query_number("count").value_or(k_usual_pictures), 1LL, k_most_pictures));
}

ApiAnswer own_drill(Call& call) {
  const Student student = student_seen(call);
  const auto seed = static_cast<std::uint64_t>(std::max(call.query_number("seed").value_or(1), 0LL));
  const auto answered = must(call, call.records.answers_of(student.number));
  const LongReckoning held;
  return json_answer(own_drill_to_json(
      must(call, call.parts.own_drill(call.records, student.number, seed, pictures_asked(call))), answered));
}

/// What somebody said of a picture, and what of the picture it is measured against: the page has both, and
/// the server remembers no drills.
struct Answered {
  std::string setting;
  double runway_true_deg = 0.0;
  Situation situation;
  Energy said = Energy::on;
  Sureness sureness = Sureness::fairly;
  std::optional<RunwayPoint> mark;
};

template <class Enum>
Enum word_of(JsonFields& fields, const char* name, std::optional<Enum> (*find)(std::string_view),
             const char* expected) {
  const auto found = find(fields.text(name));
  if (!found) fields.add_problem(name, std::string(name) + ": " + expected + " was expected");
  return found.value_or(Enum{});
}

Answered answered_in(const Call& call) {
  constexpr JsonRange k_feet{-1e5, 1e5}, k_degrees{0.0, 360.0};
  return read_body(call, [&](JsonFields& fields) {
    Answered one;
    one.setting = fields.text("setting");
    one.runway_true_deg = fields.number("runway_true_deg", k_degrees);
    one.situation.seed = static_cast<std::uint64_t>(fields.number("seed", {0.0, 9007199254740992.0}));
    one.situation.number = static_cast<int>(fields.number("number", {1.0, 1e6}));
    one.situation.energy = word_of(fields, "truth", energy_named, "low, on or high");
    one.situation.touchdown_ft = fields.number("touchdown_ft", k_feet);
    one.situation.in_20_s.along_ft = fields.number("in_20_s_along_ft", k_feet);
    one.situation.in_20_s.cross_ft = fields.number("in_20_s_cross_ft", k_feet);
    one.situation.in_20_s.heading_true_deg = fields.number("in_20_s_heading_true_deg", k_degrees);
    one.said = word_of(fields, "said", energy_named, "low, on or high");
    one.sureness = word_of(fields, "sureness", sureness_named, "guess, fairly or sure");
    if (auto mark = fields.optional_object("mark")) {
      one.mark = RunwayPoint{mark->number("along_ft", k_feet), mark->number("cross_ft", k_feet)};
      mark->refuse_unknown_fields();
    }
    return one;
  });
}

/// By the server's clock, to the place of the engine: the answer as `record drill` would have kept it.
ApiAnswer answer(Call& call) {
  const Student student = student_seen(call);
  const Answered one = answered_in(call);
  const KeptAnswer kept = kept_answer(one.setting, one.runway_true_deg, one.situation, one.said, one.sureness,
                                      one.mark, call.parts.now_unix_s());
  must(call, call.records.add_answers(student.number, {kept}, call.stamp()));
  return json_answer(
      {{"answer", answer_to_json(kept)},
       {"score", score_to_json(score_of_kept(must(call, call.records.answers_of(student.number))))}},
      201);
}

}  // namespace

const std::vector<Route>& drill_routes() {
  static const std::vector<Route> routes = {
      {"GET", "students/#/own-drill", Who::signed_in, own_drill},
      {"POST", "students/#/own-drill/answer", Who::signed_in, answer},
  };
  return routes;
}

}  // namespace glidewright::api
