// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <functional>
#include <iterator>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/core.h>

#include "draw/pack_document.h"
#include "draw/plain_text.h"
#include "draw/words.h"

namespace combwright::draw {
namespace {

using arrange::ArrangedNote;
using arrange::Fate;
using Notes = std::vector<const ArrangedNote*>;

constexpr std::size_t most_reasons = 40;  // told one by one for each fate
constexpr std::size_t most_places = 40;   // told one by one for each reason

struct Reason {
  std::string why;
  Notes notes;
  double weight = 0.0;
};

// The notes of one fate by what is said of them, in the order of the tune.
std::vector<Reason> reasons_for(const arrange::Arrangement& arrangement, Fate fate) {
  std::vector<Reason> reasons;
  std::map<std::string_view, std::size_t> place;
  for (const auto& note : arrangement.notes) {
    if (note.fate != fate) continue;
    const auto [at, is_new] = place.try_emplace(note.why, reasons.size());
    if (is_new) reasons.push_back({note.why, {}, 0.0});
    auto& reason = reasons[at->second];
    reason.notes.push_back(&note);
    reason.weight += note.weight;
  }
  return reasons;
}

// Moves the lighter reasons, beyond those that are told one by one, to the end.
void put_weightiest_first(std::vector<Reason>& reasons) {
  if (reasons.size() <= most_reasons) return;
  std::vector<double> weights;
  weights.reserve(reasons.size());
  for (const auto& reason : reasons) weights.push_back(reason.weight);
  std::sort(weights.begin(), weights.end(), std::greater<>());
  const double least = weights[most_reasons - 1];
  std::stable_partition(reasons.begin(), reasons.end(),
                        [least](const Reason& reason) { return reason.weight >= least; });
}

std::size_t count_role(const Notes& notes, arrange::Role role) {
  return static_cast<std::size_t>(std::count_if(
      notes.begin(), notes.end(), [role](const auto* note) { return note->role == role; }));
}

// "3 melody, 12 inner"
std::string role_counts(const Notes& notes) {
  std::string out;
  for (const auto role : {arrange::Role::melody, arrange::Role::bass, arrange::Role::inner}) {
    const auto count = count_role(notes, role);
    if (count == 0) continue;
    fmt::format_to(std::back_inserter(out), "{}{} {}", out.empty() ? "" : ", ", count,
                   arrange::to_text(role));
  }
  return out;
}

// How many of the notes from the first on stand at the same place as it.
std::size_t together(const Notes& notes, std::size_t first) {
  std::size_t last = first;
  while (last < notes.size() && notes[last]->bar == notes[first]->bar &&
         notes[last]->beat == notes[first]->beat) {
    ++last;
  }
  return last - first;
}

// "bar 3 beat 1, 2.5; bar 7 beat 4 (2 notes)", bar by bar.
std::string places(const Notes& notes) {
  std::string out;
  std::size_t told = 0;
  for (std::size_t i = 0; told < most_places && i < notes.size(); ++told) {
    const auto& note = *notes[i];
    const bool same_bar = i > 0 && notes[i - 1]->bar == note.bar;
    out += same_bar ? ", " : fmt::format("{}bar {} beat ", i > 0 ? "; " : "", note.bar);
    out += fmt::format("{:.3g}", note.beat);
    const auto count = together(notes, i);
    if (count > 1) out += fmt::format(" ({} notes)", count);
    i += count;
    if (told + 1 == most_places && i < notes.size()) {
      out += fmt::format("; and {} more up to bar {}", notes.size() - i, notes.back()->bar);
    }
  }
  return out;
}

// Two columns: what is said of the notes, and where they are.
struct ReasonRow {
  std::string why;
  std::string where;
  double name_mm = 0.0;
  double height_mm = 0.0;
};

constexpr TextStyle row_style{Face::sans, 2.8, ink, Align::left};
constexpr double column_gap_mm = 4.0;
constexpr double row_gap_mm = 1.6;

ReasonRow row_of(PackDocument& document, const Reason& reason) {
  ReasonRow row{label(reason.why.empty() ? "no reason given" : reason.why, 200),
                fmt::format("{}  ({})", places(reason.notes), role_counts(reason.notes)),
                document.width() * 0.42, 0.0};
  auto& pages = document.pages();
  row.height_mm =
      row_gap_mm +
      std::max(pages.paragraph_height(row.name_mm - column_gap_mm, row.why, row_style),
               pages.paragraph_height(document.width() - row.name_mm, row.where, row_style));
  return row;
}

void write_row(PackDocument& document, const ReasonRow& row) {
  document.need(row.height_mm);
  auto& pages = document.pages();
  const double y = document.y();
  pages.paragraph(document.left(), y, row.name_mm - column_gap_mm, row.why, row_style);
  pages.paragraph(document.left() + row.name_mm, y, document.width() - row.name_mm, row.where,
                  row_style);
  const double below = y + row.height_mm - row_gap_mm / 2.0;
  stroke_line(pages, document.left(), below, document.right(), below, 0.08, rule);
  document.move_down(row.height_mm);
}

// What is left after the reasons told one by one.
void write_rest(PackDocument& document, const std::vector<Reason>& reasons) {
  Notes rest;
  std::set<int> bars;
  for (std::size_t i = most_reasons; i < reasons.size(); ++i) {
    for (const auto* note : reasons[i].notes) {
      rest.push_back(note);
      bars.insert(note->bar);
    }
  }
  if (rest.empty()) return;
  document.paragraph(fmt::format("And {} ({}), for {}, in {} of the bars {} to {}.",
                                 counted(rest.size(), "more note"), role_counts(rest),
                                 counted(reasons.size() - most_reasons, "other reason"),
                                 bars.size(), *bars.begin(), *bars.rbegin()));
}

void write_fate(PackDocument& document, const arrange::Arrangement& arrangement, Fate fate,
                std::string_view heading) {
  auto reasons = reasons_for(arrangement, fate);
  put_weightiest_first(reasons);
  std::size_t count = 0;
  for (const auto& reason : reasons) count += reason.notes.size();
  if (count == 0) return;
  document.heading(fmt::format("{}: {}", heading, counted(count, "note")),
                   row_of(document, reasons.front()).height_mm);
  for (std::size_t i = 0; i < std::min(reasons.size(), most_reasons); ++i) {
    write_row(document, row_of(document, reasons[i]));
  }
  write_rest(document, reasons);
}

}  // namespace

void add_left_out(PackDocument& document, const PackInput& input) {
  constexpr double room_mm = 70.0;  // for the first few reasons
  document.section("What was changed and left out", room_mm);
  const bool all_kept =
      std::all_of(input.arrangement.notes.begin(), input.arrangement.notes.end(),
                  [](const ArrangedNote& note) { return note.fate == Fate::kept; });
  if (all_kept) {
    document.paragraph("Nothing: every written note is played at its pitch and at its time.");
    return;
  }
  document.paragraph(
      "In the order of the tune; where there are many, the weightiest. Bars are "
      "counted as played, beats from 1.",
      small);
  write_fate(document, input.arrangement, Fate::dropped, "Left out");
  write_fate(document, input.arrangement, Fate::octave, "Played an octave or two away");
  write_fate(document, input.arrangement, Fate::moved, "Moved in time");
}

}  // namespace combwright::draw
