// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <vector>

#include "arrange/problem.h"

namespace combwright::arrange {

// One way to play a note of a crowd: on a tooth, at any moment of a span.
struct CrowdUse {
  int note = 0;   // of the crowd, from 0
  int tooth = 0;  // index into Problem::teeth
  double gain = 0.0;
  double earliest_s = 0.0;
  double latest_s = 0.0;
};

// A few notes close in time, with every use they can make of the teeth among other plucks that
// stay as they are.
struct Crowd {
  std::size_t notes = 0;
  std::vector<CrowdUse> uses;
  std::vector<double> others_s;  // sorted: plucks of other notes, which the motor must drive too
};

struct CrowdAnswer {
  std::vector<int> use;  // by note: index into Crowd::uses, -1 for none
  std::vector<double> time_s;
  double earned = 0.0;    // `floor` if nothing better was found
  std::size_t nodes = 0;  // partial answers looked at
};

// The uses, at most one a note, that earn most and keep the problem's intervals on each tooth, its
// motor limit and the sheet between neighbours; answers must earn more than `floor`, and at most
// `most_nodes` partial ones are looked at. Branch and bound in order of time: the next pluck that
// can come is made or passed over, each as early as those before it allow. That loses nothing, as
// an earlier pluck frees its tooth and the motor sooner (but for neighbours, which a later one may
// clear).
CrowdAnswer search_crowd(const Problem& problem, const Crowd& crowd, double floor,
                         std::size_t most_nodes);

}  // namespace combwright::arrange
