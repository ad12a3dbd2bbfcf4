// SPDX-License-Identifier: Apache-2.0
#include "box/note_list.h"

#include <algorithm>
#include <cassert>
#include <cctype>
#include <optional>
#include <string_view>

#include <fmt/format.h>

#include "base/text.h"
#include "box/key_value.h"
#include "music/pitch.h"

namespace combwright::box {
namespace {

// "G2" or "G2*2".
struct NoteWord {
  int midi = 0;
  std::size_t times = 1;
};

std::optional<NoteWord> parse_word(std::string_view word) {
  const std::size_t star = word.find('*');
  const auto midi = music::parse_note(word.substr(0, star));
  if (!midi) return std::nullopt;
  NoteWord note{.midi = *midi};
  if (star == std::string_view::npos) return note;
  const auto times = parse_number<std::size_t>(word.substr(star + 1));
  if (!times || *times == 0 || *times > max_items) return std::nullopt;
  note.times = *times;
  return note;
}

// What a maker who wrote `word` most likely meant: "write C4".
std::string hint(std::string_view word) {
  const std::string_view general = "write notes as C4, F#5, Eb3 or C4*2";
  if (word.empty() || word.size() > 20) return std::string(general);
  std::string meant(word);
  const bool german = meant[0] == 'H' || meant[0] == 'h';
  meant[0] = german ? 'B' : static_cast<char>(std::toupper(static_cast<unsigned char>(meant[0])));
  const auto replace = [&](std::string_view from, std::string_view to) {
    if (meant.compare(1, from.size(), from) == 0) meant.replace(1, from.size(), to);
  };
  if (german) {
    replace("es", "b");
    replace("is", "#");
  } else {
    std::replace(meant.begin() + 1, meant.end(), 'x', '*');
    for (const char* sharp : {"is", "s", "\u266f"}) replace(sharp, "#");
    for (const char* flat : {"es", "f", "\u266d"}) replace(flat, "b");
    if (meant.starts_with("E#") && word.substr(1).starts_with('s')) replace("#", "b");
  }
  if (meant == word || !parse_word(meant)) return std::string(general);
  if (german) return fmt::format("the note below C is B here, and B flat is Bb; write {}", meant);
  // Es is E flat to some; As may be either.
  if (meant.starts_with("A#") && word.substr(1).starts_with('s'))
    return fmt::format("write {} or Ab{}", meant, meant.substr(2));
  return fmt::format("write {}", meant);
}

template <typename Visit>
void for_each_word(const Entry& entry, Visit visit) {
  for (const Item& item : entry.items) {
    std::string_view text = std::get<std::string>(item.value);
    while (!text.empty()) {
      const std::size_t blank = std::min(text.find_first_of(" \t\r\n"), text.size());
      if (blank > 0) visit(item, text.substr(0, blank));
      text.remove_prefix(std::min(blank + 1, text.size()));
    }
  }
}

}  // namespace

std::vector<int> read_notes(const KeyInfo& key, const Entry& entry) {
  for (const Item& item : entry.items)
    if (!std::holds_alternative<std::string>(item.value))
      refuse(item.place, key, fmt::format("is {}; write text in quotes", describe(item)));
  std::vector<int> notes;
  for_each_word(entry, [&](const Item& item, std::string_view word) {
    const auto note = parse_word(word);
    if (!note)
      refuse(item.place, key, fmt::format("holds \"{}\"; {}", word.substr(0, 40), hint(word)));
    if (notes.size() + note->times > max_items)
      refuse(item.place, key, fmt::format("has too many notes; at most {} are read", max_items));
    if (!notes.empty() && note->midi < notes.back()) {
      refuse(item.place, key,
             fmt::format("has {} after {}; write them from low to high",
                         music::note_name(note->midi), music::note_name(notes.back())));
    }
    notes.insert(notes.end(), note->times, note->midi);
  });
  if (notes.empty()) refuse(entry.value_place, key, "has no notes; write them from low to high");
  return notes;
}

std::vector<NoteCount> count_notes(const Entry& entry) {
  std::vector<NoteCount> counts;
  for (const Item& item : entry.items) counts.push_back({.place = item.place});
  for_each_word(entry, [&](const Item& item, std::string_view word) {
    const auto note = parse_word(word);
    assert(note);
    counts[static_cast<std::size_t>(&item - entry.items.data())].notes += note->times;
  });
  return counts;
}

std::string notes_text(const std::vector<int>& midi) {
  std::string text = "notes = [";
  int octave = -1;
  for (std::size_t i = 0; i < midi.size();) {
    std::size_t times = 1;
    while (i + times < midi.size() && midi[i + times] == midi[i]) ++times;
    if (midi[i] / 12 != octave) {
      text += octave < 0 ? "\n  \"" : "\",\n  \"";
      octave = midi[i] / 12;
    } else {
      text += ' ';
    }
    text += music::note_name(midi[i]);
    if (times > 1) text += fmt::format("*{}", times);
    i += times;
  }
  return text + (midi.empty() ? "]\n" : "\",\n]\n");
}

}  // namespace combwright::box
