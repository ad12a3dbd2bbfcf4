// SPDX-License-Identifier: Apache-2.0
#include "app/program.h"

namespace combwright::app {

int run(int /*argc*/, char** /*argv*/) {
  return 2;
}

}  // namespace combwright::app
