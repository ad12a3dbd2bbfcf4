// SPDX-License-Identifier: Apache-2.0
#include "draw/punch_program.h"

#include <cctype>
#include <iterator>
#include <vector>

#include <fmt/core.h>

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

void write_head(Program& program, const box::Box& box, const box::Shop& shop,
                const disc::Disc& disc, const PackStamp& stamp) {
  program.comment("Punch program", "one disc");
  program.comment("Box", ascii(box.name));
  program.comment("Tune", ascii(disc.title));
  program.comment("Date", ascii(stamp.date));
  program.comment("Plan checksum", stamp.plan_checksum);
  for (const auto& [what, how] : setup_steps(box, shop, disc)) program.comment(what, how);
  for (const auto& caution : punch_cautions(box, shop)) program.comment("CAUTION", caution);
}

// The shop's own lines for a hit, or the plain stroke of the Z axis.
std::vector<std::string> stroke_lines(const box::Punch& punch) {
  if (!punch.hit.empty()) return punch.hit;
  return {fmt::format("G1 Z{} F{:.4f}", mm_text(to_lattice(punch.down_m)),
                      punch.feed_m_s * 1000.0 * 60.0),
          fmt::format("G0 Z{}", mm_text(to_lattice(punch.up_m)))};
}

}  // namespace

std::string write_punch_program(const box::Box& box, const box::Shop& shop, const disc::Disc& disc,
                                const PackStamp& stamp) {
  const auto up = mm_text(to_lattice(shop.punch.up_m));
  const std::vector<std::string> stroke = stroke_lines(shop.punch);
  Program program;
  write_head(program, box, shop, disc, stamp);
  program.line("G21 G90 G94");
  if (shop.punch.hit.empty()) program.line("G0 Z{}", up);
  for (const auto& hit : disc.projections) {
    program.line("G0 X{} A{}", mm_text(to_lattice(hit.radius_m)), degrees_text(hit.angle_rad));
    for (const std::string& line : stroke) program.line("{}", line);
  }
  program.line("M2");
  return program.take();
}

}  // namespace combwright::draw
