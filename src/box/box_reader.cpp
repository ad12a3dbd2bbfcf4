// SPDX-License-Identifier: Apache-2.0
#include "box/box_reader.h"

#include <algorithm>
#include <array>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "box/box_check.h"
#include "box/box_keys.h"
#include "box/key_reader.h"

namespace combwright::box {

namespace {

void add_scale_file(Scale& scale, const Places& places, const ScaleFile& scale_file) {
  if (scale.scl.empty()) return;
  if (scale.temperament != NamedTemperament::equal)
    throw Error(places.of("scale", "temperament"),
                "scale.temperament and scale.scl both say how the notes lie; leave one out");
  // A box from elsewhere must not make us open files beyond its folder.
  if (scale.scl.front() == '/' || scale.scl.find("..") != std::string::npos)
    throw Error(places.of("scale", "scl"),
                "scale.scl must name a file in the folder of the box file or below it");
  if (!scale_file)
    throw Error(places.of("scale", "scl"),
                "scale.scl names a file, but only the box can be read here; name a temperament");
  scale.scl_notes = scale_file(scale.scl);
}

// A key of the other kind of governor does nothing.
void doubt_governor(const Governor& governor, const std::vector<Setting>& settings,
                    Findings& findings) {
  const bool vane = governor.kind == GovernorKind::vane;
  const std::array<std::string_view, 2> others =
      vane ? std::array<std::string_view, 2>{"governor.weight", "governor.pad"}
           : std::array<std::string_view, 2>{"governor.vane", "governor.vane"};
  for (const Setting& setting : settings) {
    if (setting.source != Source::given ||
        std::none_of(others.begin(), others.end(),
                     [&](std::string_view other) { return setting.key.starts_with(other); }))
      continue;
    findings.push_back(
        {Level::warning, setting.key,
         fmt::format("is given, but the governor is a {}: it does nothing",
                     vane ? "vane" : "friction governor"),
         fmt::format("leave it out, or write governor.kind = \"{}\"", vane ? "friction" : "vane")});
  }
}

}  // namespace

BoxReading read_box(std::string_view text, const std::string& name, const ScaleFile& scale_file) {
  KeyReading<Box> reading = read_keys(box_schema(), text, name);
  add_scale_file(reading.value.scale, reading.places, scale_file);
  check_whole(reading.value, reading.places);
  Findings findings = find_doubts(reading.value);
  doubt_governor(reading.value.governor, reading.settings, findings);
  return {.box = std::move(reading.value),
          .settings = std::move(reading.settings),
          .findings = std::move(findings)};
}

}  // namespace combwright::box
