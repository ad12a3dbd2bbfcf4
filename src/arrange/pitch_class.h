// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <vector>

#include "arrange/problem.h"

namespace combwright::arrange {

// One way to play a note: a tooth of its class, and what that earns at the note's onset or, on its
// own pitch, moved. Either may be 0 or below: then it is not worth doing.
struct Use {
  int tooth = 0;  // index into PitchClass::teeth
  bool own_pitch = false;
  double at_onset = 0.0;
  double moved = 0.0;
};

struct ClassNote {
  int demand = 0;  // index into Problem::demands
  double onset_s = 0.0;
  std::uint32_t first_use = 0;
  std::uint32_t end_use = 0;
};

// All notes of one pitch class with all teeth of that class. As octaves are the only substitutes,
// no note of another class ever competes for these teeth.
struct PitchClass {
  std::vector<int> teeth;  // indices into Problem::teeth
  std::vector<double> interval_s;
  std::vector<ClassNote> notes;  // by onset
  std::vector<Use> uses;
  double earliest_s = 0.0;
  double latest_s = 0.0;
};

// The teeth of each pitch class, 0 to 11, as indices into Problem::teeth.
std::vector<std::vector<int>> teeth_by_pitch_class(const Problem& problem);

// The twelve classes of a problem.
std::vector<PitchClass> pitch_classes(const Problem& problem);

}  // namespace combwright::arrange
