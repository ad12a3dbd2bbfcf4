// SPDX-License-Identifier: Apache-2.0
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/error.h"
#include "draw/disc_drawing.h"
#include "draw/drawing_pdf.h"
#include "draw/made_disc.h"
#include "draw/pack_pdf.h"

namespace combwright::draw {
namespace {

using testing::EndsWith;
using testing::HasSubstr;
using testing::StartsWith;

std::string pack_of(const draw_test::MadeDisc& made, const box::Shop& shop = {}) {
  return write_pack_pdf(made.box, shop, {}, nullptr, made.arrangement, made.disc, made.stamp);
}

TEST(Pdf, IsTheSameBytesForTheSameInput) {
  const auto made = draw_test::made_disc();
  const auto drawing = draw_disc(made.box, made.disc);
  EXPECT_TRUE(pack_of(made) == pack_of(made));
  EXPECT_TRUE(write_drawing_pdf(drawing, made.stamp) == write_drawing_pdf(drawing, made.stamp));
  EXPECT_TRUE(write_tiled_pdf(drawing, {}, made.stamp) == write_tiled_pdf(drawing, {}, made.stamp));
}

// Whether the document information holds a date of making, and that one. ISO 32000 7.9.4 wants the
// prefix "D:", which some versions of the PDF library leave out.
bool is_dated(const std::string& pdf, const std::string& date) {
  return pdf.find("/CreationDate (" + date) != std::string::npos ||
         pdf.find("/CreationDate (D:" + date) != std::string::npos;
}

TEST(Pdf, BearsTheDateOfThePlanAndNoOther) {
  auto made = draw_test::made_disc({.notes = 10});
  EXPECT_TRUE(is_dated(pack_of(made), "20240517"));
  made.stamp.date = "some day";
  EXPECT_FALSE(is_dated(pack_of(made), ""));
}

TEST(Pdf, DrawsAPackOnA5) {
  box::Shop shop;
  shop.paper = {"A5", 0.148, 0.210, 0.010};
  EXPECT_THAT(pack_of(draw_test::made_disc(), shop), StartsWith("%PDF-"));
}

TEST(Pdf, RefusesPaperThatIsTooSmallForAPack) {
  box::Shop shop;
  shop.paper = {"card", 0.105, 0.148, 0.005};
  try {
    pack_of(draw_test::made_disc(), shop);
    FAIL();
  } catch (const Error& error) {
    EXPECT_STREQ(error.what(),
                 "paper \"card\" is too small for the pack; take A5 upright or larger");
  }
}

TEST(Pdf, DrawsAPackOfNothing) {
  auto made = draw_test::made_disc();
  made.disc.projections.clear();
  made.arrangement.notes.clear();
  made.arrangement.plucks.clear();
  made.arrangement.tracks.clear();
  made.arrangement.title.clear();
  made.stamp = {};
  EXPECT_THAT(pack_of(made), EndsWith("%%EOF\n"));
}

TEST(Pdf, SummarisesManyReasonsInAFewPages) {
  auto made = draw_test::made_disc({.notes = 2000});
  for (auto& note : made.arrangement.notes) {
    note.fate = arrange::Fate::dropped;
    note.why = "reason " + std::to_string(note.index);
  }
  EXPECT_LT(pack_of(made).size(), 400'000U);
}

// The same bytes as a title that has the dash already.
TEST(Pdf, PrintsTwoHyphensOfATitleAsADash) {
  const auto typed = draw_test::made_disc({.title = "A -- B", .notes = 10});
  const auto set = draw_test::made_disc({.title = "A \u2013 B", .notes = 10});
  EXPECT_TRUE(pack_of(typed) == pack_of(set));
  const auto typed_drawing = draw_disc(typed.box, typed.disc);
  const auto set_drawing = draw_disc(set.box, set.disc);
  EXPECT_EQ(typed_drawing.title, "A -- B - Salon 76");
  EXPECT_TRUE(write_drawing_pdf(typed_drawing, typed.stamp) ==
              write_drawing_pdf(set_drawing, set.stamp));
  EXPECT_TRUE(write_tiled_pdf(typed_drawing, {}, typed.stamp) ==
              write_tiled_pdf(set_drawing, {}, set.stamp));
}

}  // namespace
}  // namespace combwright::draw
