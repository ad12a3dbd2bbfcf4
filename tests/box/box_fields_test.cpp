// SPDX-License-Identifier: Apache-2.0
#include "box/box_fields.h"

#include <algorithm>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/error.h"
#include "box/box_reader.h"
#include "box/box_text.h"

namespace combwright::box {
namespace {

const Field& field(const BoxFields& all, const std::string& key) {
  return *std::find_if(all.fields.begin(), all.fields.end(),
                       [&](const Field& each) { return full_name(*each.key, each.row) == key; });
}

TEST(BoxFields, say_what_the_reader_makes_of_every_key) {
  const BoxFields all = box_fields(short_box, "b.toml");
  const BoxReading reading = read_box(short_box, "b.toml");
  ASSERT_EQ(all.fields.size(), reading.settings.size());
  for (const Setting& setting : reading.settings) {
    const Field& one = field(all, setting.key);
    EXPECT_EQ(one.source, setting.source) << setting.key;
    if (setting.source != Source::given) {
      EXPECT_EQ(one.value, setting.value) << setting.key;
    }
  }
}

TEST(BoxFields, keep_the_words_of_the_file) {
  const BoxFields all =
      box_fields(with(short_box, "diameter = \"100 mm\"", "diameter = \"10.0 cm\""), "b.toml");
  EXPECT_EQ(field(all, "disc.diameter").value, "10.0 cm");
  EXPECT_EQ(field(all, "disc.diameter").first_line, 3u);
  EXPECT_EQ(all.at_line(3), "disc.diameter");
  EXPECT_EQ(all.at_line(2), "disc");
  EXPECT_EQ(all.at_line(900), "");
}

TEST(BoxFields, tell_what_a_key_would_be_without_the_text) {
  const BoxFields all = box_fields(with(short_box, "[tracks]", "[tracks]\ncount = 5"), "b.toml");
  EXPECT_EQ(field(all, "tracks.count").source, Source::given);
  EXPECT_EQ(field(all, "tracks.count").otherwise, "5");
  EXPECT_EQ(field(all, "disc.thickness").otherwise, "0.5 mm");
  EXPECT_EQ(field(all, "disc.diameter").otherwise, std::nullopt);
}

TEST(BoxFields, do_without_a_right_box) {
  const BoxFields missing = box_fields("[disc]\ndiameter = 5\n", "b.toml");
  EXPECT_EQ(field(missing, "disc.diameter").value, "5");
  EXPECT_EQ(field(missing, "name").source, std::nullopt);
  EXPECT_EQ(field(missing, "disc.thickness").value, "0.5 mm");
  EXPECT_EQ(field(missing, "comb.screws").value, std::nullopt);
  EXPECT_THROW(box_fields("[disc", "b.toml"), Error);
}

}  // namespace
}  // namespace combwright::box
