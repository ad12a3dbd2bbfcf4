// SPDX-License-Identifier: Apache-2.0
#include "box/box_keys.h"

#include <cassert>

#include "box/box_key_parts.h"

namespace combwright::box {
namespace {

Schema<Box> make_schema() {
  Schema<Box> schema{
      .thing = "box",
      .sections =
          {
              {"disc", "The disc."},
              {"projection", "What one stroke of the punch leaves: a rectangle along the track."},
              {"tracks", "Tracks are numbered from 1, innermost first."},
              {"star_wheel", "One for each track, under the disc."},
              {"comb", "One or two; with two, every star wheel plucks a pair.", 1, 2},
              {"scale", "What the teeth are tuned to."},
              {"steel", "Of the combs."},
              {"lead", "The tuning weights, whatever their metal."},
              {"learnt",
               "What pitches as cut have told of the combs, as `comb --learn` prints it. It "
               "belongs "
               "to the spreads that are printed with it."},
              {"damper", "Stills a tooth before it is plucked again."},
              {"motor", "What arranger, layout and winder ask of it."},
              {"spring", "In its barrel."},
              {"train", "From the barrel up to the governor."},
              {"governor", "Holds the speed; give the keys of its kind."},
              {"friction", "What the motor overcomes beside the teeth."},
              {"hold_down", "The bar over the disc."},
              {"cabinet", "The air under the soundboard."},
              {"soundboard", "The board that the bedplate stands on."},
          },
      .keys = {},
      .resize =
          [](Box& box, std::string_view section, std::size_t rows) {
            assert(section == "comb");
            static_cast<void>(section);
            box.combs.resize(rows);
          },
  };
  for (const BoxKeys& part :
       {top_keys(), disc_keys(), track_keys(), comb_keys(), tooth_keys(), comb_limit_keys(),
        scale_keys(), material_keys(), learnt_keys(), damper_keys(), motor_keys(), spring_keys(),
        train_keys(), friction_keys(), hold_down_keys(), case_keys(), wood_keys()})
    schema.keys.insert(schema.keys.end(), part.begin(), part.end());
  return schema;
}

}  // namespace

const Schema<Box>& box_schema() {
  static const Schema<Box> schema = make_schema();
  return schema;
}

}  // namespace combwright::box
