// SPDX-License-Identifier: Apache-2.0
#include "arrange/lock.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/error.h"
#include "music/pitch.h"

namespace combwright::arrange {
namespace {

std::string name(int midi, int bar, double beat) {
  return fmt::format("{} in bar {}, beat {:.6g}", music::note_name(midi), bar, beat);
}

std::string name_of(const Lock& lock) {
  return name(lock.midi, lock.bar, lock.beat);
}

}  // namespace

std::string name_of(const ScoreNote& note) {
  return name(note.midi, note.bar, note.beat);
}

Findings put_locks(const std::vector<Lock>& locks, const BarRange& bars,
                   std::vector<ScoreNote>& notes) {
  Findings findings;
  for (const Lock& lock : locks) {
    if (lock.bar < bars.first || lock.bar > bars.last) {
      findings.push_back({Level::note, "locks",
                          fmt::format("the lock of {} is of no account: it is not among bars {}-{}",
                                      name_of(lock), bars.first, bars.last),
                          ""});
      continue;
    }
    const auto note = std::find_if(notes.begin(), notes.end(), [&](const ScoreNote& each) {
      return each.bar == lock.bar && each.midi == lock.midi &&
             std::abs(each.beat - lock.beat) < same_beat;
    });
    if (note == notes.end())
      throw Error({},
                  fmt::format("there is no {} to lock; arrange lists the notes", name_of(lock)));
    if (note->lock && *note->lock != lock.fate)
      throw Error({}, fmt::format("{} is locked in two ways; leave one out", name_of(lock)));
    note->lock = lock.fate;
  }
  return findings;
}

}  // namespace combwright::arrange
