// SPDX-License-Identifier: Apache-2.0
#include "music/musicxml_measure.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "music/musicxml_attributes.h"
#include "music/musicxml_direction.h"
#include "music/musicxml_stagger.h"
#include "music/musicxml_text.h"

namespace combwright::music::musicxml {
namespace {

// Sums of thirds and fifths reach the same moment by different roads; rounded to this they meet.
constexpr double grid_per_quarter = 1e9;

double on_grid(double quarters) {
  return std::round(quarters * grid_per_quarter) / grid_per_quarter;
}

bool has(pugi::xml_node node, const char* child) {
  return !node.child(child).empty();
}

class MeasureReader {
 public:
  MeasureReader(const Document& document, std::size_t bar_index, PartState& state, WrittenBar& bar,
                Remarks& remarks)
      : document_(document),
        bar_index_(bar_index),
        state_(state),
        bar_(bar),
        remarks_(remarks),
        sink_{document, bar, state.dynamics, accents_, remarks},
        first_note_(bar.notes.size()) {}

  void read(pugi::xml_node measure) {
    for (const pugi::xml_node item : measure.children()) read_item(item);
    finish();
  }

 private:
  void read_item(pugi::xml_node item) {
    const std::string_view name = item.name();
    if (name == "note")
      read_note(item);
    else if (name == "backup")
      move(item, -duration(item));
    else if (name == "forward")
      move(item, duration(item));
    else if (name == "attributes")
      take_attributes(item);
    else if (name == "direction")
      read_direction(item, here(), state_.divisions, sink_);
    else if (name == "sound")
      read_sound(item, here(), state_.divisions, sink_);
    else if (name == "barline")
      read_barline(item, bar_);
  }

  void take_attributes(pugi::xml_node item) {
    const std::optional<int> before = state_.sharps;
    read_attributes(document_, item, state_, remarks_);
    if (before && state_.sharps != before && on_grid(cursor_) <= 0.0) bar_.section_start = true;
  }

  Moment here() const { return {bar_index_, on_grid(cursor_)}; }

  double duration(pugi::xml_node node) const {
    const pugi::xml_node element = node.child("duration");
    if (!element) {
      throw document_.error(node, fmt::format("<{}> without duration; a <duration> in divisions "
                                              "would do",
                                              node.name()));
    }
    const std::optional<double> divisions = parse_number(element.child_value());
    if (!divisions || *divisions < 0.0)
      throw document_.error(element, fmt::format("duration '{}'; a number of at least 0 would do",
                                                 clean(element.child_value(), 20)));
    const double quarters = *divisions / state_.divisions;
    if (!(quarters <= max_bar_quarters)) {
      throw document_.error(element, fmt::format("a duration of {:.6g} quarter notes; at most {:g} "
                                                 "would do",
                                                 quarters, max_bar_quarters));
    }
    return quarters;
  }

  void move(pugi::xml_node node, double quarters) {
    cursor_ += quarters;
    if (cursor_ < 0.0) {
      const bool rounding = on_grid(cursor_) == 0.0;
      cursor_ = 0.0;
      if (rounding) return;
      remarks_.add(Level::warning, "a backup before the bar line was stopped there",
                   "check the durations of the bar", node);
    }
    if (cursor_ > max_bar_quarters) {
      throw document_.error(node, fmt::format("a bar of more than {:g} quarter notes; shorter bars "
                                              "would do",
                                              max_bar_quarters));
    }
    bar_.content_quarter = std::max(bar_.content_quarter, on_grid(cursor_));
  }

  void read_note(pugi::xml_node node) {
    const bool chord = has(node, "chord");
    const bool grace = has(node, "grace");
    const double quarters = grace ? 0.0 : duration(node);
    if (!chord) onset_ = on_grid(cursor_);
    if (const std::string_view voice = node.child_value("voice"); !chord || !voice.empty())
      voice_ = std::clamp(parse_whole(voice).value_or(0), 0, 1'000'000);

    if (sounds(node)) add_note(node, grace, chord, quarters);
    if (chord || grace) return;
    if (!has(node, "pitch")) stagger_.pass(voice_, onset_, quarters, bar_.notes);
    advance(node, quarters);
  }

