// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "arrange/score.h"
#include "music/pitch.h"

namespace combwright::arrange {

inline constexpr int midi_notes = 128;

// How many teeth each pitch has, and the least time between two plucks of one of them (where a
// pitch has none: of the tooth that it would get).
struct TeethByPitch {
  std::array<int, midi_notes> count{};
  std::array<double, midi_notes> interval_s{};
};

// The notes of one pitch, by onset, at the tempo of the disc.
struct PitchNotes {
  std::vector<double> onset_s;
  std::vector<double> weight;  // share of the tune's
  std::vector<std::uint8_t> melody;
  double total = 0.0;        // of the weights
  double least_gap_s = 0.0;  // between two onsets; infinite for a single note
};

// A note that no tooth of its own pitch plays.
struct LeftOver {
  double onset_s;
  double worth;  // on an octave
  int midi;      // as it should sound
};

// The teeth of one pitch.
struct PitchTeeth {
  int midi;
  double interval_s;
  std::size_t first, count;  // of their plucks in WorthScratch
  const PitchNotes* all;     // that one of them plays whole, if so
};

// Room for the work of TuneWorth::of_class, kept from call to call. What it holds decides nothing.
struct WorthScratch {
  std::vector<LeftOver> left;
  std::vector<PitchTeeth> teeth;
  std::vector<std::vector<double>> plucks;  // of each tooth, by time
  std::vector<std::size_t> open, rest, before;
  std::vector<double> best;
};

// What a tune's notes earn on teeth, with the rules of one tooth alone: its least interval, and
// octaves for what its own pitch can't play. The limits that tie pitch classes together are left
// out, and so are moved notes. The notes go to the teeth one tooth after the other, each time those
// that earn most, and what is left over to the octave teeth that are free, dearest first: what is
// earned so can be earned, but more may be possible.
class TuneWorth {
 public:
  TuneWorth(const std::vector<ScoreNote>& notes, double tempo_factor);

  // Share of the tune's weight (0..1) earned by its notes of the pitch class (0 to 11, as it sounds
  // after the transposition).
  double of_class(int pitch_class, int transpose_semitones, const TeethByPitch& teeth,
                  WorthScratch& scratch) const;

  // The same for all twelve classes.
  double of_all(int transpose_semitones, const TeethByPitch& teeth) const;

  // Notes of one written pitch, 0 to 127.
  const PitchNotes& written(int midi) const { return pitches_[static_cast<std::size_t>(midi)]; }

  // Share of the tune's weight in its notes of the pitch class: the most that of_class can be.
  double most_of_class(int pitch_class, int transpose_semitones) const {
    return class_total_[static_cast<std::size_t>(
        music::pitch_class(pitch_class - transpose_semitones))];
  }

  std::size_t notes() const { return notes_; }

 private:
  std::vector<PitchNotes> pitches_;
  std::array<double, 12> class_total_{};  // by written class
  std::size_t notes_ = 0;
};

// The most that `teeth` teeth of one pitch earn of these notes at their onsets, two plucks of one
// tooth at least interval_s apart; for 0, 1, 2... teeth in turn, each element what the next tooth
// adds, until all is earned or there are `most_teeth`. `weight` stands beside `onset_s`, which
// rises. Exact: a flow of so many units along the notes (interval scheduling on identical
// machines).
std::vector<double> earned_by_more_teeth(const std::vector<double>& onset_s,
                                         const std::vector<double>& weight, double interval_s,
                                         int most_teeth);

}  // namespace combwright::arrange
