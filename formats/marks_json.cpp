#include "formats/marks_json.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "formats/flown_by.hpp"
#include "formats/json_reader.hpp"
#include "formats/number.hpp"
#include "formats/shown.hpp"
#include "formats/time.hpp"

namespace glidewright {
namespace {

constexpr JsonRange k_along_ft{-5000.0, 15000.0};
constexpr JsonRange k_seen_sd_ft{1.0, 500.0};
constexpr JsonRange k_attempt{1.0, 999.0};
constexpr JsonRange k_after_abeam_s{-60.0, 400.0};
constexpr JsonRange k_time_sd_s{0.01, 30.0};
constexpr JsonRange k_flap_deg{0.0, 60.0};

MarkedMoment read_moment(JsonFields& fields) {
  MarkedMoment moment;
  std::string time;
  fields.replace_text("time", time);
  const auto after_abeam = fields.optional_number("after_abeam_s", k_after_abeam_s);
  moment.after_abeam_s = after_abeam.value_or(0.0);
  if (time.empty() == !after_abeam) {
    fields.add_problem("time", "a moment needs either time or after_abeam_s");
  } else if (!time.empty()) {
    moment.time_unix_s = unix_seconds(time);
    if (!moment.time_unix_s)
      fields.add_problem("time",
                         fmt::format("time '{}'; expected such as 2026-05-14T20:07:14.4Z", shown(time)));
  }
  return moment;
}

std::optional<MarkedMoment> optional_moment(JsonFields& fields, std::string_view name) {
  auto moment_fields = fields.optional_object(name);
  if (!moment_fields) return std::nullopt;
  const MarkedMoment moment = read_moment(*moment_fields);
  moment_fields->refuse_unknown_fields();
  return moment;
}

std::optional<MarkedTouchdown> read_touchdown_moment(JsonFields& fields) {
  auto moment_fields = fields.optional_object("touchdown_at");
  if (!moment_fields) return std::nullopt;
  MarkedTouchdown touchdown;
  touchdown.at = read_moment(*moment_fields);
  moment_fields->replace_number("sd_s", k_time_sd_s, touchdown.sd_s);
  moment_fields->refuse_unknown_fields();
  return touchdown;
}

std::optional<std::vector<MarkedFlap>> read_flaps(JsonFields& fields) {
  if (!fields.has("flaps")) return std::nullopt;
  std::vector<MarkedFlap> flaps;
  for (auto& flap_fields : fields.objects("flaps")) {
    MarkedFlap flap;
    flap.setting_deg = flap_fields.number("setting_deg", k_flap_deg);
    flap.at = read_moment(flap_fields);
    flap_fields.refuse_unknown_fields();
    flaps.push_back(flap);
  }
  return flaps;
}

std::optional<std::vector<MarkedSlip>> read_slips(JsonFields& fields) {
  if (!fields.has("slips")) return std::nullopt;
  std::vector<MarkedSlip> slips;
  for (auto& slip_fields : fields.objects("slips")) {
    const auto in = optional_moment(slip_fields, "in"), out = optional_moment(slip_fields, "out");
    slip_fields.refuse_unknown_fields();
    if (!in || !out) {
      slip_fields.add_problem(in ? "out" : "in", "a slip needs both moments: in, and out");
      continue;
    }
    const bool comparable = in->time_unix_s.has_value() == out->time_unix_s.has_value();
    const double lasts_s = in->time_unix_s && out->time_unix_s ? *out->time_unix_s - *in->time_unix_s
                                                               : out->after_abeam_s - in->after_abeam_s;
    if (comparable && lasts_s <= 0.0) slip_fields.add_problem("out", "the slip is out before it is in");
    slips.push_back({*in, *out});
  }
  return slips;
}

std::optional<FlownBy> read_flown_by(JsonFields& fields) {
  std::string written;
  fields.replace_text("flown_by", written);
  if (written.empty()) return std::nullopt;
  const auto said = flown_by_said(written);
  if (!said)
    fields.add_problem("flown_by",
                       fmt::format("flown_by '{}'; expected {}", shown(written), flown_by_expected()));
  return said;
}

Checklist read_checklist(JsonFields& fields) {
  Checklist checklist;
  auto ticks = fields.optional_object("checklist");
  if (!ticks) return checklist;
  for (std::size_t i = 0; i < k_checklist.size(); ++i)
    if (ticks->has(k_checklist[i].name)) checklist[i] = ticks->flag(k_checklist[i].name);
  ticks->refuse_unknown_fields();
  return checklist;
}

Json checklist_to_json(const Checklist& checklist) {
  Json object = Json::object();
  for (std::size_t i = 0; i < k_checklist.size(); ++i)
    if (checklist[i]) object[std::string(k_checklist[i].name)] = *checklist[i];
  return object;
}

AttemptMarks read_attempt(JsonFields& fields) {
  AttemptMarks marks;
  const double attempt = fields.number("attempt", k_attempt);
  marks.attempt = static_cast<int>(attempt);
  if (marks.attempt != attempt) fields.add_problem("attempt", "attempt is not a whole number");
  if (const auto along_ft = fields.optional_number("touchdown_ft", k_along_ft)) {
    marks.touchdown_seen = SeenPlace{*along_ft};
    fields.replace_number("touchdown_sd_ft", k_seen_sd_ft, marks.touchdown_seen->sd_ft);
  }
  marks.touchdown_at = read_touchdown_moment(fields);
  marks.idle = optional_moment(fields, "idle");
  marks.flaps = read_flaps(fields);
  marks.slips = read_slips(fields);
  marks.flown_by = read_flown_by(fields);
  marks.checklist = read_checklist(fields);
  fields.replace_flag("go_around_forced", marks.go_around_forced);
  fields.replace_text("note", marks.note);
  fields.replace_text("marked_by", marks.marked_by);
  return marks;
}

std::vector<AttemptMarks> read_marks(JsonFields& fields) {
  std::vector<AttemptMarks> all;
  fields.expect_schema("glidewright.marks/1");
  for (auto& attempt_fields : fields.objects("attempts")) {
    all.push_back(read_attempt(attempt_fields));
    attempt_fields.refuse_unknown_fields();
    const int attempt = all.back().attempt;
    if (std::count_if(all.begin(), all.end(), [&](const auto& one) { return one.attempt == attempt; }) > 1)
      attempt_fields.add_problem("attempt", fmt::format("attempt {} is marked twice", attempt));
  }
  return all;
}

Json moment_to_json(const MarkedMoment& moment) {
  if (moment.time_unix_s) return {{"time", iso8601_utc(*moment.time_unix_s, 1)}};
  return {{"after_abeam_s", number(moment.after_abeam_s, 1)}};
}

}  // namespace

Result<std::vector<AttemptMarks>> read_marks_json(std::string_view bytes, std::string_view name) {
  return read_json_object(bytes, name, read_marks);
}

Result<AttemptMarks> read_seen_text(std::string_view text) {
  const auto colon = text.find(':');
  const auto tilde = text.find('~');
  const auto place_end = tilde == std::string_view::npos ? text.size() : tilde;
  AttemptMarks marks;
  const auto wrong = [&] {
    return Error{fmt::format(
        "touchdown seen '{}'; expected attempt:feet such as 2:+120, or 2:-40~30 with how sure in ft",
        shown(text))};
  };
  if (colon == std::string_view::npos || colon > place_end) return wrong();
  const auto attempt = read_number(text.substr(0, colon));
  const auto along_ft = read_number(text.substr(colon + 1, place_end - colon - 1));
  if (!attempt || *attempt < k_attempt.low || *attempt > k_attempt.high || !along_ft ||
      *along_ft < k_along_ft.low || *along_ft > k_along_ft.high)
    return wrong();
  marks.attempt = static_cast<int>(*attempt);
  if (marks.attempt != *attempt) return wrong();
  marks.touchdown_seen = SeenPlace{*along_ft};
  if (tilde != std::string_view::npos) {
    const auto sd_ft = read_number(text.substr(tilde + 1));
    if (!sd_ft || *sd_ft < k_seen_sd_ft.low || *sd_ft > k_seen_sd_ft.high) return wrong();
    marks.touchdown_seen->sd_ft = *sd_ft;
  }
  return marks;
}

Result<std::vector<AttemptMarks>> joined(std::vector<AttemptMarks> marks,
                                         const std::vector<AttemptMarks>& more) {
  for (const AttemptMarks& one : more) {
    const auto there = std::find_if(marks.begin(), marks.end(),
                                    [&](const AttemptMarks& other) { return other.attempt == one.attempt; });
    if (there == marks.end()) {
      marks.push_back(one);
    } else if (there->touchdown_seen) {
      return Error{fmt::format("the touchdown of attempt {} is given twice", one.attempt)};
    } else {
      there->touchdown_seen = one.touchdown_seen;
    }
  }
  return marks;
}

Json marks_to_json(const AttemptMarks& marks) {
  Json object = Json::object();
  if (marks.touchdown_seen) {
    object["touchdown_ft"] = number(marks.touchdown_seen->along_ft, 0);
    object["touchdown_sd_ft"] = number(marks.touchdown_seen->sd_ft, 0);
  }
  if (marks.touchdown_at) {
    object["touchdown_at"] = moment_to_json(marks.touchdown_at->at);
    object["touchdown_at"]["sd_s"] = number(marks.touchdown_at->sd_s, 2);
  }
  if (marks.idle) object["idle"] = moment_to_json(*marks.idle);
  if (marks.flaps) {
    object["flaps"] = Json::array();
    for (const MarkedFlap& flap : *marks.flaps) {
      Json one = moment_to_json(flap.at);
      one["setting_deg"] = number(flap.setting_deg, 0);
      object["flaps"].push_back(std::move(one));
    }
  }
  if (marks.slips) {
    object["slips"] = Json::array();
    for (const MarkedSlip& slip : *marks.slips)
      object["slips"].push_back({{"in", moment_to_json(slip.in)}, {"out", moment_to_json(slip.out)}});
  }
  if (marks.flown_by) object["flown_by"] = flown_by_name(*marks.flown_by);
  if (Json ticks = checklist_to_json(marks.checklist); !ticks.empty()) object["checklist"] = std::move(ticks);
  if (marks.go_around_forced) object["go_around_forced"] = true;
  if (!marks.note.empty()) object["note"] = marks.note;
  if (!marks.marked_by.empty()) object["marked_by"] = marks.marked_by;
  return object;
}

}  // namespace glidewright
