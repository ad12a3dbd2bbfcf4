// SPDX-License-Identifier: Apache-2.0
#include "draw/stamp.h"

namespace combwright::draw {

std::string source_words(const Stamp& stamp) {
  return stamp.made_from + " " + stamp.checksum.substr(0, 12);
}

}  // namespace combwright::draw
