// SPDX-License-Identifier: Apache-2.0
#include <cstdio>

#include "music/pitch.h"

int main() {
  for (const int midi : {69, 60})
    std::printf("%s %.4f Hz\n", combwright::music::note_name(midi).c_str(),
                combwright::music::equal_tempered_hz(midi));
}
