// Airplanes and airfields of the school: everybody sees them, instructors change them.
#include "apps/server/route.hpp"
#include "formats/number.hpp"

namespace glidewright::api {
namespace {

/// Bounded as a page is.
constexpr int k_attempts_shown = 50;

template <FleetKind kind>
ApiAnswer list(Call& call) {
  return json_answer(fleet_to_json(kind, must(call, call.records.fleet(kind))));
}

template <FleetKind kind>
FleetItem item_of(Call& call) {
  for (FleetItem& one : must(call, call.records.fleet(kind)))
    if (one.number == call.numbers.at(0))
      if (auto whole = must(call, call.records.fleet_named(kind, one.name))) return std::move(*whole);
  throw Refused{404, std::string("there is no such ") + name_of(kind)};
}

/// Of what was filed under it only what the person may see anyway.
template <FleetKind kind>
ApiAnswer show(Call& call) {
  const FleetItem item = item_of<kind>(call);
  std::vector<FleetAttempt> flown;
  if (kind == FleetKind::airplane)
    for (FleetAttempt& one : must(call, call.records.latest_attempts_in(item.uid, k_attempts_shown))) {
      const auto student = call.records.find_student(std::to_string(one.student));
      if (student && (!call.person || may_see(*call.person, *student))) flown.push_back(std::move(one));
    }
  return json_answer(fleet_item_shown_to_json(item, flown));
}

struct Sent {
  std::string name, content, reason;
};

/// "content": the profile, or the list of runways, as an object.
Sent sent(const Call& call) {
  Sent read = read_body(call, [](JsonFields& fields) {
    Sent typed;
    fields.replace_text("name", typed.name);
    fields.replace_text("reason", typed.reason);
    typed.content = fields.text("content");
    return typed;
  });
  return read;
}

template <FleetKind kind>
ApiAnswer add(Call& call) {
  const Sent given = sent(call);
  const FleetItem item = must(call, call.records.add_to_fleet(kind, given.name, given.content, call.stamp()));
  return json_answer({{"number", item.number}, {"uid", item.uid}, {"name", item.name}}, 201);
}

template <FleetKind kind>
ApiAnswer change(Call& call) {
  const Sent given = sent(call);
  must(call,
       call.records.change_in_fleet(kind, call.numbers.at(0), given.content, given.reason, call.stamp()));
  return done();
}

template <FleetKind kind>
ApiAnswer remove(Call& call) {
  must(call, call.records.throw_from_fleet(kind, item_of<kind>(call).number, call.stamp()));
  return done();
}

std::optional<double> weight_asked(const Call& call) {
  const std::string given = call.query("weight_lb");
  if (given.empty()) return std::nullopt;
  const auto weight = read_number(given);
  if (!weight) throw Refused{400, "weight_lb: a number was expected"};
  return weight;
}

ApiAnswer fitted(Call& call, const Stamp* keep) {
  const FleetItem airplane = item_of<FleetKind::airplane>(call);
  const LongReckoning held;
  return json_answer(must(call, call.parts.fit_airplane(call.records, airplane, weight_asked(call), keep)));
}

/// Shown before it is kept: who keeps it has seen what changes.
ApiAnswer look_at_fit(Call& call) {
  return fitted(call, nullptr);
}

ApiAnswer keep_fit(Call& call) {
  const Stamp stamp = call.stamp();
  return fitted(call, &stamp);
}

}  // namespace

const std::vector<Route>& fleet_routes() {
  constexpr auto airplane = FleetKind::airplane, airfield = FleetKind::airfield;
  static const std::vector<Route> routes = {
      {"GET", "airplanes", Who::signed_in, list<airplane>},
      {"POST", "airplanes", Who::instructor, add<airplane>},
      {"GET", "airplanes/#", Who::signed_in, show<airplane>},
      {"POST", "airplanes/#/version", Who::instructor, change<airplane>},
      {"POST", "airplanes/#/trash", Who::instructor, remove<airplane>},
      {"GET", "airplanes/#/fit", Who::instructor, look_at_fit},
      {"POST", "airplanes/#/fit", Who::instructor, keep_fit},
      {"GET", "airfields", Who::signed_in, list<airfield>},
      {"POST", "airfields", Who::instructor, add<airfield>},
      {"GET", "airfields/#", Who::signed_in, show<airfield>},
      {"POST", "airfields/#/version", Who::instructor, change<airfield>},
      {"POST", "airfields/#/trash", Who::instructor, remove<airfield>},
  };
  return routes;
}

}  // namespace glidewright::api
