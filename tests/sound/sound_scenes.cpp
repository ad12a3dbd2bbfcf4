// SPDX-License-Identifier: Apache-2.0
// Writes WAV files of known scenes, and scenes.json that says what is in them, into a folder.
#include <filesystem>
#include <string>

#include <nlohmann/json.hpp>

#include "base/file.h"
#include "scene.h"
#include "sound/partials.h"
#include "sound/preview.h"
#include "sound/wav.h"

namespace combwright::sound::test {
namespace {

using Json = nlohmann::json;

Json write_scene(const std::string& folder, const std::string& name, const box::Box& box,
                 const disc::Disc& disc, const PreviewOptions& options = {}) {
  const auto sound = heard(box, disc, options);
  write_file(folder + "/" + name + ".wav", wav(sound, name));
  Json times = Json::array();
  for (const auto& projection : disc.projections) times.push_back(projection.time_s);
  return {{"file", name + ".wav"},
          {"times_s", times},
          {"rate_hz", sound.sample_rate_hz},
          {"duration_s", disc.turn_time_s + options.tail_s},
          {"peak_dbfs", sound.peak_dbfs}};
}

// A scale of three notes has mass ratios 1, 1/2 and 0.
void write_scenes(const std::string& folder) {
  const auto three = box_with({60, 72, 84});
  Json scenes;
  const char* names[] = {"bass", "middle", "treble"};
  for (int track = 1; track <= 3; ++track)
    scenes[names[track - 1]] =
        write_scene(folder, names[track - 1], three, disc_with({{track, 0.1}}, 2.0));
  scenes["repeat"] =
      write_scene(folder, "repeat", three, disc_with({{2, 0.1}, {2, 1.0}, {2, 1.4}}, 2.0));

  const auto large = large_box();
  std::vector<Strike> strikes;
  for (int i = 0; i < 30; ++i) strikes.push_back({2 * i + 10, 0.2003 + 0.1517 * i});
  scenes["onsets"] = write_scene(folder, "onsets", large, disc_with(strikes, 6.0));
  scenes["full"] = write_scene(folder, "full", large, random_disc(large, 200, 10.0, 12),
                               {.sample_rate_hz = 44100, .peak_dbfs = -3.0});

  Json teeth = Json::array();
  for (const double mass_ratio : {0.0, 0.1, 0.5, 1.0}) {
    const steel::Tooth tooth = bar(523.25, mass_ratio);
    Json forces = Json::array();
    for (const Partial& partial : partials(tooth, 6e-4))
      forces.push_back({partial.frequency_hz, partial.force_n});
    const steel::Section& section = tooth.sections.front();
    teeth.push_back({{"mass_ratio", mass_ratio},
                     {"length_m", section.length_m},
                     {"width_m", section.root_width_m},
                     {"thickness_m", section.root_thickness_m},
                     {"modulus_pa", tooth.steel.modulus_pa},
                     {"density_kg_m3", tooth.steel.density_kg_m3},
                     {"lift_m", 6e-4},
                     {"release_time_s", release_time_s},
                     {"forces", forces}});
  }
  scenes["bars"] = teeth;
  write_file(folder + "/scenes.json", scenes.dump(1));
}

}  // namespace
}  // namespace combwright::sound::test

int main(int argc, char** argv) {
  if (argc != 2) return 2;
  std::filesystem::create_directories(argv[1]);
  combwright::sound::test::write_scenes(argv[1]);
}
