// SPDX-License-Identifier: Apache-2.0
#include "box/shop_keys.h"

#include <cassert>

#include "box/key_binding.h"
#include "box/paper_size.h"

namespace combwright::box {
namespace {

using D = Dimension;
using enum Otherwise;

using Keys = std::vector<Key<Shop>>;

// Of a name that is not known the reader asks for width and height.
PaperSize size_or_a4(std::string_view name) {
  return paper_size(name).value_or(paper_size("A4").value());
}

Keys punch_keys() {
  return {
      later<Shop>({{"",
                    "name",
                    Kind::text,
                    {},
                    "",
                    "",
                    fallback,
                    "workshop",
                    "What the workshop is called."},
                   set_own<&Shop::name>}),
      {{"punch", "radial_speed", Kind::quantity, D::speed, "0.1 mm/s", "10 m/s", fallback,
        "50 mm/s", "Of the slide."},
       set<&Shop::punch, &Punch::radial_speed_m_s>},
      {{"punch", "radial_acceleration", Kind::quantity, D::acceleration, "1 mm/s2", "100 m/s2",
        fallback, "500 mm/s2", "Of the slide."},
       set<&Shop::punch, &Punch::radial_acceleration_m_s2>},
      {{"punch", "rotary_speed", Kind::quantity, D::angular_speed, "0.1 deg/s", "10000 deg/s",
        fallback, "90 deg/s", "Of the table."},
       set<&Shop::punch, &Punch::rotary_speed_rad_s>},
      {{"punch", "rotary_acceleration", Kind::quantity, D::angular_acceleration, "1 deg/s2",
        "100000 deg/s2", fallback, "360 deg/s2", "Of the table."},
       set<&Shop::punch, &Punch::rotary_acceleration_rad_s2>},
      {{"punch", "stroke_time", Kind::quantity, D::time, "1 ms", "60 s", fallback, "250 ms",
        "Down and up again."},
       set<&Shop::punch, &Punch::stroke_time_s>},
      {{"punch", "up", Kind::quantity, D::length, "0.1 mm", "200 mm", fallback, "5 mm",
        "Height of the tool over the sheet between hits."},
       set<&Shop::punch, &Punch::up_m>},
      {{"punch", "down", Kind::quantity, D::length, "-20 mm", "0 mm", fallback, "-2 mm",
        "Height of the tool at the bottom of the stroke."},
       set<&Shop::punch, &Punch::down_m>},
      {{"punch", "feed", Kind::quantity, D::speed, "0.1 mm/s", "10 m/s", fallback, "20 mm/s",
        "Of the stroke down."},
       set<&Shop::punch, &Punch::feed_m_s>},
      {{"punch", "force_limit", Kind::quantity, D::force, "10 N", "1000000 N", fallback, "5000 N",
        "Greatest force of the press."},
       set<&Shop::punch, &Punch::force_limit_n>},
      {{"punch",
        "hit",
        Kind::stroke,
        {},
        "",
        "",
        fallback,
        "",
        "RS-274 lines of one stroke, if it is not a plain Z move down and up."},
       set<&Shop::punch, &Punch::hit>},
      {{"punch", "sheet_shear_strength", Kind::quantity, D::pressure, "10 MPa", "2000 MPa",
        fallback, "300 MPa", "Of the sheet; about 0.8 of its tensile strength."},
       set<&Shop::punch, &Punch::sheet_shear_strength_pa>},
  };
}

Keys stock_keys() {
  return {
      {{"paper",
        "name",
        Kind::text,
        {},
        "",
        "",
        fallback,
        "A4",
        "Of the printer's paper: A0 to A5, Letter, Legal, Tabloid, or any other with its width and "
        "height."},
       set<&Shop::paper, &Paper::name>},
      {{"paper", "width", Kind::quantity, D::length, "50 mm", "2 m", derived, "that of the name",
        "Upright."},
       set<&Shop::paper, &Paper::width_m>,
       [](const Shop& shop, std::size_t) -> Value { return size_or_a4(shop.paper.name).width_m; }},
      {{"paper", "height", Kind::quantity, D::length, "50 mm", "2 m", derived, "that of the name",
        "Upright."},
       set<&Shop::paper, &Paper::height_m>,
       [](const Shop& shop, std::size_t) -> Value { return size_or_a4(shop.paper.name).height_m; }},
      {{"paper", "margin", Kind::quantity, D::length, "0 mm", "24 mm", fallback, "10 mm",
        "That the printer leaves white."},
       set<&Shop::paper, &Paper::margin_m>},
      later<Shop>(
          {{"sheet", "material", Kind::text, {}, "", "", fallback, "steel", "Of the sheet."},
           set_row<&Shop::sheets, &SheetStock::material>}),
      {{"sheet", "thickness", Kind::quantity, D::length, "0.1 mm", "3 mm", fallback, "0.5 mm",
        "Of the sheet."},
       set_row<&Shop::sheets, &SheetStock::thickness_m>},
  };
}

Keys comb_stock_keys() {
  return {
      {{"steel", "plates", Kind::quantities, D::length, "0.3 mm", "20 mm", fallback, "2 mm, 3 mm",
        "Thicknesses of comb plate at hand."},
       set<&Shop::steel, &SteelStock::plate_thickness_m>},
      {{"lead", "bars", Kind::quantities, D::length, "0.1 mm", "50 mm", fallback,
        "0.3 mm, 0.5 mm, 0.8 mm, 1.2 mm, 2 mm, 3 mm, 4 mm, 6 mm, 8 mm, 10 mm",
        "Heights of the bars or sheets at hand for tuning weights; they are cut to the tooth's "
        "width."},
       set<&Shop::lead, &LeadStock::bar_m>},
      {{"lead", "section_spread", Kind::quantity, D::ratio, "0 %", "30 %", fallback, "4 %",
        "How well the weight of a length of bar is known beside its density: one standard "
        "deviation."},
       set<&Shop::lead, &LeadStock::section_spread>},
      {{"lead", "smallest_clip", Kind::quantity, D::mass, "0.01 mg", "10 g", fallback, "1 mg",
        "Least that the nippers can take off a tuning weight."},
       set<&Shop::lead, &LeadStock::smallest_clip_kg>},
  };
}

Keys motor_stock_keys() {
  return {
      {{"strip", "width", Kind::quantity, D::length, "1 mm", "200 mm", fallback, "30 mm",
        "Of the strip."},
       set_row<&Shop::strips, &StripStock::width_m>},
      {{"strip", "thickness", Kind::quantity, D::length, "0.05 mm", "3 mm", fallback, "0.5 mm",
        "Of the strip."},
       set_row<&Shop::strips, &StripStock::thickness_m>},
      {{"strip", "longest", Kind::quantity, D::length, "50 mm", "100 m", fallback, "10 m",
        "Piece of it that can be had."},
       set_row<&Shop::strips, &StripStock::longest_m>},
      {{"gears", "modules", Kind::quantities, D::length, "0.1 mm", "10 mm", fallback,
        "0.4 mm, 0.5 mm, 0.6 mm, 0.8 mm, 1 mm", "That the cutters at hand have."},
       set<&Shop::gears, &GearStock::module_m>},
      {{"gears",
        "pinions",
        Kind::integers,
        {},
        "5",
        "100",
        fallback,
        "6, 7, 8, 10, 12",
        "Leaves of the pinions that can be cut."},
       set<&Shop::gears, &GearStock::pinion_teeth>},
      {{"gears",
        "most_teeth",
        Kind::integer,
        {},
        "12",
        "400",
        fallback,
        "120",
        "Of a wheel that can be cut."},
       set<&Shop::gears, &GearStock::most_teeth>},
  };
}

Keys hand_keys() {
  return {
      {{"hand", "clip_bias", Kind::quantity, D::ratio, "0 %", "50 %", fallback, "8 %",
        "How far all clips of a tooth may be longer or shorter than told: one standard deviation."},
       set<&Shop::hand, &Hand::clip_bias>},
      {{"hand", "clip_scatter", Kind::quantity, D::ratio, "1 %", "50 %", fallback, "8 %",
        "How far one clip strays from the others: one standard deviation."},
       set<&Shop::hand, &Hand::clip_scatter>},
      {{"hand", "file_bias", Kind::quantity, D::ratio, "0 %", "50 %", fallback, "20 %",
        "The same as `clip_bias` of what is filed off."},
       set<&Shop::hand, &Hand::file_bias>},
      {{"hand", "file_scatter", Kind::quantity, D::ratio, "1 %", "50 %", fallback, "20 %",
        "The same as `clip_scatter` of what is filed off."},
       set<&Shop::hand, &Hand::file_scatter>},
  };
}

Keys tolerance_keys() {
  return {
      later<Shop>({{"tolerance", "angle", Kind::quantity, D::angle, "0.0001 deg", "5 deg", fallback,
                    "0.01 deg", "Of the punch's table."},
                   set<&Shop::tolerance, &Tolerance::angle_rad>}),
      later<Shop>({{"tolerance", "radius", Kind::quantity, D::length, "0.1 um", "5 mm", fallback,
                    "0.05 mm", "Of the punch's slide."},
                   set<&Shop::tolerance, &Tolerance::radius_m>}),
      {{"tolerance", "pitch", Kind::quantity, D::interval, "0.01 cent", "50 cent", fallback,
        "2 cent", "Of a tuned tooth."},
       set<&Shop::tolerance, &Tolerance::pitch_cents>},
      {{"tolerance", "axis_height", Kind::quantity, D::length, "0 mm", "5 mm", fallback, "0.03 mm",
        "Of a star wheel's axis from the disc."},
       set<&Shop::action_tolerance, &ActionTolerance::axis_height_m>},
      {{"tolerance", "axle_play", Kind::quantity, D::length, "0 mm", "5 mm", fallback, "0.02 mm",
        "Of a star wheel in its bearings, to either side of the middle."},
       set<&Shop::action_tolerance, &ActionTolerance::axle_play_m>},
      {{"tolerance", "projection_height", Kind::quantity, D::length, "0 mm", "5 mm", fallback,
        "0.05 mm", "Of one projection."},
       set<&Shop::action_tolerance, &ActionTolerance::projection_height_m>},
      {{"tolerance", "comb_overlap", Kind::quantity, D::length, "0 mm", "5 mm", fallback, "0.01 mm",
        "How far the points of the star wheels reach past the teeth."},
       set<&Shop::action_tolerance, &ActionTolerance::comb_overlap_m>},
      {{"tolerance", "comb_level", Kind::quantity, D::length, "0 mm", "5 mm", fallback, "0.03 mm",
        "Of the teeth from the axes of the star wheels."},
       set<&Shop::action_tolerance, &ActionTolerance::comb_level_m>},
      {{"tolerance", "eccentricity", Kind::quantity, D::length, "0 mm", "5 mm", fallback, "0.05 mm",
        "Of the disc on its spindle."},
       set<&Shop::action_tolerance, &ActionTolerance::eccentricity_m>},
  };
}

Schema<Shop> shop_keys() {
  Schema<Shop> schema{
      .thing = "shop",
      .sections =
          {
              {"punch", "A punch with a rotary table for the disc and a radial slide."},
              {"paper", "For drawings at full size."},
              {"sheet", "One for each kind of sheet at hand.", 0, 40},
              {"steel", "For combs."},
              {"lead", "For tuning weights."},
              {"strip", "One for each kind of spring strip at hand.", 0, 40},
              {"gears", "Wheels and pinions of the motor."},
              {"hand", "How well the tuner takes off what was told."},
              {"tolerance", "How closely the workshop works: nearly all its pieces within that."},
          },
      .keys = punch_keys(),
      .resize =
          [](Shop& shop, std::string_view section, std::size_t rows) {
            assert(section == "sheet" || section == "strip");
            if (section == "sheet")
              shop.sheets.resize(rows);
            else
              shop.strips.resize(rows);
          },
  };
  for (const Keys& part :
       {stock_keys(), comb_stock_keys(), motor_stock_keys(), hand_keys(), tolerance_keys()})
    schema.keys.insert(schema.keys.end(), part.begin(), part.end());
  return schema;
}

}  // namespace

const Schema<Shop>& shop_schema() {
  static const Schema<Shop> schema = shop_keys();
  return schema;
}

}  // namespace combwright::box
