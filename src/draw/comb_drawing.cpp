// SPDX-License-Identifier: Apache-2.0
#include "draw/comb_drawing.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "music/pitch.h"
#include "steel/comb_lists.h"

namespace combwright::draw {
namespace {

constexpr double heading_height_m = 0.002;
constexpr double small_height_m = 0.0015;
constexpr double combs_apart_m = 0.012;
// From the line of the tips down to the upper side of the steel in the view from the tips.
constexpr double views_apart_m = 0.014;

Polyline rectangle(double left_m, double right_m, double low_m, double high_m) {
  return {
      {point(left_m, low_m), point(right_m, low_m), point(right_m, high_m), point(left_m, high_m)}};
}

// One comb in a drawing, its tips at a height.
class CombDrawer {
 public:
  CombDrawer(Drawing& drawing, const box::Box& box, const box::Comb& comb,
             const steel::CombDesign& design, const ToothLabels& labels, double tips_m)
      : drawing_(drawing),
        comb_(comb),
        design_(design),
        labels_(labels),
        tracks_(box::tracks(box)),
        cuts_(steel::saw_cuts(box, comb, design)),
        plate_(steel::plate(box, comb, design)),
        tips_m_(tips_m) {}

  void draw() {
    add_names();
    add_cuts();
    add_plate();
    for (std::size_t i = 0; i < tracks_.size(); ++i) {
      add_weights_from_below(design_.teeth[i], tracks_[i].radius_m);
      add_from_tips(design_.teeth[i], tracks_[i].radius_m);
    }
    if (labels_.every > 1) {
      add_some_labels();
    } else {
      for (std::size_t i = 0; i < tracks_.size(); ++i) add_label_in_turns(i);
    }
  }

 private:
  void add_text(double x_m, double y_m, double height_m, Anchor anchor, const std::string& words) {
    drawing_.add(Layer::text, Text{point(x_m, y_m), to_lattice(height_m), anchor, words});
  }

  // No line may reach far past a narrow comb.
  void add_names() {
    const double left = plate_.inner_radius_m;
    const double right = left + plate_.width_m;
    add_text(right, tips_m_ - 0.7 * heading_height_m - small_height_m, small_height_m, Anchor::end,
             "tips");
    add_text(left + small_height_m, tips_m_ + plate_.depth_m - 2.0 * small_height_m, small_height_m,
             Anchor::start, "back");
    add_text(left, tips_m_ - 2.5 * heading_height_m, heading_height_m, Anchor::start,
             box::comb_words(design_.name) + ", from below");
    const double views_m = tips_m_ - views_apart_m;
    add_text(left, views_m + 2.0 * heading_height_m, heading_height_m, Anchor::start,
             "from the tips");
    add_text(left, views_m + small_height_m, small_height_m, Anchor::start,
             "thickness at the root, tip as cut, weight");
  }

  // Open at the tips, with the line of the tips from slot to slot, so that nothing is cut twice.
  void add_cuts() {
    const double half_kerf = 0.5 * comb_.tooth_gap_m;
    Polyline root_line{{}, false};
    for (std::size_t i = 0; i < cuts_.size(); ++i) {
      const double left = cuts_[i].radius_m - half_kerf;
      const double right = cuts_[i].radius_m + half_kerf;
      const double end = tips_m_ + cuts_[i].length_m;
      drawing_.add(Layer::edge, Polyline{{point(left, tips_m_), point(left, end), point(right, end),
                                          point(right, tips_m_)},
                                         false});
      if (i + 1 < cuts_.size())
        drawing_.add(Layer::edge, Line{point(right, tips_m_),
                                       point(cuts_[i + 1].radius_m - half_kerf, tips_m_)});
      root_line.points.push_back(point(cuts_[i].radius_m, end));
    }
    drawing_.add(Layer::marks, root_line);
  }

  // From the end of the innermost cut round the back to that of the outermost: the rest of the edge
  // is the outer walls of these cuts.
  void add_plate() {
    const double left = plate_.inner_radius_m;
    const double right = left + plate_.width_m;
    const double back = tips_m_ + plate_.depth_m;
    drawing_.add(Layer::edge,
                 Polyline{{point(left, tips_m_ + cuts_.front().length_m), point(left, back),
                           point(right, back), point(right, tips_m_ + cuts_.back().length_m)},
                          false});
    for (const double radius_m : plate_.screw_radius_m) {
      drawing_.add(Layer::holes, Circle{point(radius_m, tips_m_ + plate_.screws_from_tips_m),
                                        to_lattice(0.5 * comb_.screw_hole_m)});
    }
  }

  void add_weights_from_below(const steel::CombTooth& tooth, double radius_m) {
    const double length = steel::length_m(tooth.as_cut);
    for (const steel::Lead& lead : tooth.as_cut.leads) {
      const double middle = tips_m_ + length - lead.center_m;
      drawing_.add(Layer::marks,
                   rectangle(radius_m - 0.5 * lead.width_m, radius_m + 0.5 * lead.width_m,
                             middle - 0.5 * lead.length_m, middle + 0.5 * lead.length_m));
    }
  }

