// SPDX-License-Identifier: Apache-2.0
#include "draw/comb_drawing.h"

#include <fmt/format.h>

#include "music/pitch.h"
#include "steel/comb_lists.h"

namespace combwright::draw {
namespace {

// Room over each comb for its text.
constexpr double text_room_m = 0.02;
constexpr double text_height_m = 0.001;

Point at(double x_m, double y_m) {
  return {to_lattice(x_m), to_lattice(y_m)};
}

Polyline rectangle(double left_m, double right_m, double low_m, double high_m) {
  return {{at(left_m, low_m), at(right_m, low_m), at(right_m, high_m), at(left_m, high_m)}};
}

void add_tooth(Drawing& drawing, const steel::CombTooth& tooth, double radius_m, double tips_m) {
  const double length = steel::length_m(tooth.as_cut);
  for (const steel::Lead& lead : tooth.as_cut.leads) {
    const double middle = tips_m + length - lead.center_m;
    drawing.add(Layer::marks,
                rectangle(radius_m - 0.5 * lead.width_m, radius_m + 0.5 * lead.width_m,
                          middle - 0.5 * lead.length_m, middle + 0.5 * lead.length_m));
  }
  const auto text = [&](double above_m, const std::string& words) {
    drawing.add(Layer::text, Text{at(radius_m, tips_m + length + above_m),
                                  to_lattice(text_height_m), Anchor::middle, words});
  };
  // Neighbours take turns, so that no text lies on the next.
  const double step = tooth.track % 2 == 0 ? 3.0 * text_height_m : 0.0;
  text(1.5 * text_height_m + step, music::note_name(tooth.midi));
  text(3.0 * text_height_m + step, fmt::format("{}", tooth.track));
}

}  // namespace

Drawing comb_drawing(const box::Box& box, const std::vector<steel::CombDesign>& designs,
                     const std::string& title) {
  Drawing drawing{.title = title, .items = {}};
  const std::vector<box::Track> tracks = box::tracks(box);
  // First of all, so that the file is soon known for what it is.
  drawing.add(Layer::text, Text{at(tracks.front().radius_m, -0.01), to_lattice(2.0 * text_height_m),
                                Anchor::start, title + ", by combwright"});
  double tips_m = 0.0;
  for (std::size_t comb = 0; comb < designs.size(); ++comb) {
    const steel::CombDesign& design = designs[comb];
    const std::vector<steel::SawCut> cuts = steel::saw_cuts(box, design);
    const double half_kerf = 0.5 * box.combs[comb].tooth_gap_m;
    drawing.add(Layer::edge,
                Line{at(cuts.front().radius_m, tips_m), at(cuts.back().radius_m, tips_m)});
    Polyline root_line{{}, false};
    for (const steel::SawCut& cut : cuts) {
      drawing.add(Layer::edge, rectangle(cut.radius_m - half_kerf, cut.radius_m + half_kerf, tips_m,
                                         tips_m + cut.length_m));
      root_line.points.push_back(at(cut.radius_m, tips_m + cut.length_m));
    }
    drawing.add(Layer::marks, root_line);
    for (std::size_t i = 0; i < tracks.size(); ++i)
      add_tooth(drawing, design.teeth[i], tracks[i].radius_m, tips_m);
    drawing.add(Layer::text,
                Text{at(cuts.front().radius_m, tips_m - 4.0 * text_height_m),
                     to_lattice(2.0 * text_height_m), Anchor::start,
                     design.name.starts_with("comb") ? design.name : "comb " + design.name});
    tips_m += box.combs[comb].longest_tooth_m + text_room_m;
  }
  return drawing;
}

}  // namespace combwright::draw
