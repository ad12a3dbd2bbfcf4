// SPDX-License-Identifier: Apache-2.0
#include "music/musicxml_attributes.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <string_view>

#include <fmt/format.h>

#include "music/musicxml_text.h"

namespace combwright::music::musicxml {
namespace {

// No time signature or count of repeats goes beyond; it keeps hostile ones small.
constexpr int max_count = 1000;
constexpr std::size_t max_endings = 32;

// "3+2" as 5; nothing unless every term is a whole number of at least 1.
std::optional<int> sum(std::string_view text) {
  int total = 0;
  while (true) {
    const std::size_t plus = text.find('+');
    const std::optional<int> term = parse_whole(text.substr(0, plus));
    if (!term || *term < 1 || *term > max_count) return std::nullopt;
    total = std::min(total + *term, max_count);
    if (plus == std::string_view::npos) return total;
    text.remove_prefix(plus + 1);
  }
}

struct Meter {
  double quarters = 0.0;
  int beats = 4;
  int beat_unit = 4;
};

// Beats over beat types; several pairs ("3/4 + 3/8") add up, in the shorter of their units.
std::optional<Meter> read_meter(pugi::xml_node time) {
  Meter meter;
  for (pugi::xml_node node = time.child("beats"); node; node = node.next_sibling("beats")) {
    const std::optional<int> beats = sum(node.child_value());
    const std::optional<int> unit = parse_whole(node.next_sibling("beat-type").child_value());
    if (!beats || !unit || *unit < 1 || *unit > max_count) return std::nullopt;
    meter.beat_unit = meter.quarters > 0.0 ? std::max(meter.beat_unit, *unit) : *unit;
    meter.quarters += 4.0 * *beats / *unit;
    if (meter.quarters > max_bar_quarters) return std::nullopt;
  }
  meter.beats = static_cast<int>(std::lround(meter.quarters * meter.beat_unit / 4.0));
  if (meter.beats < 1) return std::nullopt;
  return meter;
}

void read_time(pugi::xml_node time, PartState& state, Remarks& remarks) {
  if (time.child("senza-misura")) {
    state.nominal_quarter = 0.0;
    return;
  }
  const std::optional<Meter> meter = read_meter(time);
  if (!meter) {
    remarks.add(Level::warning, "a time signature that cannot be read was left out",
                "give whole numbers of beats and a beat type", time);
    return;
  }
  state.nominal_quarter = meter->quarters;
  state.beats = meter->beats;
  state.beat_unit = meter->beat_unit;
}

void read_transpose(const Document& document, pugi::xml_node transpose, PartState& state) {
  const pugi::xml_node chromatic = transpose.child("chromatic");
  const double semitones = parse_number(chromatic.child_value()).value_or(0.0);
  const int octaves = parse_whole(transpose.child_value("octave-change")).value_or(0);
  if (!(std::abs(semitones) < 128.0) || octaves < -10 || octaves > 10)
    throw document.error(transpose,
                         "a transposition beyond all pitches; at most 10 octaves would do");
  state.transpose[transpose.attribute("number").value()] =
      static_cast<int>(std::lround(semitones)) + 12 * octaves;
}

int transposition(const PartState& state, const std::string& staff) {
  const auto own = state.transpose.find(staff.empty() ? "1" : staff);
  const auto all = state.transpose.find("");
  if (own != state.transpose.end()) return own->second;
  return all != state.transpose.end() ? all->second : 0;
}

// "1, 2" as {1, 2}; text that names no number is the first ending.
std::vector<int> ending_numbers(std::string_view text) {
  std::vector<int> numbers;
  while (!text.empty() && numbers.size() < max_endings) {
    const std::size_t end = text.find_first_of(", ");
    const std::optional<int> number = parse_whole(text.substr(0, end));
    if (number && *number >= 1 && *number <= max_count) numbers.push_back(*number);
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  if (numbers.empty()) numbers.push_back(1);
  return numbers;
}

void read_repeat(pugi::xml_node repeat, WrittenBar& bar) {
  const std::string_view direction = repeat.attribute("direction").value();
  if (direction == "forward") {
    bar.repeat_start = true;
    bar.section_start = true;
  } else if (direction == "backward") {
    const int plays = parse_whole(repeat.attribute("times").value()).value_or(2);
    bar.repeat_plays = std::max(bar.repeat_plays, std::clamp(plays, 1, max_count));
    bar.section_end = true;
  }
}

}  // namespace

double read_divisions(const Document& document, pugi::xml_node divisions) {
  const std::optional<double> value = parse_number(divisions.child_value());
  if (!value || !(*value >= 1e-3) || *value > 1e9)
    throw document.error(divisions, fmt::format("divisions '{}'; a positive number would do",
                                                clean(divisions.child_value(), 20)));
  return *value;
}

void read_attributes(const Document& document, pugi::xml_node attributes, PartState& state,
                     Remarks& remarks) {
  for (const pugi::xml_node item : attributes.children()) {
    const std::string_view name = item.name();
    if (name == "divisions") state.divisions = read_divisions(document, item);
    if (name == "key") state.sharps = parse_whole(item.child_value("fifths"));
    if (name == "time") read_time(item, state, remarks);
    if (name == "transpose") read_transpose(document, item, state);
  }
}

int read_pitch(const Document& document, pugi::xml_node note, const PartState& state,
               Remarks& remarks) {
  constexpr std::array<int, 7> semitones{9, 11, 0, 2, 4, 5, 7};  // of A to G above C
  const pugi::xml_node pitch = note.child("pitch");
  const std::string step = clean(pitch.child_value("step"), 20);
  const std::optional<int> octave = parse_whole(pitch.child_value("octave"));
  const pugi::xml_node alter_node = pitch.child("alter");
  const std::optional<double> alter =
      alter_node ? parse_number(alter_node.child_value()) : std::optional(0.0);
  if (step.size() != 1 || step[0] < 'A' || step[0] > 'G' || !octave || !alter) {
    throw document.error(pitch, fmt::format("pitch '{}' in octave '{}' altered by '{}'; a step A "
                                            "to G, an octave 0 to 9 and semitones would do",
                                            step, clean(pitch.child_value("octave"), 20),
                                            clean(alter_node.child_value(), 20)));
  }
  if (*octave < -5 || *octave > 15 || !(std::abs(*alter) <= 24.0))
    throw document.error(pitch, "a pitch beyond hearing; C-1 to G9 would do");

  const double semitone = std::floor(*alter + 0.5);
  if (semitone != *alter)
    remarks.add(Level::warning, "a pitch between two semitones was rounded",
                "tune the tooth apart if it matters", pitch);
  const int midi = 12 * (*octave + 1) + semitones[static_cast<std::size_t>(step[0] - 'A')] +
                   static_cast<int>(semitone) +
                   transposition(state, clean(note.child_value("staff"), 20));
  if (midi < 0 || midi > 127)
    throw document.error(pitch, "a pitch beyond hearing; C-1 to G9 would do");
  return midi;
}

void read_barline(pugi::xml_node barline, WrittenBar& bar) {
  const std::string_view location = barline.attribute("location").value();
  if (location == "middle") return;
  const bool left = location == "left";
  const std::string_view style = barline.child("bar-style").child_value();
  const bool boundary = style == "light-light" || style == "light-heavy" ||
                        style == "heavy-light" || style == "heavy-heavy" || style == "heavy" ||
                        barline.child("fermata");
  if (boundary) (left ? bar.section_start : bar.section_end) = true;
  if (barline.child("segno")) bar.worded.segnos.emplace_back();
  if (barline.child("coda")) bar.worded.codas.emplace_back();
  if (const pugi::xml_node repeat = barline.child("repeat")) read_repeat(repeat, bar);

  const pugi::xml_node ending = barline.child("ending");
  const std::string_view type = ending.attribute("type").value();
  if (type == "start") {
    bar.endings = ending_numbers(ending.attribute("number").value());
    bar.ending_start = true;
  }
  if (type == "stop" || type == "discontinue") bar.ending_stop = true;
}

}  // namespace combwright::music::musicxml
