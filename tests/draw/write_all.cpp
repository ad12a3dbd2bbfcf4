// SPDX-License-Identifier: Apache-2.0
// Writes every file of an invented disc into a folder, with the truth beside them as JSON, for
// readers that know nothing of us: write_all FOLDER clockwise|counter_clockwise plain|hostile
#include <chrono>
#include <exception>
#include <string>

#include <fmt/core.h>
#include <nlohmann/json.hpp>

#include "base/file.h"
#include "draw/disc_drawing.h"
#include "draw/drawing_pdf.h"
#include "draw/dxf.h"
#include "draw/made_disc.h"
#include "draw/pack_pdf.h"
#include "draw/projection_table.h"
#include "draw/punch_program.h"
#include "draw/svg.h"
#include "draw/track_table.h"

using namespace combwright;

namespace {

const char* const hostile_title =
    "M2) \"G0\" (MSG,\n%%d ^J \\P <b>&amp;</b> ]]> Für Élise; =1+1, 小夜曲 \xff\xfe \xe2\x80\xae "
    "a title that goes on and on and on and on and on and on and on and on and on and on and on "
    "and on and on and on and on and on and on and on and on and on and on and on and on and on";

nlohmann::json truth(const draw_test::MadeDisc& made, const box::Shop& shop) {
  nlohmann::json out;
  out["turn_time_s"] = made.arrangement.turn_time_s;
  out["clockwise"] = made.box.disc.turning == box::Turning::clockwise;
  out["diameter_mm"] = made.box.disc.diameter_m * 1000.0;
  out["paper_mm"] = {shop.paper.width_m * 1000.0, shop.paper.height_m * 1000.0};
  out["up_mm"] = shop.punch.up_m * 1000.0;
  out["down_mm"] = shop.punch.down_m * 1000.0;
  out["title"] = made.disc.title.substr(0, 12);
  out["rest_mm"] = made.box.disc.diameter_m * 500.0 + made.box.projection.width_m * 500.0 + 5.0;
  out["start_gap_deg"] = made.box.disc.start_gap_rad * 360.0 / draw_test::turn;
  out["checksum"] = made.stamp.checksum;
  for (const auto& track : made.arrangement.tracks) {
    out["tracks"].push_back({{"track", track.track},
                             {"radius_mm", track.radius_m * 1000.0},
                             {"midi", track.midi},
                             {"arc_mm", made.release_arc_m.at(track.track - 1) * 1000.0}});
  }
  for (const auto& pluck : made.arrangement.plucks) {
    out["plucks"].push_back({pluck.time_s, pluck.track});
  }
  for (const auto& hit : made.disc.projections) out["tour"].push_back({hit.track, hit.time_s});
  return out;
}

void write_all(const std::string& folder, const draw_test::Wish& wish) {
  const auto made = draw_test::made_disc(wish);
  const box::Shop shop;
  const auto put = [&folder](const std::string& name, const std::string& contents) {
    write_file(folder + "/" + name, contents);
  };
  const auto begin = std::chrono::steady_clock::now();
  const auto drawing = draw::draw_disc(made.box, made.disc);
  put("disc.dxf", draw::write_dxf(drawing));
  put("disc.svg", draw::write_svg(drawing));
  put("disc.pdf", draw::write_drawing_pdf(drawing, made.stamp));
  put("disc-tiled.pdf", draw::write_tiled_pdf(drawing, shop.paper, made.stamp));
  put("disc.csv", draw::write_projection_table(made.disc));
  put("tracks.csv", draw::write_track_table(made.box, made.arrangement));
  put("disc.ngc", draw::write_punch_program(made.box, shop, made.disc, made.stamp));
  box::Shop valve_shop;
  valve_shop.punch.hit = {"M7 (press)", "G4 P0.1", "M9"};
  put("disc-valve.ngc", draw::write_punch_program(made.box, valve_shop, made.disc, made.stamp));
  box::Shop slow_shop;
  slow_shop.punch.hit = {"G1 Z-1 F300", "g1 z -2.5 f60", "G4 P0.2", "G0 Z4"};
  put("disc-slow.ngc", draw::write_punch_program(made.box, slow_shop, made.disc, made.stamp));
  put("pack.pdf",
      draw::write_pack_pdf(made.box, shop, {}, nullptr, made.arrangement, made.disc, made.stamp));
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begin;
  fmt::print("{} projections, {:.3f} s\n", made.disc.projections.size(), took.count());
  box::Shop small_shop;
  small_shop.paper = {"A5", 0.148, 0.210, 0.010};
  put("pack-a5.pdf", draw::write_pack_pdf(made.box, small_shop, {}, nullptr, made.arrangement,
                                          made.disc, made.stamp));
  put("truth.json", truth(made, shop).dump());
}

}  // namespace

int main(int argc, char** argv) {
  try {
    if (argc < 4) return 2;
    draw_test::Wish wish;
    if (std::string(argv[2]) == "counter_clockwise") {
      wish.turning = box::Turning::counter_clockwise;
    }
    if (std::string(argv[3]) == "hostile") wish.title = wish.box_name = hostile_title;
    if (argc > 4) wish.notes = std::stoi(argv[4]);
    write_all(argv[1], wish);
    return 0;
  } catch (const std::exception& error) {
    fmt::print(stderr, "{}\n", error.what());
    return 1;
  }
}
