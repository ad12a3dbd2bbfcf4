// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "arrange/arrangement.h"

namespace combwright::app {

// What was chosen and how good it is, for a person.
std::string summary(const arrange::Arrangement& arrangement);

// A table of the notes that are not kept, and why; empty if all are.
std::string changed_notes(const arrange::Arrangement& arrangement);

}  // namespace combwright::app
