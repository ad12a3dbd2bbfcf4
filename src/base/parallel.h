// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <functional>

namespace combwright {

// Calls work(i) for every i in [0, count) on up to `threads` threads (0: one for each core).
// Results must depend on i alone, never on the thread, so that any number of threads gives the
// same. The first exception thrown is thrown again here after all threads have ended.
void parallel_for(std::size_t count, unsigned threads,
                  const std::function<void(std::size_t)>& work);

}  // namespace combwright
