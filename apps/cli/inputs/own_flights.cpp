#include "apps/cli/inputs/own_flights.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "apps/cli/inputs/fleet.hpp"
#include "apps/cli/inputs/standards.hpp"
#include "apps/cli/inputs/working_folder.hpp"
#include "apps/cli/words/brief_text.hpp"
#include "engine/lanes/philox.hpp"
#include "formats/file.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

std::string attempts_words(int count) {
  return fmt::format("{} {}", count, count == 1 ? "attempt" : "attempts");
}

/// Runways of the records by what a debrief calls them.
Result<std::map<std::string, Runway>> runways_of(Records& records) {
  const auto fleet = records.whole_fleet();
  if (!fleet) return fleet.error();
  std::map<std::string, Runway> found;
  for (const FleetItem& one : *fleet) {
    if (one.kind != FleetKind::airfield || one.in_trash) continue;
    for (const Json& each : Json::parse(one.versions.back().content)) {
      const auto runway = runway_of(one, each.at("designator").get<std::string>());
      if (!runway) return runway.error();
      found[runway_name(*runway)] = *runway;
    }
  }
  return found;
}

/// Draws moments from the attempts of a student, each log debriefed once.
class Drawing {
 public:
  Drawing(Records& records, const OwnDrillAsked& asked, const StandardInForce& standard,
          std::map<std::string, Runway> runways)
      : records_(records), asked_(asked), standard_(standard), runways_(std::move(runways)) {}

  /// In an order that the seed decides, until there are enough.
  Result<OwnDrill> draw(std::vector<FiledAttempt> attempts) {
    OwnDrill drill;
    drill.seed = asked_.seed;
    std::erase_if(attempts, [](const FiledAttempt& one) { return one.in_trash; });
    shuffle(attempts, asked_.seed);
    for (const FiledAttempt& attempt : attempts) {
      if (drill.asked.size() == asked_.count) break;
      if (const auto failed = add(attempt, drill)) return *failed;
    }
    return drill;
  }

 private:
  static void shuffle(std::vector<FiledAttempt>& attempts, std::uint64_t seed) {
    const auto place = [&](const FiledAttempt& one) {
      return words_of_flight(seed, static_cast<std::uint64_t>(one.number), 0).word[0];
    };
    std::stable_sort(attempts.begin(), attempts.end(),
                     [&](const FiledAttempt& a, const FiledAttempt& b) { return place(a) < place(b); });
  }

  std::optional<Error> add(const FiledAttempt& attempt, OwnDrill& drill) {
    const Assessment* now = newest_by(attempt, standard_);
    if (now == nullptr) {
      ++drill.left_out["judged by another standard"];
      return std::nullopt;
    }
    const auto log = debriefed(attempt, now->circumstances);
    if (!log) return log.error();
    if (*log == nullptr) {
      ++drill.left_out["the log can no longer be debriefed"];
      return std::nullopt;
    }
    const Debrief& debrief = (*log)->debrief;
    const auto same =
        std::find_if(debrief.attempts.begin(), debrief.attempts.end(),
                     [&](const AttemptDebrief& one) { return one.attempt.index == attempt.index; });
    if (same == debrief.attempts.end()) {
      ++drill.left_out["no longer found in its log"];
      return std::nullopt;
    }
    auto answer =
        own_moment(*same, debrief, now->said.in_box, drill.seed, static_cast<int>(drill.asked.size()) + 1);
    if (!answer.moment) {
      ++drill.left_out[answer.left_out];
      return std::nullopt;
    }
    drill.asked.push_back({attempt.number, attempt.time_unix_s, attempt.log_name, attempt.index,
                           setting_words(**log), ground_of(debrief, same->attempt.traffic),
                           std::move(*answer.moment)});
    return std::nullopt;
  }

  static std::string setting_words(const DebriefedLog& log) {
    const WindEstimate& wind = log.debrief.wind;
    return fmt::format("own flight, {}, {:03.0f}° {:.0f} kt, {}", runway_name(log.debrief.frame.runway()),
                       wind.from_true_deg, wind.speed_kt, log.airplane_name);
  }

