// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <list>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "app/inputs.h"
#include "box/shop.h"
#include "steel/comb.h"

namespace combwright::workbench {

// A box of the folder with its combs as designed.
struct DesignedBox {
  app::BoxInput input;
  box::Shop shop;
  std::vector<steel::CombDesign> designs;
};

// The designs of the last few boxes: a comb takes seconds to design and is asked for at every
// pluck. Called on many threads at once.
class DesignedBoxes {
 public:
  // Of the files as they are now; `shop` may be empty. Throws Error as reading and designing do.
  std::shared_ptr<const DesignedBox> of(const std::string& box, const std::string& shop);

 private:
  struct Kept {
    std::string box_sha256;
    std::string shop_sha256;
    std::shared_ptr<const DesignedBox> designed;
  };

  std::mutex mutex_;
  std::list<Kept> kept_;  // the last used first
};

}  // namespace combwright::workbench
