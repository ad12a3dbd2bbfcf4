// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <functional>
#include <random>
#include <string>
#include <vector>

#include "tuner/tune.h"

// Teeth that are drawn, clipped and heard on the beam model itself.
namespace combwright::tuner::simulation {

// A box with its combs.
struct Workshop {
  box::Box box;
  box::Shop shop;
  std::vector<steel::CombDesign> designs;
};

Workshop workshop(const std::string& box_path);

// The smaller example box, with the lines that it is found to have, so that nothing is searched.
Workshop bramble();

// How true teeth and hands differ from what is told: one standard deviation each.
struct Spreads {
  double modulus = 0.03;
  double root_yield = 0.1;
  double thickness = 0.003;
  double weight = 0.06;
  double clip = 0.08;
  double clip_bias = 0.0;
  double file = 0.2;
  double noise_cents = 0.15;
};

Spreads times(Spreads spreads, double factor);

// The same told to the tuner, in the keys that tell them.
void tell(Workshop& workshop, const Spreads& spreads);

// A tooth at the bench.
class Bench {
 public:
  Bench(const Workshop& workshop, std::size_t comb, std::size_t tooth, const Spreads& spreads,
        std::uint64_t seed);

  // Its true pitch above the target.
  double true_cents() const;
  // The same with the noise of a reading.
  Reading hear();
  // Takes off about what is told.
  void take(Work work, double told_m);

 private:
  double normal() { return distribution_(random_); }

  const Spreads spreads_;
  steel::CombTooth tooth_;
  TakenOff off_, told_;
  double bias_ = 0.0;
  std::mt19937_64 random_;
  std::normal_distribution<double> distribution_;
};

struct Outcome {
  bool cut_sharp = false;  // sharp beyond the tolerance before anything was done
  int clips = 0;
  int files = 0;
  int readings = 0;
  bool overshot = false;   // some clip or filing of the tip left it sharp beyond the tolerance
  bool ended = false;      // the advice was to stop, and nothing stood in the way
  double end_cents = 0.0;  // true

  int cuts() const { return clips + files; }
};

// Readings and cuts until the strategy stops; it gives the next cut, or nothing.
struct Cut {
  Work work = Work::clip;
  double amount_m = 0.0;
};

Outcome by_advice(const Workshop& workshop, const ToothOf& of, Bench bench,
                  const Request& request = {});
// Always the same cut, worth three cents by the design.
Outcome by_fixed_steps(const Workshop& workshop, const ToothOf& of, Bench bench);
// Half of what is lacking by the design.
Outcome by_halving(const Workshop& workshop, const ToothOf& of, Bench bench);

}  // namespace combwright::tuner::simulation
