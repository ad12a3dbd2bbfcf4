// SPDX-License-Identifier: Apache-2.0
#include "box/edit_text.h"

#include <algorithm>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/error.h"
#include "base/file.h"
#include "base/property.h"
#include "box/box_fields.h"
#include "box/box_keys.h"
#include "box/box_reader.h"
#include "box/box_text.h"
#include "box/key_reader.h"

namespace combwright::box {
namespace {

std::string example_text(const std::string& name) {
  return std::string(as_text(read_file(COMBWRIGHT_SOURCE_DIR "/examples/" + name + ".toml")));
}

std::string edited(std::string_view text, const std::vector<KeyEdit>& edits) {
  return edit_text(text, "b.toml", box_schema().sections, infos(box_schema()), edits);
}

std::string edited(std::string_view text, const std::string& section, const std::string& name,
                   const std::string& value) {
  return edited(text, {{section, 0, name, value}});
}

std::string refused(std::string_view text, const KeyEdit& edit) {
  try {
    edited(text, {edit});
  } catch (const Error& error) {
    return error.what();
  }
  return {};
}

// What stands after # on every line, outside of texts in double quotes.
std::vector<std::string> comments(const std::string& text) {
  std::vector<std::string> found;
  bool quoted = false;
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (text[at] == '\n') quoted = false;
    if (text[at] == '"') quoted = !quoted;
    if (text[at] != '#' || quoted) continue;
    const std::size_t end = std::min(text.find('\n', at), text.size());
    found.push_back(text.substr(at, end - at));
    at = end;
  }
  return found;
}

std::string value_of(const std::string& text, std::string_view section, std::string_view name,
                     std::size_t row = 0) {
  for (const Field& field : box_fields(text, "b.toml").fields)
    if (field.key->section == section && field.key->name == name && field.row == row)
      return field.value.value_or("");
  return "no such field";
}

class EditedExample : public testing::TestWithParam<const char*> {};

INSTANTIATE_TEST_SUITE_P(Boxes, EditedExample, testing::Values("larkspur", "bramble"),
                         [](const auto& box) { return std::string(box.param); });

TEST_P(EditedExample, stays_byte_for_byte_when_keys_get_the_values_they_have) {
  const std::string text = example_text(GetParam());
  int given = 0;
  for (const Field& field : box_fields(text, "b.toml").fields) {
    if (field.source != Source::given) continue;
    ++given;
    EXPECT_EQ(edited(text, {{std::string(field.key->section), field.row,
                             std::string(field.key->name), field.value}}),
              text)
        << full_name(*field.key, field.row);
  }
  EXPECT_GT(given, 40);
}

TEST_P(EditedExample, takes_every_key_at_its_bounds_and_keeps_all_comments) {
  const std::string text = example_text(GetParam());
  for (const Field& field : box_fields(text, "b.toml").fields) {
    const KeyInfo& key = *field.key;
    std::vector<std::string> values;
    if (!key.least.empty()) values = {std::string(key.least), std::string(key.greatest)};
    for (const std::string_view choice : key.choices) values.emplace_back(choice);
    if (key.kind == Kind::text) values = {"a \"quoted\" \\ name # not a comment"};
    for (const std::string& value : values) {
      const std::string result =
          edited(text, {{std::string(key.section), field.row, std::string(key.name), value}});
      EXPECT_EQ(value_of(result, key.section, key.name, field.row), value);
      if (key.kind != Kind::text) {
        EXPECT_EQ(comments(result), comments(text));
      }
    }
  }
}

TEST_P(EditedExample, gives_a_key_that_is_added_back_when_it_is_taken_out) {
  const std::string text = example_text(GetParam());
  std::vector<std::string> sections;
  for (const Field& field : box_fields(text, "b.toml").fields)
    if (field.source == Source::given) sections.emplace_back(field.key->section);
  for (const Field& field : box_fields(text, "b.toml").fields) {
    const KeyInfo& key = *field.key;
    if (field.source == Source::given || key.least.empty()) continue;
    const std::string section(key.section);
    const std::string name(key.name);
    const std::string added = edited(text, {{section, field.row, name, std::string(key.least)}});
    EXPECT_EQ(value_of(added, section, name, field.row), key.least);
    const std::string back = edited(added, {{section, field.row, name, std::nullopt}});
    if (std::find(sections.begin(), sections.end(), section) != sections.end()) {
      EXPECT_EQ(back, text) << full_name(key);
    }
  }
}

TEST_P(EditedExample, keeps_comments_and_order_through_any_run_of_edits) {
  const std::string text = example_text(GetParam());
  const std::vector<std::string> kept = comments(text);
  const std::vector<Field> fields = box_fields(text, "b.toml").fields;
  EXPECT_TRUE(holds([&] {
    std::string now = text;
    const int steps = *rc::gen::inRange(1, 6);
    for (int i = 0; i < steps; ++i) {
      const Field& field = fields[*rc::gen::inRange<std::size_t>(0, fields.size())];
      const KeyInfo& key = *field.key;
      std::string value(*rc::gen::element(key.least, key.greatest));
      if (key.kind == Kind::notes) {
        value = "C4 D4*2";
        const int lines = *rc::gen::inRange(0, 7);
        for (int line = 0; line < lines; ++line) value += "\nE" + std::to_string(4 + line / 2);
      } else if (key.kind == Kind::quantities || key.kind == Kind::integers) {
        const int more = *rc::gen::inRange(0, 6);
        for (int item = 0; item < more; ++item)
          value += ", " + std::string(*rc::gen::element(key.least, key.greatest));
      } else if (!key.choices.empty()) {
        value = std::string(*rc::gen::elementOf(key.choices));
      } else if (key.kind == Kind::text) {
        value = "x";
      }
      const bool removed = *rc::gen::inRange(0, 4) == 0;
      now = edited(now, {{std::string(key.section), field.row, std::string(key.name),
                          removed ? std::nullopt : std::optional(value)}});
      if (!removed) RC_ASSERT(value_of(now, key.section, key.name, field.row) == value);
    }
    RC_ASSERT(comments(now) == kept);
  }));
}

TEST(EditText, puts_a_key_where_the_table_has_it) {
  const std::string text = "name = \"b\"\n\n[disc]\n  diameter = \"100 mm\" # wide\n\n[scale]\n";
  EXPECT_EQ(edited(text, "disc", "thickness", "0.4 mm"),
            "name = \"b\"\n\n[disc]\n  diameter = \"100 mm\" # wide\n  thickness = \"0.4 mm\"\n\n"
            "[scale]\n");
  EXPECT_EQ(edited(text, "scale", "a4", "442 Hz"), text + "a4 = \"442 Hz\"\n");
  EXPECT_EQ(edited(text, "tracks", "pitch", "2 mm"),
            "name = \"b\"\n\n[disc]\n  diameter = \"100 mm\" # wide\n\n[tracks]\npitch = \"2 mm\"\n"
            "\n[scale]\n");
  EXPECT_EQ(edited("# A box.\n[disc]\n", "", "name", "b"), "# A box.\nname = \"b\"\n[disc]\n");
  EXPECT_EQ(edited("", "", "name", "b"), "name = \"b\"\n");
  EXPECT_EQ(edited("name = \"b\"", "disc", "diameter", "1 m"),
            "name = \"b\"\n\n[disc]\ndiameter = \"1 m\"\n");
}

TEST(EditText, keeps_line_ends_as_they_are) {
  EXPECT_EQ(edited("name = \"b\"\r\n[disc]\r\n", "disc", "diameter", "1 m"),
            "name = \"b\"\r\n[disc]\r\ndiameter = \"1 m\"\r\n");
  EXPECT_EQ(edited("[disc]\r\ndiameter = \"1 m\" # \u00fc\r\n", "disc", "diameter", "50 cm"),
            "[disc]\r\ndiameter = \"50 cm\" # \u00fc\r\n");
}

TEST(EditText, finds_values_behind_letters_of_several_bytes) {
  EXPECT_EQ(edited("\"name\" = \"\u00e4\u00f6\" # \u00fc\n", "", "name", "\u00df"),
            "\"name\" = \"\u00df\" # \u00fc\n");
}

TEST(EditText, leaves_the_comments_in_a_list_beside_their_items) {
  const std::string text =
      "[scale]\nnotes = [   # low to high\n  \"C4 D4\", # first\n  # between\n  \"E4\" # last\n]\n";
  EXPECT_EQ(edited(text, "scale", "notes", "C4 D4\nF4"),
            "[scale]\nnotes = [   # low to high\n  \"C4 D4\", # first\n  # between\n  \"F4\" # "
            "last\n]\n");
  EXPECT_EQ(edited(text, "scale", "notes", "C4 D4\nE4\nG4\nA4"),
            "[scale]\nnotes = [   # low to high\n  \"C4 D4\", # first\n  # between\n  \"E4\", # "
            "last\n  \"G4\",\n  \"A4\"\n]\n");
  EXPECT_EQ(edited(text, "scale", "notes", "E4"),
            "[scale]\nnotes = [   # low to high\n  # first\n  # between\n  \"E4\" # last\n]\n");
  EXPECT_EQ(edited(text, "scale", "notes", "C4 D4"),
            "[scale]\nnotes = [   # low to high\n  \"C4 D4\", # first\n  # between\n  # last\n]\n");
}

TEST(EditText, lets_lists_on_one_line_grow_and_shrink) {
  const std::string text = "[train]\nwheels = [96, 90, 76]  # 1 : 3040\n";
  EXPECT_EQ(edited(text, "train", "wheels", "96, 76"), "[train]\nwheels = [96, 76]  # 1 : 3040\n");
  EXPECT_EQ(edited(text, "train", "wheels", "96, 90"), "[train]\nwheels = [96, 90]  # 1 : 3040\n");
  EXPECT_EQ(edited(text, "train", "wheels", "90"), "[train]\nwheels = [90]  # 1 : 3040\n");
  EXPECT_EQ(edited(text, "train", "wheels", "98, 96, 90, 76"),
            "[train]\nwheels = [98, 96, 90, 76]  # 1 : 3040\n");
  EXPECT_EQ(edited(text, "train", "wheels", "96, 90, 76, 70"),
            "[train]\nwheels = [96, 90, 76, 70]  # 1 : 3040\n");
  EXPECT_EQ(edited("[hold_down]\nrollers = []\n", "hold_down", "rollers", "3 cm, 6 cm"),
            "[hold_down]\nrollers = [\"3 cm\", \"6 cm\"]\n");
}

TEST(EditText, adds_a_second_comb_and_takes_it_away) {
  const std::string text = example_text("bramble");
  const std::string two =
      edited(text, {{"comb", 1, "longest_tooth", "42 mm"}, {"comb", 1, "shortest_tooth", "17 mm"}});
  EXPECT_EQ(read_box(two, "b.toml").box.combs.size(), 2u);
  EXPECT_EQ(edited(two, {{"comb", 1, "", std::nullopt}}), text);
  EXPECT_EQ(read_box(edited(example_text("larkspur"), {{"comb", 0, "", std::nullopt}}), "b.toml")
                .box.combs.at(0)
                .name,
            "back");
  EXPECT_THAT(refused(two, {"comb", 2, "longest_tooth", "42 mm"}), testing::HasSubstr("number 3"));
}

TEST(EditText, refuses_what_a_key_does_not_take) {
  const std::string& text = short_box;
  EXPECT_THAT(refused(text, {"disc", 0, "diameter", "wide"}), testing::HasSubstr("disc.diameter"));
  EXPECT_THAT(refused(text, {"disc", 0, "diameter", "2 m"}),
              testing::HasSubstr("must lie between"));
  EXPECT_THAT(refused(text, {"motor", 0, "most_plucks", "2.5"}),
              testing::HasSubstr("is \"2.5\"; write a whole number"));
  EXPECT_THAT(refused(text, {"governor", 0, "pad_friction", "0,2"}),
              testing::HasSubstr("is \"0,2\"; write a number without unit"));
  EXPECT_THAT(refused(text, {"disc", 0, "colour", "red"}),
              testing::HasSubstr("no key disc.colour"));
  EXPECT_THAT(refused("name = ", {"", 0, "name", "b"}), testing::HasSubstr("b.toml:1"));
}

TEST(EditText, writes_numbers_as_they_were_typed_where_toml_takes_them) {
  for (const auto& [typed, stands] : std::vector<std::pair<std::string, std::string>>{
           {"0.20", "0.20"}, {"0", "0"}, {"1e-1", "0.1"}, {"00.5", "0.5"}, {".5", "0.5"}})
    EXPECT_EQ(edited("[star_wheel]\nfriction = 0.3\n", "star_wheel", "friction", typed),
              "[star_wheel]\nfriction = " + stands + "\n");
}

TEST(EditText, changes_values_however_their_section_is_written_and_says_where_it_cannot) {
  const std::string within = "disc = { diameter = \"1 m\", thickness = \"1 mm\" }\n";
  EXPECT_EQ(edited(within, "disc", "diameter", "50 cm"),
            "disc = { diameter = \"50 cm\", thickness = \"1 mm\" }\n");
  EXPECT_EQ(edited("disc.diameter = \"1 m\"\n", "disc", "diameter", "50 cm"),
            "disc.diameter = \"50 cm\"\n");
  EXPECT_THAT(refused(within, {"disc", 0, "edge_margin", "5 mm"}),
              testing::HasSubstr("change it in the file itself"));
  EXPECT_THAT(refused(within, {"disc", 0, "diameter", std::nullopt}),
              testing::HasSubstr("change it in the file itself"));
}

}  // namespace
}  // namespace combwright::box
