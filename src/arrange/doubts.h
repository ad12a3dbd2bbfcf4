// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "arrange/arrangement.h"
#include "arrange/excerpt.h"

namespace combwright::arrange {

// What the arrangement itself does not tell of how it came about.
struct Making {
  ExcerptChoice excerpt;
  bool excerpt_chosen = false;  // by the arranger, not by the maker
  bool search_stopped = false;  // see SearchResult
};

// What the maker should know of an arrangement before cutting it.
Findings findings_of(const Arrangement& arrangement, const Making& making);

}  // namespace combwright::arrange
