// SPDX-License-Identifier: Apache-2.0
// Any bytes give a tune that keeps the promises of music/tune.h, or an Error.
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <span>
#include <string>

#include "../tests/music/musicxml_invariants.h"
#include "base/error.h"
#include "music/musicxml_reader.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace combwright;
  try {
    const std::string broken =
        music::testing::broken_score(music::read_musicxml(std::span(data, size), "fuzz"));
    if (!broken.empty()) {
      std::fprintf(stderr, "%s\n", broken.c_str());
      std::abort();
    }
  } catch (const Error&) {
    // An error is a good answer to a bad file.
  }
  return 0;
}
