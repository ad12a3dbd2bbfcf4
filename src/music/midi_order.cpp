// SPDX-License-Identifier: Apache-2.0
#include "music/midi_order.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cassert>
#include <utility>

#include "music/tune.h"

namespace combwright::music {
namespace {

// A note is sorted as one word: tick, pitch, index from the top bit down.
constexpr unsigned index_bits = 20;
constexpr unsigned pitch_bits = 7;
static_assert(max_notes <= std::size_t{1} << index_bits);
static_assert(max_midi_ticks <= std::int64_t{1} << (64 - index_bits - pitch_bits));

constexpr unsigned digit_bits = 8;
constexpr std::size_t digits = std::size_t{1} << digit_bits;

std::size_t digit_of(std::uint64_t key, unsigned shift) {
  return key >> shift & (digits - 1);
}

// One stable pass of a radix sort.
void sort_by_digit(const std::vector<std::uint64_t>& from, std::vector<std::uint64_t>& to,
                   unsigned shift) {
  std::array<std::uint32_t, digits> place{};
  for (const std::uint64_t key : from) ++place[digit_of(key, shift)];
  std::uint32_t below = 0;
  for (std::uint32_t& count : place) below += std::exchange(count, below);
  for (const std::uint64_t key : from) to[place[digit_of(key, shift)]++] = key;
}

}  // namespace

std::vector<std::uint32_t> midi_order(const std::vector<MidiNote>& notes) {
  assert(notes.size() <= max_notes);
  std::vector<std::uint64_t> keys(notes.size());
  std::uint64_t used = 0;
  for (std::size_t i = 0; i < notes.size(); ++i) {
    assert(notes[i].onset_tick >= 0 && notes[i].onset_tick < max_midi_ticks);
    const auto tick = static_cast<std::uint64_t>(notes[i].onset_tick);
    keys[i] = (tick << pitch_bits | notes[i].midi) << index_bits | i;
    used |= keys[i];
  }
  std::vector<std::uint64_t> sorted(keys.size());
  for (unsigned shift = index_bits; shift < std::bit_width(used); shift += digit_bits) {
    sort_by_digit(keys, sorted, shift);
    keys.swap(sorted);
  }
  std::vector<std::uint32_t> order(keys.size());
  std::ranges::transform(keys, order.begin(), [](std::uint64_t key) {
    return static_cast<std::uint32_t>(key & ((std::uint64_t{1} << index_bits) - 1));
  });
  return order;
}

}  // namespace combwright::music
