// SPDX-License-Identifier: Apache-2.0
#include "music/midi_track.h"

#include <optional>

#include <fmt/format.h>

#include "music/midi_text.h"
#include "music/tune.h"

namespace combwright::music {
namespace {

constexpr std::uint8_t percussion_channel = 9;       // the tenth (General MIDI 1)
constexpr std::size_t keys = std::size_t{16} * 128;  // channels times pitches

class TrackReader {
 public:
  TrackReader(MidiBytes chunk, std::int64_t start_tick, MidiScore& score)
      : in_(chunk), score_(score), number_(score.tracks.size() + 1), tick_(start_tick) {
    oldest_.fill(MidiNote::none);
    track_.first_note = score.notes.size();
    track_.programs.fill(MidiTrack::no_program);
  }

  void read() {
    while (!ended_ && !in_.cut() && in_.left() > 0) read_event();
    if (in_.cut()) {
      score_.cut_tracks.met(number_);
    } else if (!ended_) {
      score_.endless_tracks.met(number_);
    } else if (in_.left() > 0) {
      score_.trailing_bytes.met(number_);
    }
    release_all();
    track_.last_note = score_.notes.size();
    track_.end_tick = tick_;
    score_.tracks.push_back(std::move(track_));
  }

 private:
  void read_event() {
    const std::size_t start = in_.offset();
    const std::uint32_t delta = in_.variable_length();
    const std::uint8_t status = read_status();
    if (in_.cut()) return;
    tick_ += delta;
    if (tick_ >= max_midi_ticks)
      in_.fail("the file is longer than any tune; fewer than 2^37 ticks would do", start);
    if (status < 0xF0)
      read_channel_event(status);
    else if (status == 0xFF)
      read_meta_event();
    else
      in_.take(in_.variable_length());  // system exclusive
  }

  std::uint8_t read_status() {
    const std::size_t start = in_.offset();
    const std::uint8_t byte = in_.peek();
    if (byte < 0x80) {
      if (running_status_ == 0 && in_.left() > 0) {
        in_.fail(fmt::format("data byte {:02X} hex without a status; an event begins with 80 to FF",
                             byte),
                 start);
      }
      if (in_.left() == 0) in_.u8();
      return running_status_;
    }
    in_.u8();
    if (byte < 0xF0) {
      running_status_ = byte;
    } else if (byte != 0xF0 && byte != 0xF7 && byte != 0xFF) {
      in_.fail(fmt::format("{:02X} hex is no event of a MIDI file; F0, F7 or FF would do", byte),
               start);
    }
    return byte;
  }

  void read_channel_event(std::uint8_t status) {
    const std::uint8_t channel = status & 0x0FU;
    const std::uint8_t first = in_.u8();
    switch (status >> 4U) {
      case 0x8:
      case 0x9: {
        const std::uint8_t velocity = in_.u8();
        if (in_.cut()) return;
        if ((first | velocity) >= 0x80)
          in_.fail(fmt::format("key {} with velocity {}; both run from 0 to 127", first, velocity),
                   in_.offset() - 2);
        if (status >= 0x90 && velocity > 0)
          strike(channel, first, velocity);
        else
          release(channel, first);
        break;
      }
      case 0xC:
        if (!in_.cut()) set_program(channel, first);
        break;
      case 0xD:
        break;
      default:
        in_.u8();
    }
  }

  void strike(std::uint8_t channel, std::uint8_t midi, std::uint8_t velocity) {
    if (channel == percussion_channel) {
      ++score_.percussion_notes;
      return;
    }
    if (score_.notes.size() == max_notes)
      in_.fail(fmt::format("more than {} notes; that many would do", max_notes), in_.offset() - 2);
    const auto index = static_cast<std::uint32_t>(score_.notes.size());
    const std::size_t key = key_of(channel, midi);
    if (oldest_[key] == MidiNote::none)
      oldest_[key] = index;
    else
      score_.notes[newest_[key]].next = index;
    newest_[key] = index;
    score_.notes.push_back(
        {.onset_tick = tick_, .midi = midi, .velocity = velocity, .channel = channel});
  }