  // Note below track, at this height over the line of the tips.
  void add_label(std::size_t i, double x_m, double above_m, Anchor anchor) {
    const double height = labels_.height_m;
    const steel::CombTooth& tooth = design_.teeth[i];
    add_text(x_m, tips_m_ + above_m, height, anchor, music::note_name(tooth.midi));
    add_text(x_m, tips_m_ + above_m + 1.5 * height, height, anchor, fmt::format("{}", tooth.track));
  }

  // Neighbours take turns, so that no text lies on the next.
  void add_label_in_turns(std::size_t i) {
    const double height = labels_.height_m;
    const double step = design_.teeth[i].track % 2 == 0 ? 3.0 * height : 0.0;
    add_label(i, tracks_[i].radius_m,
              steel::length_m(design_.teeth[i].as_cut) + 1.5 * height + step, Anchor::middle);
  }

  // Of the first tooth, the last, and those between them that have the room.
  void add_some_labels() {
    const double width = 3.5 * labels_.height_m;
    const double first = tracks_.front().radius_m;
    const double last = tracks_.back().radius_m;
    for (std::size_t i = 0; i < tracks_.size(); ++i) {
      const double x = tracks_[i].radius_m;
      const bool at_an_end = i == 0 || i + 1 == tracks_.size();
      const bool has_room = x - first > 1.25 * width && last - x > 1.25 * width;
      if (!at_an_end && (tracks_[i].number % labels_.every != 0 || !has_room)) continue;
      // The outermost stay within the plate; all stand clear of the root line beside them.
      const Anchor anchor = i == 0 ? Anchor::start : at_an_end ? Anchor::end : Anchor::middle;
      double longest = 0.0;
      for (std::size_t k = 0; k < tracks_.size(); ++k) {
        if (std::abs(tracks_[k].radius_m - x) < (at_an_end ? width : 0.6 * width))
          longest = std::max(longest, steel::length_m(design_.teeth[k].as_cut));
      }
      add_label(i, x, longest + 0.6 * labels_.height_m, anchor);
    }
  }

  void add_from_tips(const steel::CombTooth& tooth, double radius_m) {
    const double top = tips_m_ - views_apart_m;
    const steel::Section& steel = tooth.as_cut.sections.front();
    const double left = radius_m - 0.5 * steel.root_width_m;
    const double right = radius_m + 0.5 * steel.root_width_m;
    drawing_.add(Layer::marks, rectangle(left, right, top - steel.root_thickness_m, top));
    const double tip = top - steel.tip_thickness_m;
    drawing_.add(Layer::marks, Line{point(left, tip), point(right, tip)});
    for (const steel::Lead& lead : tooth.as_cut.leads) {
      const double under = top - steel::thickness_m(tooth.as_cut, lead.center_m);
      drawing_.add(Layer::marks,
                   rectangle(radius_m - 0.5 * lead.width_m, radius_m + 0.5 * lead.width_m,
                             under - lead.height_m, under));
    }
  }

  Drawing& drawing_;
  const box::Comb& comb_;
  const steel::CombDesign& design_;
  ToothLabels labels_;
  std::vector<box::Track> tracks_;
  std::vector<steel::SawCut> cuts_;
  steel::Plate plate_;
  double tips_m_;
};

// Under the line of the tips.
double depth_m(const steel::CombDesign& design) {
  double thickest = 0.0;
  for (const steel::CombTooth& tooth : design.teeth) {
    const steel::Section& steel = tooth.as_cut.sections.front();
    double thickness = std::max(steel.root_thickness_m, steel.tip_thickness_m);
    for (const steel::Lead& lead : tooth.as_cut.leads)
      thickness =
          std::max(thickness, steel::thickness_m(tooth.as_cut, lead.center_m) + lead.height_m);
    thickest = std::max(thickest, thickness);
  }
  return views_apart_m + thickest;
}

}  // namespace

Drawing comb_drawing(const box::Box& box, const box::Comb& comb, const steel::CombDesign& design,
                     const ToothLabels& labels) {
  Drawing drawing{.title = box::comb_words(design.name), .items = {}};
  CombDrawer(drawing, box, comb, design, labels, 0.0).draw();
  return drawing;
}

Drawing comb_drawing(const box::Box& box, const std::vector<steel::CombDesign>& designs,
                     const std::string& title) {
  Drawing drawing{.title = title, .items = {}};
  // First of all, so that the file is soon known for what it is.
  drawing.add(Layer::text,
              Text{point(box::tracks(box).front().radius_m, -0.01), to_lattice(heading_height_m),
                   Anchor::start, title + ", by combwright"});
  double below_m = 0.0;
  for (std::size_t i = 0; i < designs.size(); ++i) {
    const double tips_m = below_m + depth_m(designs[i]);
    CombDrawer(drawing, box, box.combs[i], designs[i], {}, tips_m).draw();
    below_m = tips_m + steel::plate(box, box.combs[i], designs[i]).depth_m + combs_apart_m;
  }
  return drawing;
}

}  // namespace combwright::draw
