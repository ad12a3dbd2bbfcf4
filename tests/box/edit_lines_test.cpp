// SPDX-License-Identifier: Apache-2.0
#include "box/edit_lines.h"

#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "base/error.h"
#include "base/file.h"
#include "box/box_keys.h"
#include "box/box_reader.h"
#include "box/key_reader.h"
#include "box/note_list.h"

namespace combwright::box {
namespace {

Box with_lines(const std::string& lines) {
  const std::string path = COMBWRIGHT_SOURCE_DIR "/examples/larkspur.toml";
  const std::string text(as_text(read_file(path)));
  const std::string edited =
      edit_text(text, path, box_schema().sections, infos(box_schema()), edits_of(lines, "lines"));
  return read_box(edited, path).box;
}

TEST(EditsOfLines, give_the_box_what_the_lines_have) {
  const Box box = with_lines(
      "[spring]\nstrip_width = \"28.5 mm\"\nturns_used = 4.25\n\n[train]\nwheels = [90, 80, 72]\n"
      "pinions = [10, 10, 8]\n\n[[comb]]\nclearance = \"0.2 mm\"\n[[comb]]\nclearance = \"0.3 "
      "mm\"\n");
  EXPECT_DOUBLE_EQ(box.spring.strip_width_m, 0.0285);
  EXPECT_DOUBLE_EQ(box.spring.turns_used, 4.25);
  EXPECT_EQ(box.train.wheel_teeth, (std::vector<int>{90, 80, 72}));
  EXPECT_DOUBLE_EQ(box.combs[0].clearance_m, 0.0002);
  EXPECT_DOUBLE_EQ(box.combs[1].clearance_m, 0.0003);
}

TEST(EditsOfLines, take_a_scale_as_it_is_printed) {
  std::vector<int> midi;
  for (int i = 0; i < 76; ++i) midi.push_back(36 + i / 2);
  EXPECT_EQ(with_lines("[scale]\n" + notes_text(midi)).scale.midi, midi);
}

TEST(EditsOfLines, refuse_what_is_no_key_of_a_box) {
  EXPECT_THROW(edits_of("[spring]\nstrip_wdth = \"28 mm\"\n", "lines"), Error);
  EXPECT_THROW(edits_of("[spring", "lines"), Error);
  EXPECT_TRUE(edits_of("", "lines").empty());
}

}  // namespace
}  // namespace combwright::box
