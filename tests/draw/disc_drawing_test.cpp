// SPDX-License-Identifier: Apache-2.0
#include "draw/disc_drawing.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "draw/free_space.h"
#include "draw/made_disc.h"

namespace combwright::draw {
namespace {

template <typename S>
std::vector<S> shapes_on(const Drawing& drawing, Layer layer) {
  std::vector<S> found;
  for (const auto& item : drawing.items) {
    if (const auto* shape = std::get_if<S>(&item.shape); shape && item.layer == layer) {
      found.push_back(*shape);
    }
  }
  return found;
}

// True if a corner of the rectangle lies in the box, or the other way round: enough for texts that
// are larger than projections.
bool touches(const Box2& box, const Polyline& rectangle) {
  return std::any_of(rectangle.points.begin(), rectangle.points.end(), [&box](Point at) {
    return Box2{at, at}.overlaps(box);
  });
}

std::vector<std::string> texts_of(const Drawing& drawing) {
  std::vector<std::string> texts;
  for (const auto& text : shapes_on<Text>(drawing, Layer::text)) texts.push_back(text.text);
  return texts;
}

class DiscDrawing : public testing::TestWithParam<box::Turning> {
 protected:
  draw_test::MadeDisc made_ = draw_test::made_disc({.turning = GetParam()});
  Drawing drawing_ = draw_disc(made_.box, made_.disc);
};

TEST_P(DiscDrawing, HasOneOutlineAndOneAxisPointForEachHitInTheOrderOfTheTour) {
  const auto outlines = shapes_on<Polyline>(drawing_, Layer::projections);
  const auto axes = shapes_on<Dot>(drawing_, Layer::axes);
  ASSERT_EQ(outlines.size(), made_.disc.projections.size());
  ASSERT_EQ(axes.size(), made_.disc.projections.size());
  for (std::size_t i = 0; i < axes.size(); ++i) {
    const auto& hit = made_.disc.projections[i];
    EXPECT_EQ(axes[i].at, polar(hit.radius_m, hit.angle_rad));
    const auto& corners = outlines[i].points;
    EXPECT_TRUE(outlines[i].closed);
    EXPECT_LE(std::abs(corners[0].x + corners[1].x - 2 * axes[i].at.x), 2);
    EXPECT_LE(std::abs(corners[0].y + corners[1].y - 2 * axes[i].at.y), 2);
  }
}

TEST_P(DiscDrawing, LetsTheProjectionTrailItsLeadingEdge) {
  const double sense = GetParam() == box::Turning::clockwise ? 1.0 : -1.0;
  for (const auto& outline : shapes_on<Polyline>(drawing_, Layer::projections)) {
    const auto& lead = outline.points[0];
    const auto& trail = outline.points[3];
    const auto cross = static_cast<double>(lead.x) * static_cast<double>(trail.y) -
                       static_cast<double>(lead.y) * static_cast<double>(trail.x);
    EXPECT_GT(sense * cross, 0.0);
  }
}

TEST_P(DiscDrawing, PointsTheArrowTheWayTheDiscTurns) {
  const auto marks = shapes_on<Polyline>(drawing_, Layer::marks);
  ASSERT_EQ(marks.size(), 2U);
  const auto begin = marks[0].points.front();
  const auto end = marks[0].points.back();
  // Over the middle of the disc, clockwise is from left to right.
  EXPECT_GT(begin.y, 0);
  EXPECT_EQ(end.x > begin.x, GetParam() == box::Turning::clockwise);
}

// True if a line of the marks goes through the point and past it on both sides in that direction.
bool crossed(const Drawing& drawing, Point at, double angle_rad, double reach) {
  const auto lines = shapes_on<Line>(drawing, Layer::marks);
  return std::any_of(lines.begin(), lines.end(), [&](const Line& line) {
    const auto dx = static_cast<double>(line.to.x - line.from.x);
    const auto dy = static_cast<double>(line.to.y - line.from.y);
    const bool through = std::abs(line.from.x + line.to.x - 2 * at.x) <= 2 &&
                         std::abs(line.from.y + line.to.y - 2 * at.y) <= 2;
    const double across = std::abs(dx * std::sin(angle_rad) - dy * std::cos(angle_rad));
    return through && across <= 4.0 && std::hypot(dx, dy) > 2.0 * reach;
  });
}

TEST_P(DiscDrawing, MarksTheMiddleOfEveryHoleByCrossHairsThatReachPastIt) {
  const auto holes = shapes_on<Circle>(drawing_, Layer::holes);
  ASSERT_EQ(holes.size(), 5U);
  for (std::size_t i = 0; i < holes.size(); ++i) {
    const auto& [centre, radius] = holes[i];
    const double angle =
        i == 0 ? 0.0 : std::atan2(static_cast<double>(centre.y), static_cast<double>(centre.x));
    const auto reach = static_cast<double>(radius) + 10'000.0;
    EXPECT_TRUE(crossed(drawing_, centre, angle, reach)) << i;
    EXPECT_TRUE(crossed(drawing_, centre, angle + std::numbers::pi / 2.0, reach)) << i;
  }
}

TEST_P(DiscDrawing, DrawsTheStartLineThroughFromTheCentreHoleToTheEdge) {
  std::int64_t reached = shapes_on<Circle>(drawing_, Layer::holes).front().radius;
  std::int64_t furthest = 0;
  for (const auto& [from, to] : shapes_on<Line>(drawing_, Layer::marks)) {
    if (from.y != 0 || to.y != 0) continue;
    EXPECT_LE(std::min(from.x, to.x), reached);  // no gap behind the last one
    reached = furthest = std::max({furthest, from.x, to.x});
  }
  EXPECT_EQ(furthest, shapes_on<Circle>(drawing_, Layer::edge).front().radius);
}

TEST_P(DiscDrawing, PutsNoTextOnAHoleAMarkOrAProjection) {
  const auto texts = shapes_on<Text>(drawing_, Layer::text);
  ASSERT_GE(texts.size(), 4U);
  for (std::size_t i = 0; i < texts.size(); ++i) {
    const auto box = bounds(texts[i]);
    for (const auto& hole : shapes_on<Circle>(drawing_, Layer::holes)) {
      EXPECT_FALSE(overlaps(box, hole)) << texts[i].text;
    }
    for (const auto& outline : shapes_on<Polyline>(drawing_, Layer::projections)) {
      EXPECT_FALSE(touches(box, outline)) << texts[i].text;
    }
    for (const auto& mark : shapes_on<Polyline>(drawing_, Layer::marks)) {
      EXPECT_FALSE(touches(box, mark)) << texts[i].text;
    }
    for (const auto& line : shapes_on<Line>(drawing_, Layer::marks)) {
      EXPECT_FALSE(bounds(line).overlaps(box)) << texts[i].text;
    }
    for (std::size_t j = 0; j < i; ++j) EXPECT_FALSE(bounds(texts[j]).overlaps(box));
  }
}

TEST_P(DiscDrawing, NamesTuneBoxTurnAndSideAndNumbersTheTracks) {
  EXPECT_THAT(texts_of(drawing_), testing::IsSupersetOf({"Greensleeves", "Salon 76", "5", "10",
                                                         "75", "66 s a turn", "punch side"}));
}

TEST_P(DiscDrawing, KeepsInsideTheEdge) {
  const auto edge = shapes_on<Circle>(drawing_, Layer::edge);
  ASSERT_EQ(edge.size(), 1U);
  for (const auto& item : drawing_.items) {
    if (item.layer == Layer::edge) continue;
    const auto [low, high] = bounds(item.shape);
    EXPECT_LE(std::hypot(std::max(std::abs(low.x), std::abs(high.x)),
                         std::max(std::abs(low.y), std::abs(high.y))),
              1.01 * static_cast<double>(edge[0].radius));
  }
}

INSTANTIATE_TEST_SUITE_P(BothWays, DiscDrawing,
                         testing::Values(box::Turning::clockwise, box::Turning::counter_clockwise),
                         [](const auto& turning) {
                           return turning.param == box::Turning::clockwise ? "Clockwise"
                                                                           : "CounterClockwise";
                         });

TEST(FreeSpace, ShortensATextThatIsTooLongAndLeavesOutWhatHasNoRoom) {
  const std::string text = "a name that is much too long for so small a disc";
  const auto fitted = fit_texts({text}, {{}, 250'000}, {{{}, 20'000}});
  ASSERT_EQ(fitted.size(), 1U);
  EXPECT_LT(fitted[0].text.size(), text.size());
  EXPECT_TRUE(fit_texts({text}, {{}, 20'000}, {{{}, 19'000}}).empty());
}

TEST(DiscDrawingOfAnEmptyDisc, HasAnEdgeAndNoProjection) {
  auto made = draw_test::made_disc();
  made.disc.projections.clear();
  const auto drawing = draw_disc(made.box, made.disc);
  EXPECT_EQ(shapes_on<Circle>(drawing, Layer::edge).size(), 1U);
  EXPECT_TRUE(shapes_on<Polyline>(drawing, Layer::projections).empty());
}

}  // namespace
}  // namespace combwright::draw
