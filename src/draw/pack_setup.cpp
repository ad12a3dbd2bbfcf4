// SPDX-License-Identifier: Apache-2.0
#include <fmt/core.h>

#include "draw/caution_box.h"
#include "draw/cautions.h"
#include "draw/pack_document.h"
#include "draw/setup.h"
#include "draw/setup_sketch.h"
#include "draw/words.h"

namespace combwright::draw {
namespace {

constexpr double step_name_mm = 26.0;

}  // namespace

void add_setup(PackDocument& document, const PackInput& input) {
  document.new_page("At the punch");
  for (const auto& [what, how] : setup_steps(input.box, input.shop, input.disc)) {
    document.entry(what, how, step_name_mm);
  }
  document.move_down(2.0);
  add_setup_sketch(document, input);
  const auto& tour = input.disc.tour;
  document.paragraph(
      fmt::format("Moves {} (no order of hits could take less than {}), strokes {}; {} in all.",
                  duration_words(tour.length_s), duration_words(tour.bound_s),
                  duration_words(punching_time_s(input.shop, input.disc) - tour.length_s),
                  duration_words(punching_time_s(input.shop, input.disc))));
  add_caution_box(document, disc_cautions(input.box, input.shop));
}

}  // namespace combwright::draw
