// SPDX-License-Identifier: Apache-2.0
#include "box/box_reader.h"

#include <algorithm>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "box_text.h"

namespace combwright::box {
namespace {

using testing::ElementsAre;

const Setting& setting(const BoxReading& reading, std::string_view key) {
  const auto found = std::find_if(reading.settings.begin(), reading.settings.end(),
                                  [&](const Setting& s) { return s.key == key; });
  if (found == reading.settings.end()) throw std::out_of_range(std::string(key));
  return *found;
}

TEST(BoxReader, resolves_lengths_to_metres) {
  const Box box = read_box(short_box, "b.toml").box;
  EXPECT_EQ(box.name, "short");
  EXPECT_EQ(box.disc.diameter_m, 0.1);
  EXPECT_DOUBLE_EQ(box.star_wheel.tooth_overlap_m, 6e-5);
  EXPECT_EQ(box.motor.turn_time_s, 30.0);
  EXPECT_EQ(box.motor.most_plucks, 3);
}

TEST(BoxReader, fills_in_what_is_not_given_and_says_where_it_comes_from) {
  const BoxReading reading = read_box(short_box, "b.toml");
  EXPECT_EQ(reading.box.tracks.count, 5);
  EXPECT_EQ(reading.box.projection.web_m, 0.0005);
  EXPECT_NEAR(reading.box.combs.at(0).tooth_width_m, 0.0016, 1e-12);
  EXPECT_EQ(setting(reading, "disc.diameter").source, Source::given);
  EXPECT_EQ(setting(reading, "disc.thickness").source, Source::fallback);
  EXPECT_EQ(setting(reading, "tracks.count").source, Source::derived);
  EXPECT_EQ(setting(reading, "tracks.count").value, "5");
  EXPECT_EQ(setting(reading, "scale.notes").value, "C5 D5 E5 G5*2");
  EXPECT_EQ(to_text(Source::fallback), "default");
}

TEST(BoxReader, notes_may_stand_one_by_one_or_many_in_a_text) {
  const auto notes = [](const char* list) {
    return read_box(with(short_box, R"(["C5 D5 E5 G5*2"])", list), "b.toml").box.scale.midi;
  };
  EXPECT_THAT(notes(R"(["C5", "D5", "E5", "G5", "G5"])"), ElementsAre(72, 74, 76, 79, 79));
  EXPECT_THAT(notes(R"(["C5 Db5",  "Eb5  E5", "F#5"])"), ElementsAre(72, 73, 75, 76, 78));
  EXPECT_THAT(notes(R"("C5*3 D5*2")"), ElementsAre(72, 72, 72, 74, 74));
}

TEST(BoxReader, an_unknown_key_is_refused_with_the_nearest_one) {
  EXPECT_EQ(refusal(with(short_box, "diameter", "diametre")),
            "b.toml:3:1: [disc] has no key \"diametre\"; did you mean \"diameter\"?");
  EXPECT_EQ(refusal("nmae = \"x\"\n"),
            "b.toml:1:1: a box has no key \"nmae\"; did you mean "
            "\"name\"?");
  EXPECT_EQ(refusal(with(short_box, "pitch", "colour")),
            "b.toml:11:1: [tracks] has no key \"colour\"; write one of: count, inner_radius, "
            "pitch, bass");
}

TEST(BoxReader, an_unknown_section_is_refused_with_the_nearest_one) {
  EXPECT_EQ(refusal(with(short_box, "[star_wheel]", "[starwheel]")),
            "b.toml:12:1: a box has no section \"starwheel\"; did you mean \"star_wheel\"?");
  EXPECT_EQ(refusal(with(short_box, "[[comb]]", "[comb]")),
            "b.toml:16:1: [comb] can stand more than once in a box; write [[comb]]");
  EXPECT_EQ(refusal(with(short_box, "[motor]", "[[motor]]")),
            "b.toml:21:1: [[motor]] stands once in a box; write [motor]");
  EXPECT_EQ(refusal("disc = 3\n"),
            "b.toml:1:1: \"disc\" is a section, not a key; write [disc] and its keys below it");
}

TEST(BoxReader, a_bare_number_is_told_its_units) {
  EXPECT_EQ(refusal(with(short_box, "\"100 mm\"", "100")),
            "b.toml:3:12: disc.diameter is a bare number; write it with a unit: mm, cm, m, um or "
            "in");
  EXPECT_EQ(refusal(with(short_box, "100 mm", "100")),
            "b.toml:3:12: disc.diameter = 100 is a bare number; write it with a unit: mm, cm, m, "
            "um or in");
  EXPECT_EQ(refusal(with(short_box, "30 s", "30 kg")),
            "b.toml:22:13: motor.turn_time = \"30 kg\" has a unit that does not fit here; use s, "
            "ms or min");
}

TEST(BoxReader, a_value_of_another_kind_is_refused) {
  EXPECT_EQ(refusal(with(short_box, "\"100 mm\"", "true")),
            "b.toml:3:12: disc.diameter is true or false; write it with a unit: mm, cm, m, um or "
            "in");
  EXPECT_EQ(refusal(with(short_box, "\"100 mm\"", "[\"100 mm\"]")),
            "b.toml:3:12: disc.diameter is a list; write one value");
  EXPECT_EQ(refusal(with(short_box, "\"100 mm\"", "{a = 1}")),
            "b.toml:3:12: disc.diameter is a table; write it with a unit: mm, cm, m, um or in");
  EXPECT_EQ(refusal(with(short_box, "\"100 mm\"", "2020-01-01")),
            "b.toml:3:12: disc.diameter is a date or time; write it with a unit: mm, cm, m, um or "
            "in");
  EXPECT_EQ(refusal(with(short_box, "most_plucks = 3", "most_plucks = \"3\"")),
            "b.toml:23:15: motor.most_plucks is text; write a whole number without quotes");
  EXPECT_EQ(refusal(with(short_box, "most_plucks = 3", "most_plucks = 3.5")),
            "b.toml:23:15: motor.most_plucks has a fraction; write a whole number");
  EXPECT_EQ(refusal(with(short_box, "\"short\"", "7")),
            "b.toml:1:8: name is a bare number; write text in quotes");
  EXPECT_EQ(refusal(short_box + "[hold_down]\nrollers = \"20 mm\"\n"),
            "b.toml:25:11: hold_down.rollers is text; write a list in [ ]");
  EXPECT_EQ(refusal(short_box + "[steel]\npoisson_ratio = \"0.3\"\n"),
            "b.toml:25:17: steel.poisson_ratio is text; write a number without quotes or unit");
}

TEST(BoxReader, a_value_out_of_bounds_is_told_the_bounds) {
  EXPECT_EQ(refusal(with(short_box, "100 mm", "5 m")),
            "b.toml:3:12: disc.diameter is 5 m; it must lie between 40 mm and 1 m");
  EXPECT_EQ(refusal(with(short_box, "most_plucks = 3", "most_plucks = 0")),
            "b.toml:23:15: motor.most_plucks is 0; it must lie between 1 and 400");
  EXPECT_EQ(refusal(short_box + "[hold_down]\nrollers = [\"20 mm\", \"3 m\"]\n"),
            "b.toml:25:11: hold_down.rollers is 3 m; it must lie between 1 mm and 500 mm");
  EXPECT_EQ(refusal(with(short_box, "most_plucks = 3", "most_plucks = 9223372036854775807")),
            "b.toml:23:15: motor.most_plucks is 9223372036854775807; that is beyond all bounds");
}

TEST(BoxReader, a_number_that_is_none_is_out_of_bounds) {
  EXPECT_EQ(refusal(short_box + "[steel]\npoisson_ratio = nan\n"),
            "b.toml:25:17: steel.poisson_ratio is nan; it must lie between 0 and 0.499");
}

TEST(BoxReader, a_derived_value_out_of_bounds_names_what_it_comes_from) {
  EXPECT_EQ(refusal(with(short_box, "[[comb]]", "[[comb]]\ntooth_gap = \"3 mm\"")),
            "b.toml:16:1: comb.tooth_width (tracks.pitch less tooth_gap) is -1 mm; it must lie "
            "between 0.2 mm and 20 mm; give it or correct what it comes from");
}

TEST(BoxReader, a_missing_key_is_named_where_it_should_stand) {
  EXPECT_EQ(refusal(with(short_box, "turn_time = \"30 s\"\n", "")),
            "b.toml:21:1: motor.turn_time is missing; give it in s, ms or min (of one turn of the "
            "disc)");
  EXPECT_EQ(refusal(with(short_box, "name = \"short\"\n", "")),
            "b.toml: name is missing; give it as text (what the box is called)");
  EXPECT_EQ(refusal("name = \"x\"\n"), "b.toml: has no [[comb]]; at least 1 is needed");
}

TEST(BoxReader, a_third_comb_is_one_too_many) {
  const std::string comb = "[[comb]]\nlongest_tooth = \"40 mm\"\nshortest_tooth = \"20 mm\"\n";
  EXPECT_EQ(refusal(short_box + comb), "");
  EXPECT_EQ(refusal(short_box + comb + comb),
            "b.toml:27:1: is one [[comb]] too many; at most 2 can stand here");
}

TEST(BoxReader, a_choice_is_told_its_words) {
  EXPECT_EQ(refusal(short_box + "[governor]\nkind = \"water\"\n"),
            "b.toml:25:8: governor.kind is \"water\"; write \"friction\" or \"vane\"");
}

std::string scale_refusal(const std::string& notes) {
  return refusal(with(short_box, R"(["C5 D5 E5 G5*2"])", notes));
}

TEST(BoxReader, a_bad_note_is_quoted) {
  for (const char* word : {"C5*0", "C5*", "C5*-1", "C5*9999", "*2", "X5", "C", "A", "s"})
    EXPECT_EQ(scale_refusal("[\"" + std::string(word) + "\"]"),
              "b.toml:20:10: scale.notes holds \"" + std::string(word) +
                  "\"; write notes as C4, F#5, Eb3 or C4*2");
  EXPECT_EQ(scale_refusal("[\" \"]"),
            "b.toml:20:9: scale.notes has no notes; write them from low to high");
  EXPECT_EQ(scale_refusal("[\"C5*400 C5\"]"),
            "b.toml:20:10: scale.notes has too many notes; at most 400 are read");
  EXPECT_EQ(scale_refusal("[5]"),
            "b.toml:20:10: scale.notes is a bare number; write text in quotes");
}

// Note names as they are written elsewhere: H and the endings -is and -es of German (Cis, Es, B for
// B flat; common practice, no source), s and f for sharp and flat.
TEST(BoxReader, a_note_written_another_way_is_shown_as_it_is_written_here) {
  const auto hint = [](const std::string& word) {
    const std::string text = scale_refusal("[\"" + word + "\"]");
    return text.substr(std::min(text.find("; ") + 2, text.size()));
  };
  EXPECT_EQ(hint("c4"), "write C4");
  EXPECT_EQ(hint("f#5"), "write F#5");
  EXPECT_EQ(hint("bb4"), "write Bb4");
  EXPECT_EQ(hint("Cs4"), "write C#4");
  EXPECT_EQ(hint("Cis4"), "write C#4");
  EXPECT_EQ(hint("F\u266f5"), "write F#5");
  EXPECT_EQ(hint("Ef4"), "write Eb4");
  EXPECT_EQ(hint("Es4"), "write Eb4");
  EXPECT_EQ(hint("As4"), "write A#4 or Ab4");
  EXPECT_EQ(hint("C4x2"), "write C4*2");
  EXPECT_EQ(hint("H4"), "the note below C is B here, and B flat is Bb; write B4");
  EXPECT_EQ(hint("h4*2"), "the note below C is B here, and B flat is Bb; write B4*2");
}

TEST(BoxReader, a_name_is_one_short_line) {
  EXPECT_EQ(refusal(with(short_box, "\"short\"", "\"a\\nb\"")),
            "b.toml:1:8: name holds a control character; write it on one line");
  EXPECT_EQ(refusal(with(short_box, "\"short\"", "\"\"")),
            "b.toml:1:8: name has 0 bytes; write 1 to 80");
}

TEST(BoxReader, what_is_not_toml_is_refused_at_its_place) {
  EXPECT_EQ(refusal("name = \"x\"\n[disc\n"),
            "b.toml:2:1: a section stands in brackets on a line of its own; write [disc]");
}

TEST(BoxReader, the_first_fault_in_the_file_is_the_one_reported) {
  EXPECT_THAT(refusal("zebra = 1\napple = 2\n"), testing::StartsWith("b.toml:1:1: "));
}

}  // namespace
}  // namespace combwright::box
