// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <functional>
#include <string>

namespace combwright::app {

// Computes work(i) for i in [0, count) on all cores and hands the texts to `take` in order of i,
// each as soon as it and all before it are there. No more than a few texts a core exist at a time.
// An exception from either ends the whole and is thrown again here.
void in_order(std::size_t count, const std::function<std::string(std::size_t)>& work,
              const std::function<void(const std::string&)>& take);

}  // namespace combwright::app
