// SPDX-License-Identifier: Apache-2.0
#include "music/musicxml_stagger.h"

#include <algorithm>

namespace combwright::music::musicxml {
namespace {

// Grace notes take at most this share of the note they lead to and of the gap before it; an
// arpeggio at most this share of its shortest note. Common practice, no source.
constexpr double grace_share = 0.5;
constexpr double arpeggio_share = 0.25;
// Room for grace notes where no note around them sets it.
constexpr double free_room_quarter = 0.25;

// How much time grace notes may take before this moment.
double room_before(double onset_quarter, double duration_quarter, double last_onset_quarter) {
  double room = duration_quarter > 0.0 ? grace_share * duration_quarter : free_room_quarter;
  const double gap = onset_quarter - last_onset_quarter;
  if (last_onset_quarter >= 0.0 && gap > 0.0) room = std::min(room, grace_share * gap);
  return room;
}

}  // namespace

void Staggers::add(std::vector<WrittenNote>& notes, bool chord) {
  WrittenNote& note = notes.back();
  Voice& voice = voices_[note.voice];
  Run& graces = voice.graces;
  if (note.grace) {
    note.ornament = true;
    if (!chord || graces.count == 0) ++graces.count;
    graces.notes.push_back(notes.size() - 1);
    graces.ordinals.push_back(graces.count - 1);
    return;
  }
  if (!chord) {
    const double room =
        room_before(note.offset_quarter, note.duration_quarter, voice.last_onset_quarter);
    voice.last = resolve(voice, room, notes);
    voice.last_onset_quarter = note.offset_quarter;
  }
  notes.back().before = voice.last;
}

void Staggers::pass(int voice_number, double onset_quarter, double duration_quarter,
                    std::vector<WrittenNote>& notes) {
  Voice& voice = voices_[voice_number];
  resolve(voice, room_before(onset_quarter, duration_quarter, voice.last_onset_quarter), notes);
  voice.last = {};
}

void Staggers::roll(std::size_t index, double onset_quarter, int number, bool down) {
  Roll& roll = rolls_[{onset_quarter, number}];
  roll.notes.push_back(index);
  roll.down = roll.down || down;
}

Stagger Staggers::resolve(Voice& voice, double room_quarter, std::vector<WrittenNote>& notes) {
  const Run run = std::exchange(voice.graces, {});
  for (std::size_t i = 0; i < run.notes.size(); ++i)
    notes[run.notes[i]].before = {run.count - run.ordinals[i], run.count, room_quarter};
  return {0, run.count, room_quarter};
}

void Staggers::finish(std::vector<WrittenNote>& notes) {
  for (auto& [number, voice] : voices_) {
    if (voice.graces.notes.empty()) continue;
    const double onset = notes[voice.graces.notes.front()].offset_quarter;
    resolve(voice, room_before(onset, 0.0, voice.last_onset_quarter), notes);
  }
  for (const auto& entry : rolls_) spread(entry.second, notes);
}

void Staggers::spread(const Roll& roll, std::vector<WrittenNote>& notes) {
  std::vector<std::size_t> order = roll.notes;
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return roll.down ? notes[a].midi > notes[b].midi : notes[a].midi < notes[b].midi;
  });
  double shortest = max_bar_quarters;
  int top = 0;
  for (const std::size_t i : order) {
    shortest = std::min(shortest, notes[i].duration_quarter);
    top = std::max(top, notes[i].midi);
  }
  const int last = static_cast<int>(order.size()) - 1;
  for (int step = 0; step <= last; ++step) {
    WrittenNote& note = notes[order[static_cast<std::size_t>(step)]];
    note.after = {step, last, arpeggio_share * shortest};
    note.ornament = note.midi < top;
  }
}

}  // namespace combwright::music::musicxml