  // Moves the cursor past a note. A rest marked as filling its measure ends with it, whatever
  // its duration says.
  void advance(pugi::xml_node node, double quarters) {
    const bool whole_measure =
        std::string_view(node.child("rest").attribute("measure").value()) == "yes";
    const double room = state_.nominal_quarter - cursor_;
    if (whole_measure && state_.nominal_quarter > 0.0 && quarters > room)
      quarters = std::max(room, 0.0);
    move(node, quarters);
  }

  // True for what the ear hears as a note of its own pitch.
  bool sounds(pugi::xml_node node) {
    if (has(node, "rest") || has(node, "cue")) return false;
    if (has(node, "unpitched") || is_percussion(node)) {
      remarks_.add(Level::note, "percussion was left out", "nothing: a comb has no drums", node);
      ++state_.percussion_notes;
      return false;
    }
    if (has(node, "pitch")) return true;
    throw document_.error(node, "<note> without pitch; a <pitch>, <unpitched> or <rest> would do");
  }

  bool is_percussion(pugi::xml_node node) const {
    const pugi::xml_node instrument = node.child("instrument");
    if (!instrument) return state_.info->percussion_by_default;
    const auto found = state_.info->percussion.find(instrument.attribute("id").value());
    return found != state_.info->percussion.end() && found->second;
  }

  void add_note(pugi::xml_node node, bool grace, bool chord, double quarters) {
    if (bar_.notes.size() >= max_notes)
      throw document_.error(node,
                            fmt::format("more than {} notes; a shorter score would do", max_notes));
    WrittenNote note;
    note.offset_quarter = onset_;
    note.duration_quarter = quarters;
    note.midi = read_pitch(document_, node, state_, remarks_);
    note.own_loudness = percent_loudness(node.attribute("dynamics"));
    note.grace = grace;
    note.part = state_.part;
    note.voice = voice_;
    read_ties(node, note);
    for (const pugi::xml_node notations : node.children("notations"))
      read_notations(notations, note);
    bar_.content_quarter = std::max(bar_.content_quarter, on_grid(onset_ + quarters));
    bar_.notes.push_back(note);
    stagger_.add(bar_.notes, chord);
  }

  static void read_ties(pugi::xml_node node, WrittenNote& note) {
    const auto read = [&note](pugi::xml_node tie) {
      const std::string_view type = tie.attribute("type").value();
      if (type == "start" || type == "continue") note.tie_start = true;
      if (type == "stop" || type == "continue") note.tie_stop = true;
    };
    for (const pugi::xml_node tie : node.children("tie")) read(tie);
    for (const pugi::xml_node tie : node.child("notations").children("tied")) read(tie);
  }

  void read_notations(pugi::xml_node notations, WrittenNote& note) {
    for (const pugi::xml_node dynamics : notations.children("dynamics"))
      read_dynamics(dynamics, {bar_index_, onset_}, sink_);
    for (const pugi::xml_node marks : notations.children("articulations"))
      if (has(marks, "accent") || has(marks, "strong-accent")) note.accent = true;
    if (has(notations, "fermata"))
      fermata_end_ = std::max(fermata_end_, onset_ + note.duration_quarter);
    const pugi::xml_node arpeggio = notations.child("arpeggiate");
    if (arpeggio && !note.grace && !note.tie_stop)
      stagger_.roll(bar_.notes.size(), onset_, arpeggio.attribute("number").as_int(1),
                    std::string_view(arpeggio.attribute("direction").value()) == "down");
  }

  void finish() {
    stagger_.finish(bar_.notes);
    for (std::size_t i = first_note_; i < bar_.notes.size(); ++i)
      if (accents_.contains(bar_.notes[i].offset_quarter)) bar_.notes[i].accent = true;
    if (fermata_end_ > 0.0 && on_grid(fermata_end_) >= on_grid(cursor_)) bar_.section_end = true;
  }

  const Document& document_;
  std::size_t bar_index_;
  PartState& state_;
  WrittenBar& bar_;
  Remarks& remarks_;
  std::set<double> accents_;
  DirectionSink sink_;
  Staggers stagger_;
  std::size_t first_note_;
  double cursor_ = 0.0;  // quarter notes from the bar line
  double onset_ = 0.0;   // of the last note that is not a chord's further one
  double fermata_end_ = 0.0;
  int voice_ = 0;
};

}  // namespace

void read_measure(const Document& document, pugi::xml_node measure, std::size_t bar_index,
                  PartState& state, WrittenBar& bar, Remarks& remarks) {
  MeasureReader(document, bar_index, state, bar, remarks).read(measure);
}

}  // namespace combwright::music::musicxml
