// SPDX-License-Identifier: Apache-2.0
#include "app/kept_combs.h"

#include <algorithm>
#include <chrono>
#include <utility>

#include "app/comb_job.h"

namespace combwright::app {

std::list<KeptCombs::Kept>::iterator KeptCombs::find(const box::Box& box, const box::Shop& shop) {
  return std::find_if(kept_.begin(), kept_.end(),
                      [&](const Kept& one) { return one.box == box && one.shop == shop; });
}

std::vector<steel::CombDesign> KeptCombs::of(const box::Box& box, const box::Shop& shop,
                                             const Watch& watch) {
  constexpr std::size_t most = 4;
  // How long it may take to see that nobody waits any more.
  constexpr std::chrono::milliseconds look(100);
  std::unique_lock lock(guard_);
  for (auto at = find(box, shop); at != kept_.end(); at = find(box, shop)) {
    if (const Designs designs = at->designs) {
      kept_.splice(kept_.begin(), kept_, at);
      lock.unlock();
      return *designs;
    }
    changed_.wait_for(lock, look);
    watch.check();
  }
  kept_.push_front({box, shop, nullptr});
  const auto mine = kept_.begin();
  lock.unlock();
  try {
    std::vector<steel::CombDesign> designs = designed(box, shop, watch);
    lock.lock();
    mine->designs = std::make_shared<const std::vector<steel::CombDesign>>(designs);
    // Those being designed are somebody's work, and stay.
    for (auto at = kept_.end(); kept_.size() > most && at != kept_.begin();)
      if ((--at)->designs != nullptr && at != mine) at = kept_.erase(at);
    changed_.notify_all();
    return designs;
  } catch (...) {
    if (!lock.owns_lock()) lock.lock();
    kept_.erase(mine);
    changed_.notify_all();
    throw;
  }
}

}  // namespace combwright::app
