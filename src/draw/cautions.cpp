// SPDX-License-Identifier: Apache-2.0
#include "draw/cautions.h"

#include <algorithm>
#include <cctype>
#include <utility>

#include <fmt/core.h>

#include "base/quantity.h"
#include "disc/shop_checks.h"
#include "steel/weight_caution.h"

namespace combwright::draw {
namespace {

using Sentences = std::vector<std::string>;

Sentences joined(Sentences first, Sentences second) {
  std::move(second.begin(), second.end(), std::back_inserter(first));
  return first;
}

std::string snapping_caution() {
  return "Sawn edges and tips are sharp, and a hard tooth can snap and fly: protect your eyes when "
         "you file, clip and pluck too.";
}

// Whatever is done to a motor that may be wound.
Sentences wound_cautions() {
  return {
      spring_caution(),
      "Let it down with a key in the hand and the click held off, a little at a time; never by "
      "letting it run.",
      "Winding the strip into its barrel: goggles and gloves, a winder and a guard between you "
      "and the strip, nobody in line with it. A strip that slips out of its eye whips.",
      "Look at the strip's eyes and at the hook on arbor and wall before every winding: a torn "
      "eye lets all of it go at once.",
      "A wound train without its governor runs away: keep fingers and hair out.",
      "Stop work is set with tension in the spring: hold it by the key, eyes protected. Let the "
      "spring down before the stop work comes off.",
  };
}

}  // namespace

Sentences punch_cautions(const box::Box& box, const box::Shop& shop) {
  return {
      fmt::format("The punch closes with about {}: hands out, guard or two-hand stroke.",
                  to_text(disc::stroke_force_n(box, shop), Dimension::force)),
      "Gloves off near rotating or closing tools.",
      "Disc edges and projections are sharp: deburr before handling.",
      "Run the program once without sheet or tool and watch every axis.",
  };
}

std::string weight_caution_words(const box::Box& box) {
  const auto caution = steel::weight_caution(box.lead.metal);
  if (!caution) return {};
  std::string words = fmt::format("{}: {}.", caution->what, caution->remedy);
  words.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(words.front())));
  return words;
}

Sentences comb_cautions(const box::Box& box, const std::vector<steel::CombDesign>& designs) {
  Sentences cautions{
      "Sawing, grinding and filing throw chips, sparks and steel dust: clamp the plate, guard the "
      "wheel, protect eyes and ears, keep the dust out of your lungs.",
      "Hardening and blueing: hot steel, oil and salt burn, flare up and spit. Face shield, good "
      "air, a lid for the oil, nothing wet near it.",
      snapping_caution(),
  };
  if (!steel::any_leaded(designs)) return cautions;
  cautions.emplace_back("Soldering weights: good air for the fumes of flux and metal.");
  if (std::string weights = weight_caution_words(box); !weights.empty())
    cautions.push_back(std::move(weights));
  return cautions;
}

Sentences tuning_cautions(const box::Box& box, const steel::CombTooth& tooth) {
  Sentences cautions{snapping_caution()};
  if (tooth.leaded())
    if (std::string weights = weight_caution_words(box); !weights.empty())
      cautions.push_back(std::move(weights));
  return joined(std::move(cautions), general_cautions());
}

std::string spring_caution() {
  return "The spring stores enough energy to injure. Let it down fully before any work on barrel, "
         "train or governor; never open a wound barrel.";
}

Sentences setting_cautions() {
  return joined(
      {
          spring_caution(),
          "Set wheels and dampers with the spring let down, turning the disc by hand: wheels, "
          "dampers and the edge of the disc pinch and cut.",
          snapping_caution(),
      },
      general_cautions());
}

Sentences motor_cautions() {
  return joined(wound_cautions(), general_cautions());
}

Sentences general_cautions() {
  return {
      "These computed values are estimates; measure before you cut.",
      "Local rules on machines, metals, heat, dust and noise come first, and work that they "
      "reserve for licensed or trained people is theirs to do.",
  };
}

Sentences disc_cautions(const box::Box& box, const box::Shop& shop) {
  Sentences cautions = punch_cautions(box, shop);
  cautions.push_back(spring_caution());
  return joined(std::move(cautions), general_cautions());
}

Sentences pack_cautions(const box::Box& box, const box::Shop& shop,
                        const std::vector<steel::CombDesign>& designs) {
  Sentences cautions = joined(punch_cautions(box, shop), wound_cautions());
  return joined(joined(std::move(cautions), comb_cautions(box, designs)), general_cautions());
}

Sentences comb_sheet_cautions(const box::Box& box, const std::vector<steel::CombDesign>& designs) {
  return joined(comb_cautions(box, designs), general_cautions());
}

Sentences certificate_cautions(const box::Box& box) {
  Sentences cautions;
  if (std::string weights = weight_caution_words(box); !weights.empty())
    cautions.push_back(std::move(weights));
  return joined(std::move(cautions), general_cautions());
}

}  // namespace combwright::draw
