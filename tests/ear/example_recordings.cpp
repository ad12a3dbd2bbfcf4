// SPDX-License-Identifier: Apache-2.0
// example_recordings DIR MODE_HZ*4 PITCH_HZ...: writes the recordings of examples/recordings. The
// modes are those of the A4 of `bramble` as cut, the pitches those of all its teeth in order, as
// `combwright comb --json` has them.
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <random>
#include <string>
#include <vector>

#include <sndfile.h>

#include "signals.h"
#include "sound_file.h"

namespace {

using namespace combwright::ear::test;

constexpr std::size_t missing_tooth = 11;
constexpr int modes = 4;

void write(const std::string& path, const Scene& scene, int bits) {
  const int format = SF_FORMAT_FLAC | (bits == 24 ? SF_FORMAT_PCM_24 : SF_FORMAT_PCM_16);
  const combwright::Bytes bytes =
      sound_file({sound(scene, 7)}, static_cast<int>(scene.rate_hz), format);
  std::ofstream(path, std::ios::binary)
      .write(reinterpret_cast<const char*>(bytes.data()),
             static_cast<std::streamsize>(bytes.size()));
}

// A quiet room with a little hum.
Scene room(double rate_hz, double seconds) {
  Scene scene;
  scene.rate_hz = rate_hz;
  scene.seconds = seconds;
  scene.noise = 2e-4;
  scene.click = 0.5;
  scene.hum = 3e-3;
  scene.level = 0.25;
  return scene;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3 + modes) return 2;
  const std::string folder = argv[1];
  Scene tooth = room(48000.0, 2.0);
  tooth.plucks = {{0.3, tooth_rings(425.0, modes), HUGE_VAL}};
  for (int i = 0; i < modes; ++i)
    tooth.plucks[0].rings.at(static_cast<std::size_t>(i)).frequency_hz =
        425.0 * std::atof(argv[2 + i]) / std::atof(argv[2]);
  write(folder + "/tooth.flac", tooth, 24);

  Scene pair = room(48000.0, 2.5);
  pair.plucks = {{0.3, tooth_rings(782.1), HUGE_VAL}, {0.3, tooth_rings(783.3), HUGE_VAL}};
  write(folder + "/pair.flac", pair, 24);

  std::mt19937_64 random(3);
  std::normal_distribution<double> normal;
  std::vector<double> pitches;
  for (int i = 2 + modes; i < argc; ++i)
    pitches.push_back(std::atof(argv[i]) * std::exp2(1.5 * normal(random) / 1200.0));
  constexpr double step_s = 1.2;
  Scene comb = room(24000.0, 0.5 + step_s * static_cast<double>(pitches.size()));
  comb.plucks = comb_take(pitches, comb.rate_hz, 0.4, step_s, 3.0, 5).plucks;
  comb.plucks.erase(comb.plucks.begin() + missing_tooth);
  write(folder + "/comb.flac", comb, 16);
  for (const double hz : pitches) std::printf("%.4f\n", hz);
}
