// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <condition_variable>
#include <list>
#include <memory>
#include <mutex>
#include <vector>

#include "base/watch.h"
#include "box/box.h"
#include "box/shop.h"
#include "steel/comb.h"

namespace combwright::app {

// The combs of the last few boxes: they take a while to design, and are asked for at every pluck
// and every change of a tune. Called on many threads at once.
class KeptCombs {
 public:
  // What designed() gives for them; who asks for a box while it is being designed waits for it.
  // Throws as designed() does; then the next who waits designs it.
  std::vector<steel::CombDesign> of(const box::Box& box, const box::Shop& shop, const Watch& watch);

 private:
  using Designs = std::shared_ptr<const std::vector<steel::CombDesign>>;

  struct Kept {
    box::Box box;
    box::Shop shop;
    Designs designs;  // null while they are being designed
  };

  // Where the box stands in the list; at its end if it does not.
  std::list<Kept>::iterator find(const box::Box& box, const box::Shop& shop);

  std::mutex guard_;
  std::condition_variable changed_;
  std::list<Kept> kept_;  // the last used first
};

}  // namespace combwright::app
