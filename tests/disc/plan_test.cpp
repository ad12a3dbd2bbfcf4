// SPDX-License-Identifier: Apache-2.0
#include "disc/plan.h"

#include <algorithm>
#include <random>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "action/action.h"
#include "base/error.h"
#include "disc/layout.h"
#include "disc/recover.h"
#include "disc/sample_box.h"

namespace combwright::disc {
namespace {

using ::testing::HasSubstr;
using Json = nlohmann::json;

Plan sample_plan(box::Turning turning = box::Turning::clockwise, std::size_t plucks = 40) {
  Plan plan;
  plan.box = testing::sample_box(turning);
  plan.disc = lay_out(plan.box, testing::random_arrangement(plan.box, plucks, 9), {},
                      {.seed = 1, .effort = 5});
  plan.disc.title = "\"Tune\"\n\u00e9\u4e2d";
  plan.disc.findings.push_back(
      {Level::warning, "track 2", "something", "look", {.track = 2, .hits = {3, 1}}});
  plan.date = "2024-05-31";
  plan.box_sha256 = "aa";
  plan.tune_sha256 = "bb";
  plan.arrangement_findings = {{Level::note, "bar 3", "a chord is spread", "", {.notes = {0, 4}}}};
  plan.files = {{"disc.dxf", "the disc for CAD"}};
  return plan;
}

std::string message_of(const std::string& json) {
  try {
    read_plan(json, "plan.json");
  } catch (const Error& error) {
    return error.what();
  }
  return "no error";
}

Json sample_json() {
  return Json::parse(write_plan(sample_plan()));
}

// The keys and meanings that interface.md fixes, read by a JSON library and checked against the
// disc.
TEST(Plan, HoldsWhatTheDiscCommandAnswers) {
  const Plan plan = sample_plan();
  const Json json = Json::parse(write_plan(plan));
  EXPECT_EQ(json["box"], "sample");
  EXPECT_EQ(json["tune"], plan.disc.title);
  EXPECT_EQ(json["date"], "2024-05-31");
  EXPECT_EQ(json["checksums"]["box_sha256"], "aa");
  EXPECT_EQ(json["checksums"]["tune_sha256"], "bb");
  EXPECT_EQ(json["turn_time_s"], 66.0);
  EXPECT_EQ(json["outer_radius_m"], plan.disc.outer_radius_m);
  EXPECT_EQ(json["tour"]["length_s"], plan.disc.tour.length_s);
  EXPECT_EQ(json["tour"]["bound_s"], plan.disc.tour.bound_s);
  EXPECT_EQ(json["files"], Json::parse(R"([{"path":"disc.dxf","for":"the disc for CAD"}])"));
  EXPECT_EQ(json["findings"].back(),
            Json::parse(R"({"level":"warning","where":"track 2","what":"something","do":"look",
                            "at":{"track":2,"hits":[3,1]}})"));
  EXPECT_EQ(json["arrangement_findings"].front()["at"], Json::parse(R"({"notes":[0,4]})"));
  ASSERT_EQ(json["projections"].size(), plan.disc.projections.size());
  for (std::size_t i = 0; i < plan.disc.projections.size(); ++i) {
    const Json& projection = json["projections"][i];
    EXPECT_EQ(projection["track"], plan.disc.projections[i].track);
    EXPECT_EQ(projection["radius_m"], plan.disc.projections[i].radius_m);
    EXPECT_EQ(projection["angle_rad"], plan.disc.projections[i].angle_rad);
    EXPECT_EQ(projection["time_s"], plan.disc.projections[i].time_s);
  }
  EXPECT_EQ(json["tracks"][5]["release_arc_m"], action::action(plan.box, 66.0)[5].release_arc_m);
}

TEST(Plan, ReadBackIsTheSameToTheLastBit) {
  for (const auto turning : {box::Turning::clockwise, box::Turning::counter_clockwise}) {
    const Plan plan = sample_plan(turning);
    const Plan read = read_plan(write_plan(plan), "plan.json");
    EXPECT_EQ(read.disc.title, plan.disc.title);
    ASSERT_EQ(read.disc.projections.size(), plan.disc.projections.size());
    for (std::size_t i = 0; i < plan.disc.projections.size(); ++i) {
      EXPECT_EQ(read.disc.projections[i].angle_rad, plan.disc.projections[i].angle_rad);
      EXPECT_EQ(read.disc.projections[i].time_s, plan.disc.projections[i].time_s);
    }
    EXPECT_EQ(write_plan(read), write_plan(plan));
  }
}

bool says_changed(const Plan& plan) {
  return std::any_of(plan.arrangement_findings.begin(), plan.arrangement_findings.end(),
                     [](const Finding& finding) {
                       return finding.where == "plan" && finding.level == Level::warning;
                     });
}

TEST(Plan, OneThatWasChangedByHandSaysSoAndKeepsSayingSo) {
  Json json = sample_json();
  EXPECT_FALSE(says_changed(read_plan(json.dump(), "plan.json")));
  json["projections"].erase(3);
  const Plan changed = read_plan(json.dump(), "plan.json");
  EXPECT_TRUE(says_changed(changed));
  EXPECT_TRUE(says_changed(read_plan(write_plan(changed), "plan.json")));
}

TEST(Plan, FindingsTourAndFilesAreNoPartOfItsChecksum) {
  Json json = sample_json();
  json["findings"] = Json::array();
  json["files"] = Json::array();
  json["tour"]["length_s"] = 1.0;
  std::reverse(json["projections"].begin(), json["projections"].end());
  EXPECT_FALSE(says_changed(read_plan(json.dump(), "plan.json")));
}

TEST(Plan, FinishedAnewIsTheSameWhateverOrderTourAndFindingsItHad) {
  const Plan plan = sample_plan();
  const TourOptions options{.seed = 1, .effort = 5};
  const Disc disc = finish(plan.box, plan.disc, {}, options);
  Disc changed = plan.disc;
  std::reverse(changed.projections.begin(), changed.projections.end());
  changed.tour = {.length_s = 1.0, .bound_s = 0.5};
  changed.findings.clear();
  const Disc again = finish(plan.box, changed, {}, options);
  EXPECT_EQ(again.tour.length_s, disc.tour.length_s);
  EXPECT_EQ(again.findings.size(), disc.findings.size());
  ASSERT_EQ(again.projections.size(), disc.projections.size());
  for (std::size_t i = 0; i < disc.projections.size(); ++i)
    EXPECT_EQ(again.projections[i].note, disc.projections[i].note);
}

TEST(Plan, ReadBackCanBeCheckedAndPlayed) {
  const Plan plan = read_plan(write_plan(sample_plan()), "plan.json");
  EXPECT_EQ(recover_plucks(plan.box, plan.disc.projections, plan.disc.turn_time_s).size(), 40U);
}

TEST(Plan, UnknownKeysArePassedOver) {
  Json json = sample_json();
  json["later"] = {{"more", 1}};
  json["projections"][0]["colour"] = "red";
  EXPECT_EQ(message_of(json.dump()), "no error");
}

TEST(Plan, TextThatIsNotJsonIsRefusedWithLineAndColumn) {
  EXPECT_EQ(message_of("{\n  \"box\": ?\n}"),
            "plan.json:2:10: this is not JSON; a plan written by `disc` is");
  EXPECT_THAT(message_of(""), HasSubstr("plan.json:1:1: this is not JSON"));
  EXPECT_THAT(message_of("{\"box\": \"\xff\"}"), HasSubstr("plan.json:1:"));
}

TEST(Plan, FaultyValueIsRefusedWithItsKey) {
  Json json = sample_json();
  json["projections"][3]["angle_rad"] = 7.0;
  EXPECT_EQ(message_of(json.dump()),
            "plan.json: \"projections[3].angle_rad\" is not right; a number from 0 to "
            "6.283185307179585 would do");
  json = sample_json();
  json["projections"][3].erase("track");
  EXPECT_EQ(message_of(json.dump()),
            "plan.json: \"projections[3].track\" is missing; a plan must have it");
  json = sample_json();
  json["turn_time_s"] = "66 s";
  EXPECT_EQ(message_of(json.dump()),
            "plan.json: \"turn_time_s\" is not right; a number from 1 to 3600 would do");
  json = sample_json();
  json["outer_radius_m"] = 0.3;
  EXPECT_EQ(
      message_of(json.dump()),
      "plan.json: \"outer_radius_m\" is not half of geometry.disc.diameter_m; 0.215 would do");
  json = sample_json();
  json["geometry"]["disc"]["turning"] = "left";
  EXPECT_EQ(message_of(json.dump()),
            "plan.json: \"geometry.disc.turning\" is not known; clockwise or counter-clockwise "
            "would do");
  json = sample_json();
  json["geometry"]["star_wheel"]["axis_below_disc_m"] = 0.5;
  EXPECT_THAT(message_of(json.dump()), HasSubstr("out of the projections' reach"));
}

TEST(Plan, ProjectionThatContradictsItselfIsRefused) {
  Json json = sample_json();
  json["projections"][0]["time_s"] = json["projections"][0]["time_s"].get<double>() + 0.01;
  EXPECT_THAT(message_of(json.dump()),
              HasSubstr("\"projections[0].angle_rad\" does not agree with time_s"));
  json = sample_json();
  json["projections"][0]["radius_m"] = 0.1234;
  EXPECT_THAT(message_of(json.dump()),
              HasSubstr("\"projections[0].radius_m\" is not that of track"));
}

TEST(Plan, NumbersBeyondADoubleDeepNestsAndFloodsAreRefused) {
  EXPECT_NE(message_of("{\"box\": 1e999}"), "no error");
  EXPECT_THAT(message_of(std::string(200'000, '[')), HasSubstr("too deep or too large"));
  std::string flood = "[0";
  for (std::size_t i = 0; i < 20 * max_plan_projections; ++i) flood += ",0";
  EXPECT_THAT(message_of(flood + "]"), HasSubstr("too deep or too large"));
  EXPECT_THAT(message_of(std::string(max_plan_bytes + 1, ' ')), HasSubstr("too many for a plan"));
}

TEST(Plan, EveryCutPlanIsRefusedInOrder) {
  const std::string whole = write_plan(sample_plan(box::Turning::clockwise, 2));
  const std::size_t last_brace = whole.rfind('}');
  for (std::size_t length = 0; length <= last_brace; length += 7) {
    EXPECT_THAT(message_of(whole.substr(0, length)), HasSubstr("plan.json")) << length;
  }
}

TEST(Plan, DamagedPlanIsReadOrRefusedAndNeverWorse) {
  const std::string whole = write_plan(sample_plan(box::Turning::clockwise, 3));
  std::mt19937_64 random(23);
  for (int trial = 0; trial < 2000; ++trial) {
    std::string damaged = whole;
    for (int i = 0; i < 3; ++i) {
      const std::string_view marks = "0123456789-+eE.,:[]{}\" ";
      damaged[random() % damaged.size()] = marks[random() % marks.size()];
    }
    try {
      const Plan plan = read_plan(damaged, "plan.json");
      EXPECT_EQ(write_plan(read_plan(write_plan(plan), "again")), write_plan(plan));
    } catch (const Error& error) {
      EXPECT_THAT(error.what(), HasSubstr("plan.json"));
    }
  }
}

}  // namespace
}  // namespace combwright::disc
