// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "base/quantity.h"
#include "draw/bench_table.h"
#include "draw/caution_box.h"
#include "draw/certificate.h"
#include "draw/certificate_plot.h"
#include "draw/pack_document.h"
#include "draw/plain_text.h"
#include "draw/words.h"
#include "music/pitch.h"
#include "steel/tuning.h"

namespace combwright::draw {
namespace {

constexpr double certificate_names_mm = 28.0;

std::string signed_cents(double cents) {
  return fmt::format("{:+.2f}", cents);
}

std::string result_words(const Certificate& made) {
  const records::ToothSummary* worst = nullptr;
  double sum = 0.0;
  std::size_t read = 0;
  for (const records::ToothSummary& tooth : made.teeth) {
    if (!tooth.final_cents) continue;
    ++read;
    sum += *tooth.final_cents;
    if (worst == nullptr || std::abs(*tooth.final_cents) > std::abs(*worst->final_cents))
      worst = &tooth;
  }
  if (worst == nullptr) return "no tooth is read";
  const std::size_t out = tracks_out_of_tolerance(made).size();
  return fmt::format(
      "{} of {} read within {:.3g} cents of the target; worst {} cents (track {}, {}), mean {} "
      "cents",
      read - out, read, made.tolerance_cents, signed_cents(*worst->final_cents), worst->tooth.track,
      music::note_name(worst->tooth.midi), signed_cents(sum / static_cast<double>(read)));
}

std::string teeth_words(const Certificate& made) {
  const std::vector<int> missing = tracks_not_read(made);
  std::string words =
      fmt::format("{}, {} read", made.teeth.size(), made.teeth.size() - missing.size());
  if (!missing.empty()) words += "; not read: " + track_ranges(missing);
  return words;
}

// Of the last readings of all teeth.
std::string temperature_words(const Certificate& made) {
  double lowest = INFINITY, highest = -INFINITY;
  std::size_t known = 0, read = 0;
  for (const records::ToothSummary& tooth : made.teeth) {
    if (tooth.final_cents) ++read;
    if (!tooth.temperature_c) continue;
    ++known;
    lowest = std::min(lowest, *tooth.temperature_c);
    highest = std::max(highest, *tooth.temperature_c);
  }
  const std::string wanted = to_text(made.in_tune_c, Dimension::temperature);
  if (known == 0) return fmt::format("not measured; the pitches are taken as those at {}", wanted);
  std::string words = fmt::format("{:.1f} C", lowest);
  if (highest - lowest > 0.05) words += fmt::format(" to {:.1f} C", highest);
  words +=
      fmt::format(" at the last readings; the pitches are brought to {} at {:.3f} cents a kelvin",
                  wanted, steel::cents_per_k());
  if (known < read)
    words += fmt::format("; not measured at {} of them, taken as {}", read - known, wanted);
  return words;
}

std::string time_words(const Certificate& made) {
  if (made.first_at.empty()) return "no reading";
  const std::string from = made.first_at.substr(0, 10), to = made.last_at.substr(0, 10);
  return from == to ? from : from + " to " + to;
}

std::string people_words(const Certificate& made) {
  if (made.people.empty()) return "not said";
  std::string words;
  for (const std::string& who : made.people) words += (words.empty() ? "" : "; ") + label(who, 60);
  return label(words, 300);
}

void add_certificate_facts(PackDocument& document, const Certificate& made) {
  document.entry("box", dashed(label(made.box, 120)), certificate_names_mm);
  document.entry("comb", dashed(label(made.comb, 120)), certificate_names_mm);
  document.entry("pitch", made.pitch, certificate_names_mm);
  document.entry("teeth", teeth_words(made), certificate_names_mm);
  document.entry("result", result_words(made), certificate_names_mm);
  if (const auto out = tracks_out_of_tolerance(made); !out.empty())
    document.entry("out of tolerance", track_ranges(out), certificate_names_mm,
                   {Face::bold, 2.6, alarm, Align::left});
  document.entry("temperature", temperature_words(made), certificate_names_mm);
  document.entry("read on", time_words(made), certificate_names_mm);
  document.entry("read by", people_words(made), certificate_names_mm);
}

void add_plot(PackDocument& document, const CentsPlot& plot, double height_mm) {
  document.need(height_mm);
  document.move_down(2.0);
  draw_cents_plot(document.pages(), {document.left(), document.y(), document.width(), height_mm},
                  plot);
  document.move_down(height_mm + 1.0);
}

void add_plots(PackDocument& document, const Certificate& made) {
  CentsPlot now{"Last reading: cents from the target", {}, {}, made.tolerance_cents};
  CentsPlot before{"As cut: cents from the target", {}, {}, std::nullopt};
  bool any_before = false;
  for (const records::ToothSummary& tooth : made.teeth) {
    now.cents.push_back(tooth.final_cents);
    before.cents.push_back(tooth.as_cut_cents);
    any_before = any_before || tooth.as_cut_cents;
    now.notes.push_back(music::note_name(tooth.tooth.midi));
  }
  before.notes = now.notes;
  const double height_mm = std::min(58.0, 0.27 * (document.bottom() - document.left()));
  add_plot(document, now, height_mm);
  if (any_before) add_plot(document, before, 0.8 * height_mm);
}

// Three lines to write on.
void add_signature(PackDocument& document) {
  constexpr double room_mm = 20.0;
  document.need(room_mm);
  const double y = document.y() + 13.0;
  const double gap = 6.0;
  const double each = (document.width() - 2.0 * gap) / 3.0;
  double x = document.left();
  for (const char* words : {"place and date", "name", "signature"}) {
    stroke_line(document.pages(), x, y, x + each, y, 0.2, ink);
    document.pages().text(x, y + 3.6, words, small);
    x += each + gap;
  }
  document.move_down(room_mm);
}

constexpr BenchColumns<10> certificate_columns{
    {0.06, 0.15, 0.28, 0.40, 0.52, 0.62, 0.71, 0.81, 0.91, 1.0},
    {{{"", "track"},
      {"", "note"},
      {"target", "Hz"},
      {"as cut", "cents"},
      {"final", "cents"},
      {"known to", "cents"},
      {"decay", "s"},
      {"clipped", "mm"},
      {"read at", "C"},
      {"times", "read"}}}};

using CertificateCells = std::array<std::string, 10>;

CertificateCells certificate_cells(const records::ToothSummary& tooth) {
  CertificateCells cells{fmt::format("{}", tooth.tooth.track), music::note_name(tooth.tooth.midi),
                         fmt::format("{:.2f}", tooth.tooth.target_hz)};
  if (tooth.as_cut_cents) cells[3] = fmt::format("{:+.1f}", *tooth.as_cut_cents);
  cells[4] = tooth.final_cents ? signed_cents(*tooth.final_cents) : "not read";
  if (tooth.final_cents && tooth.final_stderr_cents > 0.0)
    cells[5] = fmt::format("{:.2f}", tooth.final_stderr_cents);
  if (tooth.decay_s) cells[6] = fmt::format("{:.2f}", *tooth.decay_s);
  if (tooth.clipped_length_m > 0.0) cells[7] = in_mm(tooth.clipped_length_m, 2);
  if (tooth.filed) cells[7] += cells[7].empty() ? "filed" : " f";
  if (tooth.temperature_c) cells[8] = fmt::format("{:.1f}", *tooth.temperature_c);
  cells[9] = fmt::format("{}", tooth.readings);
  return cells;
}

void add_row(PackDocument& document, const Certificate& made, const records::ToothSummary& tooth,
             double size_mm) {
  CertificateCells cells = certificate_cells(tooth);
  const bool wrong = !tooth.final_cents || std::abs(*tooth.final_cents) > made.tolerance_cents;
  if (wrong) {
    document.pages().text(document.left() + document.width() * certificate_columns.edges[4],
                          document.y() + size_mm, cells[4],
                          {Face::bold, size_mm, alarm, Align::right});
    cells[4].clear();
  }
  write_row(document.pages(), here(document), certificate_columns, cells, size_mm);
}

void add_teeth(PackDocument& document, const Certificate& made) {
  constexpr double least_row_mm = 2.8;
  constexpr double most_row_mm = 4.0;
  document.new_page("Every tooth");
  document.paragraph(
      fmt::format(
          "From the innermost outwards, all at {}. As cut: the first reading, before any work. "
          "Known to: one standard deviation of the last reading. Decay: time in which the sound "
          "falls to 37 %. Clipped: off the lead in all; f: filed too. Bold: out of the tolerance "
          "of "
          "{:.3g} cents, or not read.",
          to_text(made.in_tune_c, Dimension::temperature), made.tolerance_cents),
      small);
  const double room_mm = document.bottom() - document.y() - bench_heads_mm;
  const auto most = static_cast<std::size_t>(std::max(1.0, room_mm / least_row_mm));
  const std::size_t rows = made.teeth.size();
  const std::size_t on_page = (rows + (rows - 1) / most) / ((rows + most - 1) / most);
  const double height_mm =
      std::clamp(room_mm / static_cast<double>(on_page), least_row_mm, most_row_mm);
  const double size_mm = std::min(0.8 * height_mm, 0.0175 * document.width());
  const double head_mm = std::min(bench_head_size_mm, 0.018 * document.width());
  for (std::size_t row = 0; row < rows; ++row) {
    if (row > 0 && row % on_page == 0) document.continue_section();
    if (row % on_page == 0) {
      write_heads(document.pages(), here(document), certificate_columns, head_mm);
      document.move_down(bench_heads_mm);
    }
    add_row(document, made, made.teeth[row], size_mm);
    document.move_down(height_mm);
    if (made.teeth[row].tooth.track % 5 == 0) thin_rule(document.pages(), here(document));
  }
}

void add_certificate(PackDocument& document, const Certificate& made) {
  document.new_page("Certificate of a comb");
  add_certificate_facts(document, made);
  add_plots(document, made);
  add_signature(document);
  add_caution_box(document, made.cautions);
  add_teeth(document, made);
}

}  // namespace

std::string write_certificate_pdf(const Certificate& certificate, const box::Shop& shop,
                                  const Stamp& stamp) {
  const PageHeading heading{certificate.box, "certificate of " + box::comb_words(certificate.comb),
                            stamp};
  PackDocument counting(heading, shop.paper, {});
  add_certificate(counting, certificate);
  PackDocument document(heading, shop.paper, counting.page_numbers());
  add_certificate(document, certificate);
  return document.finish();
}

}  // namespace combwright::draw
