// SPDX-License-Identifier: Apache-2.0
#include "draw/stamp.h"

namespace combwright::draw {

std::string short_checksum(const PackStamp& stamp) {
  return stamp.plan_checksum.substr(0, 12);
}

}  // namespace combwright::draw
