#include "formats/progress_json.hpp"

namespace glidewright {
namespace {

Json share_to_json(const Share& share) {
  return {{"made", number(share.made, 2)}, {"of", share.of}};
}

Json groups_to_json(const std::vector<GroupShare>& groups) {
  Json list = Json::array();
  for (const GroupShare& one : groups)
    list.push_back({{"group", one.group},
                    {"met", share_to_json(one.met)},
                    {"low90", number(one.low90, 3)},
                    {"high90", number(one.high90, 3)}});
  return list;
}

}  // namespace

Json progress_to_json(const StudentProgress& progress) {
  Json object;
  object["causes"] = Json::array();
  for (const CauseOverTime& one : progress.causes)
    object["causes"].push_back({{"cause", one.cause},
                                {"attempts", one.attempts},
                                {"mean_ft", number(one.mean_ft, 0)},
                                {"low90_ft", number(one.low90_ft, 0)},
                                {"high90_ft", number(one.high90_ft, 0)},
                                {"spread_ft", number(one.spread_ft, 0)}});
  object["learning"] = nullptr;
  if (progress.learning)
    object["learning"] = {{"earlier", share_to_json(progress.learning->earlier)},
                          {"later", share_to_json(progress.learning->later)},
                          {"probability_better", number(progress.learning->probability_better, 3)}};
  object["by_wind"] = groups_to_json(progress.by_wind);
  object["by_airplane"] = groups_to_json(progress.by_airplane);
  object["by_instructor"] = groups_to_json(progress.by_instructor);
  object["practise"] = Json::array();
  for (const Practice& one : progress.practise)
    object["practise"].push_back({{"what", one.what}, {"reason", one.reason}});
  return object;
}

}  // namespace glidewright
