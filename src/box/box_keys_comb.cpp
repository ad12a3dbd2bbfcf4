// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <cmath>

#include "box/box_key_parts.h"
#include "box/key_binding.h"

namespace combwright::box {
namespace {

using D = Dimension;
using enum Otherwise;

// Lead and tungsten from memory (text-book values of the pure metals); eutectic tin-bismuth
// between its parts' moduli, 8560 to 8700 kg/m3 in data sheets.
struct WeightStock {
  double modulus_pa;
  double density_kg_m3;
};
constexpr std::array<WeightStock, 3> weight_stock{
    WeightStock{16e9, 11340.0}, {400e9, 19250.0}, {38e9, 8600.0}};

const WeightStock& stock(const Lead& lead) {
  return weight_stock.at(static_cast<std::size_t>(lead.metal));
}

}  // namespace

BoxKeys tooth_keys() {
  return {
      {{"comb", "tooth_gap", Kind::quantity, D::length, "0.05 mm", "10 mm", fallback, "0.4 mm",
        "The saw's kerf between two teeth."},
       set_row<&Box::combs, &Comb::tooth_gap_m>},
      {{"comb", "tooth_width", Kind::quantity, D::length, "0.2 mm", "20 mm", derived,
        "tracks.pitch less tooth_gap", "Of a tooth."},
       set_row<&Box::combs, &Comb::tooth_width_m>,
       [](const Box& box, std::size_t row) -> Value {
         return box.tracks.pitch_m - box.combs[row].tooth_gap_m;
       }},
      {{"comb", "plate_thickness", Kind::quantity, D::length, "0.3 mm", "20 mm", fallback, "3 mm",
        "Of the plate it is cut from; no tooth is thicker."},
       set_row<&Box::combs, &Comb::plate_thickness_m>},
      {{"comb", "bar_depth", Kind::quantity, D::length, "1 mm", "200 mm", fallback, "15 mm",
        "Of the plate behind the root of the longest tooth, where it is screwed down."},
       set_row<&Box::combs, &Comb::bar_depth_m>},
      {{"comb",
        "screws",
        Kind::integer,
        {},
        "0",
        "40",
        derived,
        "one for every 40 mm of the comb, at least 2",
        "That hold it down, in a row along the middle of the bar's depth."},
       set_row<&Box::combs, &Comb::screws>,
       [](const Box& box, std::size_t) -> Value {
         constexpr double most_apart_m = 0.040;
         const double width_m = box.tracks.count * box.tracks.pitch_m;
         return std::max(2, static_cast<int>(std::ceil(width_m / most_apart_m - 1e-9)));
       }},
      {{"comb", "screw_hole", Kind::quantity, D::length, "0.5 mm", "20 mm", fallback, "4.5 mm",
        "Through hole of a screw; 4.5 mm is ISO 273's medium fit for M4."},
       set_row<&Box::combs, &Comb::screw_hole_m>},
      {{"comb", "longest_tooth", Kind::quantity, D::length, "5 mm", "300 mm", required, "",
        "Free length, root to tip, of the lowest note's tooth."},
       set_row<&Box::combs, &Comb::longest_tooth_m>},
      {{"comb", "shortest_tooth", Kind::quantity, D::length, "3 mm", "300 mm", required, "",
        "The same of the highest note's tooth."},
       set_row<&Box::combs, &Comb::shortest_tooth_m>},
  };
}

BoxKeys comb_limit_keys() {
  return {
      {{"comb", "thinnest", Kind::quantity, D::length, "0.05 mm", "10 mm", fallback, "0.2 mm",
        "That a tooth may be ground and filed."},
       set_row<&Box::combs, &Comb::thinnest_m>},
      {{"comb", "root_yield", Kind::quantity, D::ratio, "0 %", "100 %", fallback, "44 %",
        "How far the tooth bends behind its root line, as a share of its thickness."},
       set_row<&Box::combs, &Comb::root_yield>},
      {{"comb", "root_yield_spread", Kind::quantity, D::ratio, "0 %", "50 %", fallback, "10 %",
        "How well that is known: one standard deviation, also as a share of the thickness."},
       set_row<&Box::combs, &Comb::root_yield_spread>},
      {{"comb",
        "safety_factor",
        Kind::number,
        {},
        "1",
        "10",
        fallback,
        "1.5",
        "Against fatigue at the root, for any number of plucks."},
       set_row<&Box::combs, &Comb::safety_factor>},
      {{"comb", "least_flat", Kind::quantity, D::interval, "0 cent", "500 cent", fallback,
        "30 cent", "Least that a tooth is cut below its pitch, to be tuned up."},
       set_row<&Box::combs, &Comb::least_flat_cents>},
      {{"comb", "most_flat", Kind::quantity, D::interval, "1 cent", "600 cent", fallback, "80 cent",
        "Most that it is cut below."},
       set_row<&Box::combs, &Comb::most_flat_cents>},
      {{"comb", "lines", Kind::quantities, D::ratio, "0 %", "100 %", derived,
        "found, so that force and loudness run evenly",
        "Six shares that fix the comb's lines, as `comb` prints them: with them it keeps lengths "
        "and "
        "thicknesses, and only weights and tips follow pitch and steel."},
       set_row<&Box::combs, &Comb::lines>,
       [](const Box&, std::size_t) -> Value { return std::vector<double>{}; }},
      {{"comb", "room_below", Kind::quantity, D::length, "0.5 mm", "100 mm", fallback, "14 mm",
        "From the under side of the teeth down to the bedplate."},
       set_row<&Box::combs, &Comb::room_below_m>},
      {{"comb", "clearance", Kind::quantity, D::length, "0 mm", "10 mm", fallback, "0.1 mm",
        "Least air between what swings and its neighbour, the bedplate or the star wheel."},
       set_row<&Box::combs, &Comb::clearance_m>},
  };
}

BoxKeys material_keys() {
  return {
      {{"scale", "temperature", Kind::quantity, D::temperature, "-10 C", "50 C", fallback, "20 C",
        "At which the comb is in tune."},
       set<&Box::scale, &Scale::temperature_c>},
      {{"steel", "modulus", Kind::quantity, D::pressure, "50 GPa", "400 GPa", fallback, "205 GPa",
        "Young's modulus of the combs at 20 C."},
       set<&Box::steel, &Steel::modulus_pa>},
      {{"steel", "modulus_spread", Kind::quantity, D::ratio, "0 %", "20 %", fallback, "1.5 %",
        "How well that is known: one standard deviation, as a share of it."},
       set<&Box::steel, &Steel::modulus_spread>},
      {{"steel", "density", Kind::quantity, D::density, "1000 kg/m3", "20000 kg/m3", fallback,
        "7850 kg/m3", "Of the combs."},
       set<&Box::steel, &Steel::density_kg_m3>},
      {{"steel",
        "poisson_ratio",
        Kind::number,
        {},
        "0",
        "0.499",
        fallback,
        "0.29",
        "Of the combs."},
       set<&Box::steel, &Steel::poisson_ratio>},
      {{"steel", "strength", Kind::quantity, D::pressure, "100 MPa", "4000 MPa", fallback,
        "1340 MPa", "Tensile strength of the hardened and tempered combs."},
       set<&Box::steel, &Steel::strength_pa>},
      {{"lead",
        "metal",
        Kind::choice,
        {},
        "",
        "",
        fallback,
        "lead",
        "Tungsten is ground to length, the others are clipped.",
        {"lead", "tungsten", "tin-bismuth"}},
       set<&Box::lead, &Lead::metal>},
      {{"lead", "modulus", Kind::quantity, D::pressure, "1 GPa", "500 GPa", derived,
        "16, 400 or 38 GPa, by its metal", "Young's modulus of the tuning weights."},
       set<&Box::lead, &Lead::modulus_pa>,
       [](const Box& box, std::size_t) -> Value { return stock(box.lead).modulus_pa; }},
      {{"lead", "density", Kind::quantity, D::density, "1000 kg/m3", "25000 kg/m3", derived,
        "11340, 19250 or 8600 kg/m3, by its metal", "Of the tuning weights."},
       set<&Box::lead, &Lead::density_kg_m3>,
       [](const Box& box, std::size_t) -> Value { return stock(box.lead).density_kg_m3; }},
      {{"lead", "density_spread", Kind::quantity, D::ratio, "0 %", "20 %", fallback, "2 %",
        "How well that is known: one standard deviation, as a share of it."},
       set<&Box::lead, &Lead::density_spread>},
      {{"lead", "tip_gap", Kind::quantity, D::length, "0 mm", "50 mm", fallback, "1 mm",
        "From the tip end of a tuning weight, not yet clipped, to the tip of its tooth."},
       set<&Box::lead, &Lead::tip_gap_m>},
      {{"lead", "longest", Kind::quantity, D::ratio, "1 %", "80 %", fallback, "45 %",
        "Share of its tooth that a tuning weight may cover."},
       set<&Box::lead, &Lead::longest>},
      {{"lead", "coarsest_step", Kind::quantity, D::interval, "0.1 cent", "100 cent", fallback,
        "10 cent", "Most that 0.1 mm of a tuning weight may be worth."},
       set<&Box::lead, &Lead::coarsest_step_cents>},
  };
}

BoxKeys learnt_keys() {
  return {
      {{"learnt", "scatter", Kind::quantity, D::interval, "0.01 cent", "2000 cent", fallback,
        "5 cent", "How far one tooth as cut strays from the others: one standard deviation."},
       set<&Box::learnt, &Learnt::scatter_cents>},
      {{"learnt", "correlation", Kind::quantities, D::ratio, "-100 %", "100 %", fallback, "",
        "Between the root yields, comb by comb, the modulus and the density of the weights, of "
        "which the `_spread` keys tell how well they are known: first with second, third and so "
        "on, then second with third and so on."},
       set<&Box::learnt, &Learnt::correlation>},
  };
}

}  // namespace combwright::box
