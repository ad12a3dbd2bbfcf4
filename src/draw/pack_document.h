// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "arrange/arrangement.h"
#include "box/box.h"
#include "box/shop.h"
#include "disc/disc.h"
#include "draw/pdf_pages.h"
#include "draw/stamp.h"
#include "steel/comb.h"

namespace combwright::draw {

// What every page bears.
struct PageHeading {
  std::string box;
  std::string subject;  // the tune, or what else the sheets are about
  Stamp stamp;
};

// What the pack is made of.
struct PackInput {
  const box::Box& box;
  const box::Shop& shop;
  const arrange::Arrangement& arrangement;
  const disc::Disc& disc;
  const std::vector<steel::CombDesign>& combs;
  const Stamp& stamp;
};

// The findings of all stages.
Findings all_findings(const PackInput& input);

// What the text of a pack says of its own pages; known from a first run.
struct PageNumbers {
  int count = 0;
  int findings = 0;
};

inline constexpr TextStyle body{Face::sans, 3.1, ink, Align::left};
inline constexpr TextStyle small{Face::sans, 2.6, faint, Align::left};
inline constexpr TextStyle strong{Face::bold, 3.1, ink, Align::left};

// Pages with a head, a foot and a place from the top down to which they are filled.
class PackDocument {
 public:
  // `numbers` are those of a first run. Throws Error if the paper is smaller than A5.
  PackDocument(PageHeading heading, const box::Paper& paper, const PageNumbers& numbers);

  PdfPages& pages() { return pages_; }
  double left() const { return margin_mm_; }
  double right() const { return page_.width_mm - margin_mm_; }
  double width() const { return right() - left(); }
  double bottom() const { return page_.height_mm - margin_mm_ - 8.0; }

  // Where the next thing goes: y of its upper edge.
  double y() const { return y_; }
  void move_down(double by_mm) { y_ += by_mm; }

  // Begins a page; a running head names the section on it. Empty: no head.
  void new_page(std::string_view section);

  // Begins another page of the same section.
  void continue_section();

  // The same, unless this much room is left.
  void need(double height_mm);

  // Begins a section: below the last one if this much is left for it, else on a page of its own.
  void section(std::string_view title, double height_mm);

  // A heading inside a page with room kept for what follows it.
  void heading(std::string_view text, double room_after_mm = 15.0);

  // A paragraph over the whole width, moved to a new page if it does not fit.
  void paragraph(std::string_view text, const TextStyle& style = body, double indent_mm = 0.0);

  // A name in small type at the left and a text beside it.
  void entry(std::string_view name, std::string_view text, double name_width_mm,
             const TextStyle& name_style = small);

  // The page that the findings begin on: of the first run, and from here on for the next one.
  int findings_page() const { return numbers_.findings; }
  void note_findings_page() { found_.findings = number_; }

  // The numbers as they came out in this run.
  PageNumbers page_numbers() const { return {number_, found_.findings}; }
  std::string finish();

 private:
  void turn_page();
  void section_head(std::string_view text);
  void foot();

  PageHeading heading_;
  PageSize page_;
  double margin_mm_;
  PageNumbers numbers_;
  PageNumbers found_;
  PdfPages pages_;
  std::string section_;
  int number_ = 0;
  double y_ = 0.0;
};

// The sections in their order. Findings go on below what was left out.
void add_cover(PackDocument& document, const PackInput& input);
void add_roll(PackDocument& document, const PackInput& input);
void add_left_out(PackDocument& document, const PackInput& input);
void add_findings(PackDocument& document, const PackInput& input);
void add_tracks(PackDocument& document, const PackInput& input);
void add_setup(PackDocument& document, const PackInput& input);

// How star wheels and dampers are set: facts, what to hold tight, the gap of every track.
void add_setting(PackDocument& document, const PackInput& input);

// The combs: facts, picture and limits of each, cautions, and the tables for saw and bench.
void add_combs(PackDocument& document, const box::Box& box,
               const std::vector<steel::CombDesign>& designs);

}  // namespace combwright::draw
