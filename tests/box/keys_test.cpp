// SPDX-License-Identifier: Apache-2.0
#include "box/keys.h"

#include <set>

#include <gtest/gtest.h>

#include "box/box_keys.h"
#include "box/key_reader.h"
#include "box/shop_keys.h"

namespace combwright::box {
namespace {

template <typename T>
class Table : public testing::Test {};

struct BoxTable {
  static const Schema<Box>& schema() { return box_schema(); }
};
struct ShopTable {
  static const Schema<Shop>& schema() { return shop_schema(); }
};
using Tables = testing::Types<BoxTable, ShopTable>;
TYPED_TEST_SUITE(Table, Tables);

TYPED_TEST(Table, every_key_stands_once_in_a_section_that_exists) {
  std::set<std::string_view> sections{""};
  for (const SectionInfo& section : TypeParam::schema().sections)
    EXPECT_TRUE(sections.insert(section.name).second) << section.name;
  std::set<std::string> names;
  for (const auto& key : TypeParam::schema().keys) {
    EXPECT_TRUE(names.insert(full_name(key.info)).second) << full_name(key.info);
    EXPECT_EQ(sections.count(key.info.section), 1U) << full_name(key.info);
  }
}

TYPED_TEST(Table, every_number_has_bounds_and_every_quantity_reads_its_own) {
  for (const auto& [key, set, derive] : TypeParam::schema().keys) {
    const bool words = key.kind == Kind::text || key.kind == Kind::stroke ||
                       key.kind == Kind::choice || key.kind == Kind::notes;
    EXPECT_EQ(key.least.empty(), words) << full_name(key);
    EXPECT_EQ(key.greatest.empty(), words) << full_name(key);
    if (key.kind != Kind::quantity && key.kind != Kind::quantities) continue;
    const ParsedQuantity least = parse_quantity(key.least, key.dimension);
    const ParsedQuantity greatest = parse_quantity(key.greatest, key.dimension);
    EXPECT_EQ(least.problem + greatest.problem, "") << full_name(key);
    EXPECT_LT(least.si, greatest.si) << full_name(key);
  }
}

TYPED_TEST(Table, every_fallback_lies_within_its_bounds) {
  for (const auto& [key, set, derive] : TypeParam::schema().keys) {
    if (key.absent != Otherwise::fallback) continue;
    EXPECT_EQ(bounds_problem(key, fallback_value(key)), "") << full_name(key);
  }
}

TYPED_TEST(Table, every_key_is_tied_to_the_struct_and_every_derived_one_has_its_rule) {
  for (const auto& [key, set, derive] : TypeParam::schema().keys) {
    EXPECT_NE(set, nullptr) << full_name(key);
    EXPECT_EQ(derive != nullptr, key.absent == Otherwise::derived) << full_name(key);
  }
}

TYPED_TEST(Table, every_help_is_one_sentence) {
  for (const auto& [key, set, derive] : TypeParam::schema().keys) {
    EXPECT_EQ(key.help.back(), '.') << full_name(key);
    EXPECT_EQ(key.help.find('|'), std::string_view::npos) << full_name(key);
  }
}

TEST(Keys, values_are_shown_as_they_would_be_written) {
  const KeyInfo notes{.kind = Kind::notes};
  EXPECT_EQ(to_text(notes, std::vector<int>{36, 43, 43, 54}), "C2 G2*2 F#3");
  const KeyInfo radii{.kind = Kind::quantities, .dimension = Dimension::length};
  EXPECT_EQ(to_text(radii, std::vector<double>{0.052, 0.1}), "52 mm, 100 mm");
  const KeyInfo side{.kind = Kind::choice, .choices = {"inner", "outer"}};
  EXPECT_EQ(to_text(side, 1), "outer");
}

TEST(Keys, the_second_of_a_repeated_section_is_named_so) {
  const KeyInfo key{.section = "comb", .name = "offset"};
  EXPECT_EQ(full_name(key, 0), "comb.offset");
  EXPECT_EQ(full_name(key, 1), "comb 2.offset");
}

}  // namespace
}  // namespace combwright::box
