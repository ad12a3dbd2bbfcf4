// SPDX-License-Identifier: Apache-2.0
#include "app/program.h"

int main(int argc, char** argv) {
  return combwright::app::run(argc, argv);
}
