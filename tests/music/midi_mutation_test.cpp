// SPDX-License-Identifier: Apache-2.0
// Damaged files: whatever the damage, a tune that keeps the promises of tune.h, or an Error.
#include <filesystem>
#include <random>

#include <gtest/gtest.h>

#include "base/error.h"
#include "base/file.h"
#include "music/midi_files.h"
#include "music/midi_invariants.h"

namespace combwright::music {
namespace {

using namespace by_hand;

std::vector<std::filesystem::path> files_below(const std::filesystem::path& folder) {
  std::vector<std::filesystem::path> files;
  if (!std::filesystem::exists(folder)) return files;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(folder))
    if (entry.is_regular_file() && entry.path().has_extension()) files.push_back(entry.path());
  std::ranges::sort(files);
  return files;
}

// What the reader makes of it that it may not; empty if all is well.
std::string harm(const Bytes& file) {
  try {
    return broken_promise(read(file));
  } catch (const Error&) {
    return {};
  }
}

TEST(MidiMutation, SurvivesACutAtEveryByte) {
  const Bytes file = header(1, 2, 96) + track(name(text("Air")) + tempo(400'000) + meter(3, 2)) +
                     chunk("XFIH", {1, 2}) +
                     track(c4 + Bytes{0x00, 0xF0, 0x02, 0x7E, 0xF7, 0x81, 0x00, 0xC0, 5} + c4 + c4);
  for (std::size_t size = 0; size < file.size(); ++size) {
    const Bytes cut(file.begin(), file.begin() + static_cast<std::ptrdiff_t>(size));
    EXPECT_EQ(harm(cut), "") << "cut to " << size << " bytes";
  }
}

TEST(MidiMutation, SurvivesEveryValueOfEveryByte) {
  const Bytes file = header(0, 1, 96) + track(tempo(400'000) + meter(3, 2) + c4 + c4);
  for (std::size_t i = 0; i < file.size(); ++i) {
    for (int value = 0; value < 256; ++value) {
      Bytes mutant = file;
      mutant[i] = static_cast<std::uint8_t>(value);
      EXPECT_EQ(harm(mutant), "") << "byte " << i << " set to " << value;
    }
  }
}

TEST(MidiMutation, SurvivesFlippedBitsAndCutsInRealFiles) {
  const auto files = files_below(COMBWRIGHT_CORPUS_DIR "/midi");
  if (files.empty()) GTEST_SKIP() << "no corpus; tests/corpus/midi.sh brings it";
  // NOLINTNEXTLINE(cert-msc32-c,cert-msc51-cpp): the same damage on each run
  std::mt19937 random(20'240'607);
  const auto below = [&random](std::size_t bound) {
    return std::uniform_int_distribution<std::size_t>(0, bound - 1)(random);
  };
  for (const auto& path : files) {
    const Bytes file = read_file(path.string());
    EXPECT_EQ(harm(file), "") << path;
    for (int round = 0; round < 8; ++round) {
      Bytes mutant = file;
      for (std::size_t flips = 1 + below(8); flips > 0; --flips)
        mutant[below(mutant.size())] ^= static_cast<std::uint8_t>(1U << below(8));
      if (round % 4 == 3) mutant.resize(below(mutant.size()));
      EXPECT_EQ(harm(mutant), "") << path << ", round " << round;
    }
  }
}

}  // namespace
}  // namespace combwright::music
