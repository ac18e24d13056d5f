#include "formats/report/card.hpp"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "engine/plan/taught.hpp"
#include "formats/airplane_json.hpp"
#include "formats/words/numbers.hpp"
#include "formats/words/sentences.hpp"
#include "formats/xml_pull.hpp"
#include "tests/formats/test_files.hpp"
#include "tests/where.hpp"

namespace glidewright {
namespace {

using testing::HasSubstr;
using testing::Not;

/// The demonstration's airplane on a level field at 80 ft, landing north.
Brief planned(double headwind_kt) {
  Brief brief;
  const auto bytes = bytes_of(std::filesystem::path(where::data()) / "airplanes/demo-trainer.json");
  brief.runway.designator = "36";
  brief.runway.length = Feet{4000.0};
  PlanRequest& request = brief.request;
  request.airplane = fit_airplane(*read_airplane_json(bytes, "demo-trainer.json"));
  request.conditions.weight_lb = 2300.0;
  request.conditions.wind.at_10m =
      headwind_kt >= 0.0 ? Wind{Degrees{0.0}, Knots{headwind_kt}} : Wind{Degrees{180.0}, Knots{-headwind_kt}};
  request.technique = taught_technique(request.airplane, 2300.0, 0.0);
  request.elevation_ft = 80.0;
  request.runway_end_along_ft = 3000.0;
  brief.answer = make_plan(request);
  return brief;
}

bool well_formed(const std::string& page) {
  XmlPull xml(page);
  for (;;) {
    const auto event = xml.next();
    if (event == XmlPull::Event::error) ADD_FAILURE() << xml.error() << " at byte " << xml.offset();
    if (event == XmlPull::Event::error || event == XmlPull::Event::end_of_document)
      return event == XmlPull::Event::end_of_document;
  }
}

TEST(Card, PrintsTheRoomOfNineInTenAboveTheGateAndNoneAtIt) {
  Brief brief = planned(8.0);
  ASSERT_TRUE(brief.answer.plan);
  EXPECT_THAT(plan_card_html(brief, {}), Not(HasSubstr("In reach:")));
  brief.band = band_of_plan(brief.request, brief.answer.plan->nominal);
  const std::string page = plan_card_html(brief, {});
  EXPECT_TRUE(well_formed(page));
  EXPECT_THAT(page, HasSubstr("In reach:"));
  const auto abeam = sure_room_at(brief, "abeam");
  ASSERT_TRUE(abeam);
  EXPECT_THAT(page, HasSubstr("<td class=\"room\">" + feet(abeam->lowest_ft) + "–" + feet(abeam->by_slip_ft) +
                              "</td>"));
  EXPECT_FALSE(sure_room_at(brief, "gate"));
}

TEST(Card, DrawsThePlanAndItsCuesForPaper) {
  Brief brief = planned(8.0);
  ASSERT_TRUE(brief.answer.plan);
  const std::string without_band = plan_card_html(brief, {});
  EXPECT_TRUE(well_formed(without_band));
  EXPECT_THAT(without_band, Not(HasSubstr("<polygon class=\"ribbon")));
  brief.band = band_of_plan(brief.request, brief.answer.plan->nominal);
  const std::string page = plan_card_html(brief, {});
  EXPECT_TRUE(well_formed(page));
  EXPECT_THAT(page, HasSubstr("<polygon class=\"ribbon"));
  // Once over the sketch, besides the large number.
  const std::string seconds = fmt::format("{:.0f} s</text>", brief.answer.plan->cue.seconds_past_abeam);
  EXPECT_THAT(page, HasSubstr(seconds));
  EXPECT_THAT(page, HasSubstr(">" + whole(brief.answer.plan->cue.angle_behind_wing_deg) + "°</text>"));
  Brief mirrored = brief;
  mirrored.request.conditions.traffic = Traffic::right;
  for (Moment& moment : mirrored.answer.plan->nominal.trace) moment.cross_ft = -moment.cross_ft;
  mirrored.answer.plan->nominal.touchdown->cross_ft *= -1.0;
  const auto drawings = [](const std::string& all) {
    return all.substr(all.find("<div class=\"print drawings"));
  };
  EXPECT_EQ(drawings(plan_card_html(mirrored, {})), drawings(page)) << "the pattern is always on top";
  brief.answer.plan.reset();
  EXPECT_THAT(plan_card_html(brief, {}), Not(HasSubstr("<svg")));
}

TEST(Card, PrintsTheRulesThatWereShownToHelpAndNoOther) {
  Brief brief = planned(8.0);
  ASSERT_TRUE(brief.answer.plan);
  brief.answer.plan->rules = {
      {.at = "base turn", .when = "above 990 ft", .rule = "square off base", .gain = 0.1, .gain_low95 = 0.05},
      {.at = "final turn", .when = "below 480 ft", .rule = "unproved here", .gain = 0.1, .gain_low95 = -0.01},
      {.at = "all the way", .when = "always", .rule = "all of the rules", .gain = 0.3, .gain_low95 = 0.2}};
  const std::string page = plan_card_html(brief, {});
  EXPECT_TRUE(well_formed(page));
  EXPECT_THAT(page, HasSubstr("<strong>Base turn above 990 ft</strong>: square off base."));
  EXPECT_THAT(page, Not(HasSubstr("unproved here")));
  EXPECT_THAT(page, Not(HasSubstr("all of the rules")));
}

TEST(Card, SaysWhenToSlipWhereASlipIsTaught) {
  Brief brief = planned(8.0);
  ASSERT_TRUE(brief.answer.plan);
  brief.request.technique.slip_when_high = true;
  const std::string page = plan_card_html(brief, {});
  EXPECT_TRUE(well_formed(page));
  EXPECT_THAT(page, HasSubstr("<p>Slip wings level on final, while you would land beyond "));
  brief.request.technique.slip_when_high = false;
  EXPECT_THAT(plan_card_html(brief, {}), Not(HasSubstr("Slip wings level")));
}

TEST(Card, HasTheSixNumbersAndNeedsNothingElse) {
  const Brief brief = planned(10.0);
  ASSERT_TRUE(brief.answer.plan);
  const Plan& plan = *brief.answer.plan;
  const std::string page = plan_card_html(brief, {});
  EXPECT_TRUE(well_formed(page));
  EXPECT_THAT(page,
              HasSubstr("<b>" + whole(plan.cue.seconds_past_abeam) + " <small>s</small></b>past abeam"));
  EXPECT_THAT(page, HasSubstr("<b>" + whole(plan.cue.angle_behind_wing_deg) + "°</b>behind the wing"));
  EXPECT_THAT(page, HasSubstr("<td>Base turn</td>"));
  EXPECT_THAT(page, HasSubstr("<td>Final turn</td>"));
  EXPECT_THAT(page, HasSubstr("<strong>" + whole(plan.speeds.final_kcas) + " kt</strong> on final"));
  EXPECT_THAT(page,
              HasSubstr("<td>Gate</td><td>" + feet(280.0) + "</td><td>200</td><td class=\"room\"></td>"));
  EXPECT_THAT(page, HasSubstr(safety_sentence()));
  for (const char* outside : {"http", "src=", "<script", "<link", "url("})
    EXPECT_THAT(page, Not(HasSubstr(outside))) << outside;
  EXPECT_EQ(page, plan_card_html(brief, {}));
}

TEST(Card, WithoutAPlanItSaysWhyAndOffersNoNumber) {
  const Brief brief = planned(-9.0);
  ASSERT_FALSE(brief.answer.plan);
  const std::string page = plan_card_html(brief, {});
  EXPECT_TRUE(well_formed(page));
  EXPECT_THAT(page, HasSubstr("No plan is offered"));
  EXPECT_THAT(page, Not(HasSubstr("past abeam")));
}

}  // namespace
}  // namespace glidewright
