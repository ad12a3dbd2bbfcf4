// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>

#include "ear/recording.h"

namespace combwright::ear {

// The channel to listen to, by place: the loudest, but a clipped one only if all others are far
// fainter. Others are not added to it: what the same tooth says at two places does not add in step.
std::size_t best_channel(const Recording& recording);

}  // namespace combwright::ear
