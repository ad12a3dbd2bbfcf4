// SPDX-License-Identifier: Apache-2.0
#include "music/midi_reader.h"

#include <algorithm>
#include <array>
#include <bit>

#include <fmt/format.h>

#include "base/error.h"
#include "music/midi_bars.h"
#include "music/midi_bytes.h"
#include "music/midi_findings.h"
#include "music/midi_order.h"
#include "music/midi_score.h"
#include "music/midi_timeline.h"
#include "music/midi_track.h"

namespace combwright::music {
namespace {

constexpr std::uint32_t chunk_name(const char (&name)[5]) {
  std::uint32_t value = 0;
  for (int i = 0; i < 4; ++i) value = value << 8U | static_cast<std::uint8_t>(name[i]);
  return value;
}

struct Header {
  unsigned format = 0;
  std::size_t tracks = 0;
  bool smpte = false;
  double ticks_per_quarter = 0.0;  // at 120/min where smpte
};

// The size of a RIFF chunk is little-endian.
std::uint32_t little_endian(std::uint32_t big) {
  return big << 24U | (big & 0xFF00U) << 8U | (big >> 8U & 0xFF00U) | big >> 24U;
}

// Moves to the MThd chunk of a file that wraps it as RIFF RMID.
void unwrap_riff(MidiBytes& in) {
  const std::size_t start = in.offset();
  in.take(8);
  if (in.u32() != chunk_name("RMID"))
    in.fail("a RIFF file without MIDI inside; its form must be RMID", start);
  while (in.left() >= 8) {
    const std::uint32_t name = in.u32();
    const std::size_t size = little_endian(in.u32());
    if (name == chunk_name("data")) return;
    in.take(size + size % 2);
  }
  in.fail("a RIFF file without a data chunk; one that holds MThd would do", start);
}

// Ticks of a quarter note. Under SMPTE division a tick is a fixed part of a second whatever the
// tempo events say, and a quarter is taken as half a second (120/min, the standard's default).
double ticks_per_quarter(const MidiBytes& in, std::uint32_t division, std::size_t offset) {
  if ((division & 0x8000U) == 0) {
    if (division == 0) in.fail("division 0; at least one tick a quarter note would do", offset);
    return division;
  }
  const unsigned frames = 256 - (division >> 8U);
  const unsigned ticks = division & 0xFFU;
  if (frames != 24 && frames != 25 && frames != 29 && frames != 30)
    in.fail(fmt::format("SMPTE division of {} frames a second; 24, 25, 29 or 30 would do", frames),
            offset);
  if (ticks == 0) in.fail("SMPTE division of 0 ticks a frame; at least 1 would do", offset);
  const double frame_rate = frames == 29 ? 30'000.0 / 1001.0 : frames;  // 29 stands for 29.97
  return 0.5 * frame_rate * ticks;
}

Header read_header(MidiBytes& in) {
  const std::size_t start = in.offset();
  if (in.u32() != chunk_name("MThd"))
    in.fail("not a Standard MIDI File; its first four bytes must be MThd", start);
  const std::uint32_t size = in.u32();
  MidiBytes chunk = in.chunk(size);
  Header header{.format = chunk.u16(), .tracks = chunk.u16()};
  const std::size_t division_offset = chunk.offset();
  const std::uint32_t division = chunk.u16();
  if (chunk.cut()) {
    in.fail(fmt::format("a header of {} bytes; at least 6 would do",
                        std::min<std::size_t>(size, chunk.offset() - start - 8)),
            start + 4);
  }
  if (header.format > 2)
    in.fail(fmt::format("format {}; 0, 1 or 2 would do", header.format), start + 8);
  if (header.tracks == 0) in.fail("a file of 0 tracks; at least 1 would do", start + 10);
  header.smpte = (division & 0x8000U) != 0;
  header.ticks_per_quarter = ticks_per_quarter(in, division, division_offset);
  return header;
}

// Format 2: each track is a piece of its own, with its own tempos and bars; they play in turn.
std::int64_t begin_sequence(MidiScore& score) {
  const std::int64_t tick = score.tracks.empty() ? 0 : score.tracks.back().end_tick;
  score.tempos.push_back({.tick = tick});
  score.meters.push_back({.tick = tick, .restart = true});
  return tick;
}

// Every chunk has a name of four bytes and a size; those of unknown name are passed over.
MidiScore read_tracks(MidiBytes& in, const Header& header) {
  MidiScore score;
  score.notes.reserve(std::min(max_notes, in.left() / 6));
  while (score.tracks.size() < header.tracks && in.left() >= 8) {
    const std::uint32_t name = in.u32();
    const std::size_t size = in.u32();
    if (name != chunk_name("MTrk")) {
      in.take(size);
      continue;
    }
    const std::int64_t start = header.format == 2 ? begin_sequence(score) : 0;
    read_midi_track(in.chunk(size), start, score);
  }
  return score;
}

// The program of a channel: the track's own first one, else the first of the channel anywhere.
using Programs = std::array<int, 16>;

Programs first_programs(const MidiScore& score) {
  Programs programs{};
  programs.fill(MidiTrack::no_program);
  for (const MidiTrack& track : score.tracks)
    for (std::size_t channel = 0; channel < programs.size(); ++channel)
      if (programs[channel] == MidiTrack::no_program) programs[channel] = track.programs[channel];
  return programs;
}

std::string part_name(const MidiTrack& track, std::size_t track_number, std::size_t channel,
                      bool only_channel, unsigned format) {
  const bool name_is_title = format == 0;
  std::string name = name_is_title || track.name.empty() ? track.instrument : track.name;
  if (name.empty() && name_is_title) return fmt::format("channel {}", channel + 1);
  if (name.empty()) name = fmt::format("track {}", track_number);
  return only_channel ? name : fmt::format("{}, channel {}", name, channel + 1);
}

// One part for each track and channel that has notes, in this order. Gives the part of each note.
std::vector<int> make_parts(const MidiScore& score, unsigned format, std::vector<Part>& parts) {
  const Programs anywhere = first_programs(score);
  std::vector<int> part_of(score.notes.size());
  for (std::size_t t = 0; t < score.tracks.size(); ++t) {
    const MidiTrack& track = score.tracks[t];
    unsigned channels = 0;
    for (std::size_t i = track.first_note; i < track.last_note; ++i)
      channels |= 1U << score.notes[i].channel;
    std::array<int, 16> part_of_channel{};
    for (std::size_t channel = 0; channel < 16; ++channel) {
      if ((channels >> channel & 1U) == 0) continue;
      const int program = track.programs[channel] != MidiTrack::no_program ? track.programs[channel]
                                                                           : anywhere[channel];
      part_of_channel[channel] = static_cast<int>(parts.size());
      parts.push_back(
          {.name = part_name(track, t + 1, channel, std::has_single_bit(channels), format),
           .program = std::max(program, 0)});
    }
    for (std::size_t i = track.first_note; i < track.last_note; ++i)
      part_of[i] = part_of_channel[score.notes[i].channel];
  }
  return part_of;
}

Note note_of(const MidiNote& note, int part, const MidiTimeline& timeline, std::size_t& segment) {
  const auto onset = static_cast<double>(note.onset_tick);
  const auto end = static_cast<double>(note.end_tick);
  const double onset_s = timeline.seconds(onset, segment);
  std::size_t end_segment = segment;
  return {.onset_s = onset_s,
          .duration_s = timeline.seconds(end, end_segment) - onset_s,
          .onset_quarter = timeline.quarters(onset),
          .duration_quarter = timeline.quarters(end - onset),
          .midi = note.midi,
          .loudness = note.velocity / 127.0,
          .part = part};
}

// Notes in order of onset already: puts those of one onset in order of pitch and part where they
// are not, which takes two channels of a track on one key, or ticks too short for a double.
void sort_chords(std::vector<Note>& notes) {
  const auto before = [](const Note& a, const Note& b) {
    return a.midi != b.midi ? a.midi < b.midi : a.part < b.part;
  };
  for (auto first = notes.begin(); first != notes.end();) {
    auto last = first + 1;
    bool sorted = true;
    for (; last != notes.end() && last->onset_s == first->onset_s; ++last)
      sorted = sorted && !before(*last, *(last - 1));
    if (!sorted) std::stable_sort(first, last, before);
    first = last;
  }
}

void set_notes(const MidiScore& score, unsigned format, const MidiTimeline& timeline, Tune& tune) {
  const std::vector<int> part_of = make_parts(score, format, tune.parts);
  tune.notes.reserve(score.notes.size());
  std::size_t segment = 0;
  for (const std::uint32_t i : midi_order(score.notes)) {
    tune.notes.push_back(note_of(score.notes[i], part_of[i], timeline, segment));
    const Note& note = tune.notes.back();
    tune.length_s = std::max(tune.length_s, note.onset_s + note.duration_s);
  }
  sort_chords(tune.notes);
}

void set_bars(MidiScore& score, const MidiTimeline& timeline, const std::string& name, Tune& tune) {
  if (score.notes.empty()) return;
  std::int64_t last_onset = 0;
  std::int64_t end = 0;
  for (const MidiNote& note : score.notes) {
    last_onset = std::max(last_onset, note.onset_tick);
    end = std::max(end, note.end_tick);
  }
  tune.bars = midi_bars(std::move(score.meters), timeline, last_onset, end);
  if (tune.bars.empty())
    throw Error(Place{.file = name},
                fmt::format("more than {} bars; a shorter tune would do", max_bars));
  mark_sections(std::move(score.sections), timeline.ticks_per_quarter(), tune.bars);
}

}  // namespace

Tune read_midi(std::span<const std::uint8_t> bytes, const std::string& name) {
  MidiBytes in(bytes, name);
  if (bytes.size() >= 4 && MidiBytes(in).u32() == chunk_name("RIFF")) unwrap_riff(in);
  const Header header = read_header(in);
  MidiScore score = read_tracks(in, header);
  if (score.tracks.empty()) in.fail("no track chunk; at least one MTrk would do", in.offset());

  Tune tune;
  tune.title = score.tracks.front().name;
  tune.percussion_notes = score.percussion_notes;
  tune.findings = midi_findings(score, header.tracks);
  if (header.smpte) {
    score.tempos.clear();
  } else if (score.tempos.empty()) {
    tune.findings.push_back({Level::note, "tracks", "there is no tempo; 120/min was taken",
                             "set the time of one turn by ear"});
  }
  const MidiTimeline timeline(score.tempos, header.ticks_per_quarter);
  tune.tempos = timeline.tempos();
  set_notes(score, header.format, timeline, tune);
  set_bars(score, timeline, name, tune);
  return tune;
}

}  // namespace combwright::music
