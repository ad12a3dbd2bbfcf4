// SPDX-License-Identifier: Apache-2.0
#include "box/box_reader.h"

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

}  // namespace

BoxReading read_box(std::string_view text, const std::string& name, const ScaleFile& scale_file) {
  KeyReading<Box> reading = read_keys(box_schema(), text, name);
  add_scale_file(reading.value.scale, reading.places, scale_file);
  check_whole(reading.value, reading.places);
  return {.box = reading.value,
          .settings = std::move(reading.settings),
          .findings = find_doubts(reading.value)};
}

}  // namespace combwright::box