  static OwnGround ground_of(const Debrief& debrief, Traffic traffic) {
    return {
        debrief.frame.runway().designator,  debrief.frame.runway().true_bearing.value, traffic, debrief.box,
        debrief.frame.threshold_along_ft(), debrief.frame.runway_end_along_ft()};
  }

  /// As it was filed: its point and airplane, and its heights as they were told; its runway where the records
  /// have it, else as the log shows it.
  Result<const DebriefedLog*> debriefed(const FiledAttempt& attempt, const Circumstances& how) {
    const std::string key =
        attempt.log_sha256 + how.runway + std::to_string(how.touchdown_point_ft.value_or(0.0));
    if (const auto known = logs_.find(key); known != logs_.end())
      return known->second ? &*known->second : nullptr;
    auto bytes = records_.original(attempt.log_sha256);
    if (!bytes) return bytes.error();
    const auto unit = records_.height_unit_told(*bytes, attempt.log_name);
    if (!unit) return unit.error();
    auto marks = records_.marks_told(attempt.student, *bytes, attempt.log_name);
    if (!marks) return marks.error();
    const WorkingFolder folder;
    const std::string file = folder.file("log");
    if (const auto failed = write_file_atomically(file, *bytes)) return *failed;
    DebriefOptions options = asked_.debrief;
    options.touchdown_point_ft = how.touchdown_point_ft;
    options.height_unit = *unit;
    options.known_marks = std::move(*marks);
    options.known_standard = standard_.standard;
    if (const auto runway = runways_.find(how.runway); runway != runways_.end() && options.runway.empty())
      options.fleet_runway = runway->second;
    if (const auto airplane = find_airplane_of(how)) options.fleet_airplane = *airplane;
    auto log = debrief_log(file, options);
    auto& kept = logs_[key];
    if (log) kept = std::move(*log);
    return kept ? &*kept : nullptr;
  }

  std::optional<AirplaneFile> find_airplane_of(const Circumstances& how) {
    if (how.airplane.empty()) return std::nullopt;
    if (!how.fleet_airplane.empty())
      if (auto known = find_fleet_airplane(records_, how.airplane); known && *known) return **known;
    auto file = find_airplane_file(how.airplane);
    return file ? std::optional<AirplaneFile>(std::move(*file)) : std::nullopt;
  }

  Records& records_;
  const OwnDrillAsked& asked_;
  const StandardInForce& standard_;
  std::map<std::string, Runway> runways_;
  std::map<std::string, std::optional<DebriefedLog>> logs_;
};

}  // namespace

std::string own_left_out_words(const OwnDrill& drill) {
  std::string words;
  for (const auto& [reason, count] : drill.left_out)
    words += fmt::format("{}{}: {}", words.empty() ? "" : "; ", attempts_words(count), reason);
  return words.empty() ? words : "Not asked about: " + words + ".";
}

Result<OwnDrill> draw_own_drill(Records& records, long long student, const OwnDrillAsked& as_asked) {
  OwnDrillAsked asked = as_asked;
  const auto standard = standard_to_count_by(records, asked.standard);
  if (!standard) return standard.error();
  if (!standard->standard.box)
    return Error{standard->standard.id + " has no box to land in, so nothing can be asked"};
  const auto known = records.find_student(std::to_string(student));
  if (!known) return known.error();
  const auto attempts = records.attempts_of(student);
  if (!attempts) return attempts.error();
  auto runways = runways_of(records);
  if (!runways) return runways.error();
  if (const auto failed = look_up_in_fleet(records, asked.debrief)) return *failed;
  auto drawn = Drawing(records, asked, *standard, std::move(*runways)).draw(*attempts);
  if (drawn && drawn->asked.empty())
    return Error{fmt::format("{}: none of {} filed can be asked about. {}", known->name,
                             attempts_words(static_cast<int>(attempts->size())), own_left_out_words(*drawn))};
  return drawn;
}

}  // namespace glidewright
