// SPDX-License-Identifier: Apache-2.0
#include "workbench/designed_boxes.h"

#include <algorithm>
#include <utility>

#include "app/comb_job.h"
#include "base/file.h"

namespace combwright::workbench {

std::shared_ptr<const DesignedBox> DesignedBoxes::of(const std::string& box,
                                                     const std::string& shop) {
  constexpr std::size_t most = 4;
  app::BoxInput input = app::load_box(box);
  const std::string shop_sha256 = shop.empty() ? "" : sha256(as_text(read_file(shop)));
  // Whoever asks for a box while it is being designed waits for it.
  const std::lock_guard lock(mutex_);
  const auto known = std::find_if(kept_.begin(), kept_.end(), [&](const Kept& one) {
    return one.box_sha256 == input.sha256 && one.shop_sha256 == shop_sha256;
  });
  if (known != kept_.end()) {
    kept_.splice(kept_.begin(), kept_, known);
    return kept_.front().designed;
  }
  const std::string box_sha256 = input.sha256;
  box::Shop workshop = app::load_shop(shop);
  std::vector<steel::CombDesign> designs = app::designed(input.box, workshop);
  kept_.push_front({box_sha256, shop_sha256,
                    std::make_shared<const DesignedBox>(
                        DesignedBox{std::move(input), std::move(workshop), std::move(designs)})});
  if (kept_.size() > most) kept_.pop_back();
  return kept_.front().designed;
}

}  // namespace combwright::workbench
