// SPDX-License-Identifier: Apache-2.0
#include "draw/punch_program.h"

#include <cctype>
#include <iterator>

#include <fmt/core.h>

#include "draw/cautions.h"
#include "draw/plain_text.h"
#include "draw/setup.h"
#include "draw/shape.h"

namespace combwright::draw {
namespace {

// Letters, digits and quiet punctuation stay; a semicolon, at which some controllers stop reading,
// turns into a comma, and the rest into blanks.
std::string comment_text(std::string_view text) {
  constexpr std::string_view quiet = " .,:'+-/=";
  std::string out;
  for (char letter : ascii(text, longest_program_line - 60)) {
    if (letter == ';') letter = ',';
    const bool plain = std::isalnum(static_cast<unsigned char>(letter)) != 0 ||
                       quiet.find(letter) != std::string_view::npos;
    if (!plain) letter = ' ';
    const bool doubled = letter == ' ' && (out.empty() || out.back() == ' ');
    if (!doubled) out += letter;
  }
  return out.substr(0, longest_program_line - 60);
}

class Program {
 public:
  void comment(std::string_view what, std::string_view text) {
    fmt::format_to(std::back_inserter(out_), "({}: {})\n", what, comment_text(text));
  }

  template <typename... Args>
  void line(fmt::format_string<Args...> format, Args&&... args) {
    fmt::format_to(std::back_inserter(out_), format, std::forward<Args>(args)...);
    out_ += '\n';
  }

  std::string take() { return std::move(out_); }

 private:
  std::string out_;
};

void write_program_head(Program& program, const box::Box& box, const box::Shop& shop,
                        const disc::Disc& disc, const Stamp& stamp) {
  program.comment("Punch program", "one disc");
  program.comment("Box", ascii(box.name));
  program.comment("Tune", ascii(disc.title));
  program.comment("Date", ascii(stamp.date));
  program.comment("Plan checksum", stamp.checksum);
  for (const auto& [what, how] : setup_steps(box, shop, disc)) program.comment(what, how);
  for (const auto& caution : punch_cautions(box, shop)) program.comment("CAUTION", caution);
}

// The shop's own lines for a hit, or the plain stroke of the Z axis.
void strike(Program& program, const box::Punch& punch, std::size_t hit) {
  for (const auto& line : punch.hit) program.line("{}", line);
  if (!punch.hit.empty()) return;
  program.line("G1 Z{} F{:.4f} (hit {})", mm_text(to_lattice(punch.down_m)),
               punch.feed_m_s * 1000.0 * 60.0, hit);
  program.line("G0 Z{}", mm_text(to_lattice(punch.up_m)));
}

// The greatest line number that RS-274 allows (NISTIR 6556, 3.3.1).
constexpr std::size_t greatest_line_number = 99'999;

// "N17 ", which tells the hit; empty past what a line number can say.
std::string line_number(std::size_t hit) {
  return hit <= greatest_line_number ? fmt::format("N{} ", hit) : "";
}

// To the side of the disc with the start line under the slide, where the sheet can be handled.
void go_to_start(Program& program, const box::Box& box) {
  program.line("G0 X{} A{}", mm_text(to_lattice(rest_radius_m(box))), degrees_text(0.0));
}

void stop_for_the_check(Program& program) {
  program.comment("STOP",
                  "check that the start line lies under the slide, the tool is up and "
                  "clear of the edge, the sheet is held, hands are out. Then start again");
  program.line("M0");
}

}  // namespace

std::string write_punch_program(const box::Box& box, const box::Shop& shop, const disc::Disc& disc,
                                const Stamp& stamp) {
  Program program;
  write_program_head(program, box, shop, disc, stamp);
  program.line("G21 G90 G94");
  program.line("G0 Z{}", mm_text(to_lattice(shop.punch.up_m)));
  go_to_start(program, box);
  stop_for_the_check(program);
  std::size_t hit = 0;
  for (const auto& projection : disc.projections) {
    program.line("{}G0 X{} A{}", line_number(++hit), mm_text(to_lattice(projection.radius_m)),
                 degrees_text(projection.angle_rad));
    strike(program, shop.punch, hit);
  }
  program.comment("End", "back to the start, the tool is up");
  go_to_start(program, box);
  program.line("M2");
  return program.take();
}

}  // namespace combwright::draw
