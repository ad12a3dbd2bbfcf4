// SPDX-License-Identifier: Apache-2.0
#include "draw/box_section.h"

#include "draw/section_figures.h"

namespace combwright::draw {

std::vector<Figure> box_section(const box::Box& box,
                                const std::vector<steel::CombDesign>& designs) {
  const SectionScene scene{box, designs};
  return {along_figure(scene), across_figure(scene), action_figure(scene), motor_figure(scene)};
}

}  // namespace combwright::draw
