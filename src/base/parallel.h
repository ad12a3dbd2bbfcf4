// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <functional>

namespace combwright {

// Calls work(i) for every i in [0, count) on up to `threads` threads (0: one for each core).
// Results must depend on i alone, never on the thread, so that any number of threads gives the
// same. If work throws, no new i is begun, and when all threads have ended the exception of the
// smallest i is thrown again here: the one that a single thread would have met.
void parallel_for(std::size_t count, unsigned threads,
                  const std::function<void(std::size_t)>& work);

}  // namespace combwright
