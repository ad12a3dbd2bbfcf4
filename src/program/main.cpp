// SPDX-License-Identifier: Apache-2.0
#include "program/program.h"

int main(int argc, char** argv) {
  return combwright::program::run(argc, argv);
}
