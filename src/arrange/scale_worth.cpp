// SPDX-License-Identifier: Apache-2.0
#include "arrange/scale_worth.h"

#include <algorithm>
#include <cassert>
#include <limits>
#include <numeric>

#include "arrange/rules.h"

namespace combwright::arrange {
namespace {

// Gives one tooth those of the open notes (scratch.open: indices, rising) that it earns most with:
// their weight in sum, their onsets to `plucks`; the others stay open.
double play_best(const PitchNotes& notes, double interval_s, WorthScratch& scratch,
                 std::vector<double>& plucks) {
  std::vector<std::size_t>& open = scratch.open;
  std::vector<std::size_t>& rest = scratch.rest;
  std::vector<std::size_t>& before = scratch.before;
  std::vector<double>& best = scratch.best;
  const std::size_t count = open.size();
  best.assign(count + 1, 0.0);
  before.assign(count, 0);
  rest.clear();
  std::size_t free = 0;  // notes that a pluck at note i leaves time for
  for (std::size_t i = 0; i < count; ++i) {
    const double onset = notes.onset_s[open[i]];
    while (notes.onset_s[open[free]] <= onset - interval_s + same_time_s && free < i) ++free;
    before[i] = free;
    best[i + 1] = std::max(best[i], best[free] + notes.weight[open[i]]);
  }
  for (std::size_t i = count; i > 0;) {
    if (best[i] > best[i - 1]) {
      plucks.push_back(notes.onset_s[open[i - 1]]);
      const std::size_t next = before[i - 1];
      for (std::size_t k = i - 1; k > next; --k) rest.push_back(open[k - 1]);
      i = next;
    } else {
      rest.push_back(open[i - 1]);
      --i;
    }
  }
  std::reverse(rest.begin(), rest.end());
  std::reverse(plucks.begin(), plucks.end());
  open.swap(rest);
  return best[count];
}

bool play_if_free(std::vector<double>& plucks, double onset_s, double interval_s) {
  const double reach = interval_s - same_time_s;
  const auto next = std::upper_bound(plucks.begin(), plucks.end(), onset_s - reach);
  if (next != plucks.end() && *next < onset_s + reach) return false;
  plucks.insert(next, onset_s);
  return true;
}

// The teeth of a pitch, without plucks yet.
PitchTeeth& add_teeth(WorthScratch& scratch, int midi, double interval_s, int count) {
  const std::size_t first =
      scratch.teeth.empty() ? 0 : scratch.teeth.back().first + scratch.teeth.back().count;
  const auto teeth = static_cast<std::size_t>(count);
  if (scratch.plucks.size() < first + teeth) scratch.plucks.resize(first + teeth);
  for (std::size_t k = first; k < first + teeth; ++k) scratch.plucks[k].clear();
  return scratch.teeth.emplace_back(PitchTeeth{midi, interval_s, first, teeth, nullptr});
}

void leave_over(WorthScratch& scratch, const PitchNotes& notes, std::size_t i, int midi) {
  scratch.left.push_back(
      {notes.onset_s[i], octave_share_of(notes.melody[i] != 0) * notes.weight[i], midi});
}

// Adds to `earned`, tooth by tooth, what the teeth of their own pitch earn of the notes.
void earn_at_pitch(const PitchNotes& notes, PitchTeeth& teeth, WorthScratch& scratch,
                   double& earned) {
  if (notes.least_gap_s >= teeth.interval_s - same_time_s) {
    teeth.all = &notes;
    earned += notes.total;
    return;
  }
  scratch.open.resize(notes.onset_s.size());
  std::iota(scratch.open.begin(), scratch.open.end(), std::size_t{0});
  for (std::size_t k = 0; k < teeth.count && !scratch.open.empty(); ++k)
    earned += play_best(notes, teeth.interval_s, scratch, scratch.plucks[teeth.first + k]);
  for (const std::size_t i : scratch.open) leave_over(scratch, notes, i, teeth.midi);
}

double earned_by_octaves(WorthScratch& scratch) {
  std::vector<LeftOver>& left = scratch.left;
  std::sort(left.begin(), left.end(), [](const LeftOver& a, const LeftOver& b) {
    if (a.worth != b.worth) return a.worth > b.worth;
    return a.onset_s != b.onset_s ? a.onset_s < b.onset_s : a.midi < b.midi;
  });
  for (const PitchTeeth& pitch : scratch.teeth)
    if (pitch.all != nullptr) scratch.plucks[pitch.first] = pitch.all->onset_s;
  double earned = 0.0;
  for (const LeftOver& note : left) {
    bool played = false;
    for (const PitchTeeth& pitch : scratch.teeth) {
      if (!is_octave_step(pitch.midi - note.midi)) continue;
      for (std::size_t k = 0; k < pitch.count && !played; ++k)
        played = play_if_free(scratch.plucks[pitch.first + k], note.onset_s, pitch.interval_s);
      if (played) break;
    }
    if (played) earned += note.worth;
  }
  return earned;
}

}  // namespace

TuneWorth::TuneWorth(const std::vector<ScoreNote>& notes, double tempo_factor)
    : pitches_(midi_notes), notes_(notes.size()) {
  assert(!notes.empty() && tempo_factor > 0.0);
  double total = 0.0;
  for (const ScoreNote& note : notes) total += note.weight;
  for (PitchNotes& pitch : pitches_) pitch.least_gap_s = std::numeric_limits<double>::infinity();
  for (const ScoreNote& note : notes) {
    PitchNotes& pitch = pitches_[static_cast<std::size_t>(note.midi)];
    const double onset = (note.onset_s - notes.front().onset_s) / tempo_factor;
    if (!pitch.onset_s.empty())
      pitch.least_gap_s = std::min(pitch.least_gap_s, onset - pitch.onset_s.back());
    pitch.onset_s.push_back(onset);
    pitch.weight.push_back(note.weight / total);
    pitch.melody.push_back(note.role == Role::melody ? 1 : 0);
    pitch.total += note.weight / total;
    class_total_[static_cast<std::size_t>(music::pitch_class(note.midi))] += note.weight / total;
  }
}

double TuneWorth::of_class(int pitch_class, int transpose_semitones, const TeethByPitch& teeth,
                           WorthScratch& scratch) const {
  scratch.left.clear();
  scratch.teeth.clear();
  double earned = 0.0;
  // What sounds beyond all teeth may still find an octave.
  for (int midi = pitch_class - octave_reach_semitones; midi < midi_notes + octave_reach_semitones;
       midi += 12) {
    const bool real = midi >= 0 && midi < midi_notes;
    const auto sounding = static_cast<std::size_t>(midi);
    PitchTeeth* own = nullptr;
    if (real && teeth.count[sounding] > 0)
      own = &add_teeth(scratch, midi, teeth.interval_s[sounding], teeth.count[sounding]);
    const int as_written = midi - transpose_semitones;
    if (as_written < 0 || as_written >= midi_notes) continue;
    const PitchNotes& notes = written(as_written);
    if (notes.onset_s.empty()) continue;
    if (own != nullptr) {
      earn_at_pitch(notes, *own, scratch, earned);
    } else {
      for (std::size_t i = 0; i < notes.onset_s.size(); ++i) leave_over(scratch, notes, i, midi);
    }
  }
  if (scratch.left.empty() || scratch.teeth.empty()) return earned;
  return earned + earned_by_octaves(scratch);
}

double TuneWorth::of_all(int transpose_semitones, const TeethByPitch& teeth) const {
  WorthScratch scratch;
  double sum = 0.0;
  for (int c = 0; c < 12; ++c) sum += of_class(c, transpose_semitones, teeth, scratch);
  return sum;
}

std::vector<double> earned_by_more_teeth(const std::vector<double>& onset_s,
                                         const std::vector<double>& weight, double interval_s,
                                         int most_teeth) {
  assert(onset_s.size() == weight.size() && interval_s > 0.0);
  const std::size_t count = onset_s.size();
  // Node i stands before note i: an arc past the note costs nothing, an arc that plays it leads to
  // the first note that comes interval_s later. The next unit of flow takes the dearest path in
  // what the flow so far leaves, forwards along open arcs and backwards along used ones.
  std::vector<std::size_t> after(count);
  for (std::size_t i = 0, j = 0; i < count; ++i) {
    while (j < count && (j <= i || onset_s[j] < onset_s[i] + interval_s - same_time_s)) ++j;
    after[i] = j;
  }
  std::vector<bool> played(count, false);
  std::vector<int> passed(count, 0);  // units past note i without playing it
  std::vector<double> added;
  constexpr double nowhere = -std::numeric_limits<double>::infinity();
  std::vector<double> best(count + 1);
  struct Step {
    std::size_t from;
    int kind;  // 0: past a note, 1: playing it, 2: back past it, 3: taking its play back
    std::size_t note;
  };
  std::vector<Step> step(count + 1);
  constexpr double least = 1e-15;  // below that a gain is rounding
  for (int k = 0; k < most_teeth; ++k) {
    std::fill(best.begin(), best.end(), nowhere);
    best[0] = 0.0;
    const auto relax = [&](std::size_t to, double value, Step by) {
      if (value <= best[to] + least) return false;
      best[to] = value;
      step[to] = by;
      return true;
    };
    for (bool changed = true; changed;) {
      changed = false;
      for (std::size_t i = 0; i < count; ++i) {
        if (best[i] > nowhere) {
          changed |= relax(i + 1, best[i], {i, 0, i});
          if (!played[i]) changed |= relax(after[i], best[i] + weight[i], {i, 1, i});
        }
      }
      for (std::size_t i = count; i-- > 0;) {
        if (passed[i] > 0 && best[i + 1] > nowhere) changed |= relax(i, best[i + 1], {i + 1, 2, i});
        if (played[i] && best[after[i]] > nowhere)
          changed |= relax(i, best[after[i]] - weight[i], {after[i], 3, i});
      }
    }
    if (best[count] <= least) break;
    added.push_back(best[count]);
    for (std::size_t node = count; node != 0; node = step[node].from) {
      const Step& s = step[node];
      if (s.kind == 0) ++passed[s.note];
      if (s.kind == 1) played[s.note] = true;
      if (s.kind == 2) --passed[s.note];
      if (s.kind == 3) played[s.note] = false;
    }
  }
  return added;
}

}  // namespace combwright::arrange
