// SPDX-License-Identifier: Apache-2.0
#include "music/midi_writer.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <string_view>

namespace combwright::music {
namespace {

using Bytes = std::vector<std::uint8_t>;

constexpr std::uint32_t ticks_per_second = 10'000;  // a quarter lasts a second, so its division too
constexpr std::int64_t max_delta = 0x0FFFFFFF;      // SMF 1.0

struct Stroke {
  std::int64_t tick = 0;
  bool on = false;
  std::uint8_t channel = 0;
  std::uint8_t midi = 0;
  std::uint8_t velocity = 0;
};

void append(Bytes& out, std::string_view text) {
  for (const char letter : text) out.push_back(static_cast<std::uint8_t>(letter));
}

void append_big_endian(Bytes& out, std::uint32_t value, int size) {
  for (int shift = 8 * (size - 1); shift >= 0; shift -= 8)
    out.push_back(static_cast<std::uint8_t>(value >> shift));
}

void append_variable_length(Bytes& out, std::size_t value) {
  assert(value <= max_delta);
  for (int shift = 21; shift > 0; shift -= 7)
    if (value >> shift != 0)
      out.push_back(static_cast<std::uint8_t>(0x80U | (value >> shift & 0x7FU)));
  out.push_back(static_cast<std::uint8_t>(value & 0x7FU));
}

void append_meta(Bytes& out, std::uint8_t type, std::string_view data) {
  out.push_back(0xFF);
  out.push_back(type);
  append_variable_length(out, data.size());
  append(out, data);
}

// A wait longer than one delta time can say is split by empty text events.
void append_delta(Bytes& out, std::int64_t delta) {
  for (; delta > max_delta; delta -= max_delta) {
    append_variable_length(out, max_delta);
    append_meta(out, 0x01, "");
  }
  append_variable_length(out, static_cast<std::size_t>(delta));
}

void append_track(Bytes& out, Bytes track) {
  track.push_back(0);
  append_meta(track, 0x2F, "");
  append(out, "MTrk");
  append_big_endian(out, static_cast<std::uint32_t>(track.size()), 4);
  out.insert(out.end(), track.begin(), track.end());
}

Bytes tempo_track(const std::string& title) {
  Bytes track{0};
  append_meta(track, 0x03, title);
  track.push_back(0);
  append_meta(track, 0x51, std::string_view("\x0F\x42\x40", 3));  // 1,000,000 us a quarter
  return track;
}

std::vector<Stroke> strokes_of(const std::vector<MidiEvent>& events) {
  std::vector<Stroke> strokes;
  strokes.reserve(2 * events.size());
  for (const MidiEvent& event : events) {
    assert(event.onset_s >= 0.0 && event.duration_s >= 0.0);
    assert(event.midi >= 0 && event.midi <= 127 && event.velocity >= 1 && event.velocity <= 127);
    assert(event.channel >= 0 && event.channel <= 15);
    const std::int64_t on = std::llround(event.onset_s * ticks_per_second);
    const std::int64_t off = std::llround((event.onset_s + event.duration_s) * ticks_per_second);
    Stroke stroke{.tick = on,
                  .on = true,
                  .channel = static_cast<std::uint8_t>(event.channel),
                  .midi = static_cast<std::uint8_t>(event.midi),
                  .velocity = static_cast<std::uint8_t>(event.velocity)};
    strokes.push_back(stroke);
    stroke.tick = std::max(off, on + 1);
    stroke.on = false;
    strokes.push_back(stroke);
  }
  // A key is let go before it is struck again at the same tick.
  std::ranges::stable_sort(strokes, [](const Stroke& a, const Stroke& b) {
    return a.tick != b.tick ? a.tick < b.tick : a.on < b.on;
  });
  return strokes;
}

Bytes note_track(const std::vector<MidiEvent>& events, int program) {
  Bytes track;
  std::array<bool, 16> used{};
  for (const MidiEvent& event : events) used[static_cast<std::size_t>(event.channel)] = true;
  for (std::size_t channel = 0; channel < used.size(); ++channel) {
    if (used[channel]) {
      track.insert(track.end(), {0, static_cast<std::uint8_t>(0xC0U | channel),
                                 static_cast<std::uint8_t>(program)});
    }
  }
  std::int64_t now = 0;
  for (const Stroke& stroke : strokes_of(events)) {
    append_delta(track, stroke.tick - now);
    now = stroke.tick;
    const unsigned kind = stroke.on ? 0x90U : 0x80U;
    track.insert(track.end(),
                 {static_cast<std::uint8_t>(kind | stroke.channel), stroke.midi, stroke.velocity});
  }
  return track;
}

}  // namespace

std::vector<std::uint8_t> write_midi(const std::vector<MidiEvent>& events, const std::string& title,
                                     int program) {
  assert(program >= 0 && program <= 127);
  Bytes file;
  append(file, "MThd");
  append_big_endian(file, 6, 4);
  append_big_endian(file, 1, 2);  // format
  append_big_endian(file, 2, 2);  // tracks
  append_big_endian(file, ticks_per_second, 2);
  append_track(file, tempo_track(title));
  append_track(file, note_track(events, program));
  return file;
}

}  // namespace combwright::music