  void release(std::uint8_t channel, std::uint8_t midi) {
    std::uint32_t& oldest = oldest_[key_of(channel, midi)];
    if (oldest == MidiNote::none) return;
    MidiNote& note = score_.notes[oldest];
    note.end_tick = tick_;
    oldest = note.next;
  }

  void release_all() {
    for (std::size_t i = track_.first_note; i < score_.notes.size(); ++i) {
      MidiNote& note = score_.notes[i];
      if (note.end_tick != MidiNote::sounding) continue;
      note.end_tick = tick_;
      score_.unreleased_notes.met(number_);
    }
  }

  void set_program(std::uint8_t channel, std::uint8_t program) {
    if (program >= 0x80) score_.bad_programs.met(number_);
    int& first = track_.programs[channel];
    if (first == MidiTrack::no_program) first = program & 0x7F;
  }

  void read_meta_event() {
    const std::size_t start = in_.offset() - 1;
    const std::uint8_t type = in_.u8();
    const std::span<const std::uint8_t> data = in_.take(in_.variable_length());
    if (in_.cut()) return;
    switch (type) {
      case 0x03:
        if (track_.name.empty()) track_.name = midi_text(data);
        break;
      case 0x04:
        if (track_.instrument.empty()) track_.instrument = midi_text(data);
        break;
      case 0x05:
        if (!data.empty() && data.back() == '\n') mark_section({.tick = tick_, .ends_here = true});
        break;
      case 0x06:
        mark_section({.tick = tick_});
        break;
      case 0x59:
        set_key(data);
        break;
      case 0x2F:
        ended_ = true;
        break;
      case 0x51:
        set_tempo(data, start);
        break;
      case 0x58:
        set_meter(data, start);
        break;
      default:
        break;
    }
  }

  void mark_section(const MidiSection& section) {
    if (score_.sections.size() < max_midi_changes) score_.sections.push_back(section);
  }

  void set_key(std::span<const std::uint8_t> data) {
    if (data.empty()) return;
    if (sharps_ && *sharps_ != data[0]) mark_section({.tick = tick_});
    sharps_ = data[0];
  }

  void set_tempo(std::span<const std::uint8_t> data, std::size_t start) {
    const std::uint32_t quarter_us = data.size() < 3
                                         ? 0U
                                         : static_cast<std::uint32_t>(data[0]) << 16U |
                                               static_cast<std::uint32_t>(data[1]) << 8U | data[2];
    if (quarter_us == 0) {
      score_.bad_tempos.met(number_);
      return;
    }
    if (score_.tempos.size() == max_midi_changes)
      in_.fail(fmt::format("more than {} tempos; that many would do", max_midi_changes), start);
    score_.tempos.push_back({.tick = tick_, .quarter_us = quarter_us});
  }

  void set_meter(std::span<const std::uint8_t> data, std::size_t start) {
    // A beat is at least a 128th note: the shortest note with a sign of its own in common use.
    if (data.size() < 2 || data[0] == 0 || data[1] > 7) {
      score_.bad_meters.met(number_);
      return;
    }
    if (score_.meters.size() == max_midi_changes)
      in_.fail(fmt::format("more than {} time signatures; that many would do", max_midi_changes),
               start);
    score_.meters.push_back({.tick = tick_, .beats = data[0], .beat_unit = 1 << data[1]});
  }

  static std::size_t key_of(std::uint8_t channel, std::uint8_t midi) {
    return std::size_t{channel} << 7U | midi;
  }

  MidiBytes in_;
  MidiScore& score_;
  MidiTrack track_;
  std::size_t number_;
  std::int64_t tick_;
  std::uint8_t running_status_ = 0;
  bool ended_ = false;
  std::optional<std::uint8_t> sharps_;  // of the key signature; flats are bytes from 80 hex on
  // First and last of the notes that sound on a key; `newest_` counts only where `oldest_` is set.
  std::array<std::uint32_t, keys> oldest_;
  std::array<std::uint32_t, keys> newest_;
};

}  // namespace

void read_midi_track(MidiBytes chunk, std::int64_t start_tick, MidiScore& score) {
  TrackReader(chunk, start_tick, score).read();
}

}  // namespace combwright::music
