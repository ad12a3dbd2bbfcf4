// SPDX-License-Identifier: Apache-2.0
// Any bytes are twelve rising notes within an octave, or an Error with one line of text.
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "base/error.h"
#include "music/scl_reader.h"

namespace {

void require(bool condition) {
  if (!condition) std::abort();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace combwright;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  try {
    const music::Temperament scale = music::read_scl(text, "s.scl");
    require(scale[0] == 0.0 && scale[11] < 1201.0);
    for (std::size_t i = 1; i < scale.size(); ++i) require(scale[i] > scale[i - 1]);
  } catch (const Error& error) {
    const std::string_view told = error.what();
    require(told.starts_with("s.scl") && told.find('\n') == std::string_view::npos);
  }
  return 0;
}
