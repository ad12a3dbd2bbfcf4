// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "arrange/pitch_class.h"

namespace combwright::arrange {

// An upper bound on what the notes from any one on can still earn, given when each tooth is free.
// Each note carries a price; a tooth plays what earns more than its price, on its own and without
// asking whether another tooth plays the same note (Lagrangian relaxation of "each note at most
// once"). Any prices >= 0 give a valid bound; they are improved by subgradient steps of Polyak's
// length.
class CompletionBound {
 public:
  // For the notes [first, last) of the class. `target` is what some solution already earns.
  // `prices`, by note of the class, are what to start from (0 or above); they receive the best ones
  // found.
  CompletionBound(const PitchClass& pitch_class, std::size_t first, std::size_t last, double target,
                  int rounds, std::vector<double>& prices);

  // For all notes with all teeth free.
  double whole() const { return whole_; }

  // For the notes from `next` (an index into the class's notes, at most `last`) on; free_at_s
  // points to one time for each tooth of the class.
  double after(std::size_t next, const double* free_at_s) const;

 private:
  struct Prospect {
    double onset_s;
    double at_onset;
    double moved;
    std::uint32_t note;  // from `first`
  };
  // A tooth that is free by then can still earn this.
  struct Promise {
    double free_by_s;
    double value;
  };
  struct Tooth {
    double interval_s = 0.0;
    std::vector<Prospect> prospects;
    // For each prospect what it and all later ones can earn, as promises in order of free_by_s,
    // which is in falling order of value; as far as a pluck before the prospect can matter.
    std::vector<Promise> promises;
    std::vector<std::uint32_t> begin, end;  // by prospect, into promises
  };

  static double value_from(const Tooth& tooth, std::size_t prospect, double free_at_s);
  void improve_prices(double target, int rounds);
  void look_ahead(Tooth& tooth);
  double evaluate();
  void count_plays(std::vector<int>& least, std::vector<int>& most) const;

  std::size_t first_;
  std::vector<Tooth> teeth_;
  std::vector<double> price_;       // by note
  std::vector<double> price_rest_;  // sum of the prices from each note on
  std::vector<Promise> scratch_;
  double whole_ = 0.0;
};

}  // namespace combwright::arrange
