// SPDX-License-Identifier: Apache-2.0
#include "music/musicxml_direction.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <string>
#include <utility>

#include "music/musicxml_text.h"

namespace combwright::music::musicxml {
namespace {

constexpr double min_tempo = 1.0;
constexpr double max_tempo = 2000.0;

std::string lower(std::string_view text) {
  std::string out(text);
  std::transform(out.begin(), out.end(), out.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return out;
}

// "D.C. al Fine" as "dcalfine": letters only, in lower case.
std::string letters_only(std::string_view text) {
  std::string out = lower(text);
  std::erase_if(out, [](char c) { return c < 'a' || c > 'z'; });
  return out;
}

// A tempo the player can follow, or a remark that this one is left out.
void add_tempo(std::optional<double> tempo, bool in_words, const Moment& at, pugi::xml_node where,
               const DirectionSink& sink) {
  if (tempo && *tempo >= min_tempo && *tempo <= max_tempo)
    sink.bar.tempos.push_back({at.offset_quarter, *tempo, in_words});
  else
    sink.remarks.add(Level::warning, "a tempo that cannot be played was left out",
                     "give 1 to 2,000 quarter notes a minute", where);
}

void read_words(std::string_view words, Signs& signs) {
  const std::string text = letters_only(words);
  const auto begins = [&text](std::string_view start) { return text.starts_with(start); };
  if (text == "dc" || begins("dcal") || begins("dcsenza") || begins("dacapo"))
    signs.da_capo = true;
  else if (text == "ds" || begins("dsal") || begins("dssenza") || begins("dalsegno"))
    signs.dal_segno.emplace();
  else if (begins("tocoda"))
    signs.to_coda.emplace();
  else if (text == "fine")
    signs.fine = true;
}

void read_wedge(pugi::xml_node wedge, const Moment& at, Dynamics& dynamics) {
  const std::string_view type = wedge.attribute("type").value();
  if (type == "crescendo" || type == "diminuendo") {
    dynamics.open_wedge = Wedge{at, at, type == "crescendo"};
  } else if (type == "stop" && dynamics.open_wedge) {
    dynamics.open_wedge->end = at;
    dynamics.wedges.push_back(*dynamics.open_wedge);
    dynamics.open_wedge.reset();
  }
}

// What the direction says by itself, where no <sound> of it says more.
struct Said {
  bool tempo = false;
  bool loudness = false;
};

void read_type(pugi::xml_node item, const Moment& at, const Said& said, const DirectionSink& sink) {
  const std::string_view name = item.name();
  if (name == "dynamics") {
    if (!said.loudness) read_dynamics(item, at, sink);
  } else if (name == "wedge") {
    read_wedge(item, at, sink.dynamics);
  } else if (name == "metronome") {
    const std::optional<double> tempo = metronome_tempo(item);
    if (tempo && !said.tempo) add_tempo(tempo, false, at, item, sink);
  } else if (name == "segno") {
    sink.bar.worded.segnos.emplace_back();
  } else if (name == "coda") {
    sink.bar.worded.codas.emplace_back();
  } else if (name == "rehearsal") {
    if (at.offset_quarter <= 0.0) sink.bar.section_start = true;
  } else if (name == "words") {
    read_words(item.child_value(), sink.bar.worded);
    const std::optional<double> tempo = words_tempo(item.child_value());
    if (tempo && !said.tempo) add_tempo(tempo, true, at, item, sink);
  }
}

// The moment moved by an <offset>, which sounds only where it says so or belongs to a <sound>.
Moment moved(Moment at, pugi::xml_node offset, bool sounds, double divisions) {
  if (!sounds) return at;
  const double quarters = parse_number(offset.child_value()).value_or(0.0) / divisions;
  at.offset_quarter = std::clamp(at.offset_quarter + quarters, 0.0, max_bar_quarters);
  return at;
}

}  // namespace

std::optional<double> type_quarters(std::string_view type) {
  constexpr std::array<std::pair<std::string_view, double>, 14> types{{{"quarter", 1.0},
                                                                       {"eighth", 0.5},
                                                                       {"half", 2.0},
                                                                       {"16th", 0.25},
                                                                       {"whole", 4.0},
                                                                       {"32nd", 0.125},
                                                                       {"64th", 1.0 / 16},
                                                                       {"128th", 1.0 / 32},
                                                                       {"256th", 1.0 / 64},
                                                                       {"512th", 1.0 / 128},
                                                                       {"1024th", 1.0 / 256},
                                                                       {"breve", 8.0},
                                                                       {"long", 16.0},
                                                                       {"maxima", 32.0}}};
  const auto found = std::find_if(types.begin(), types.end(),
                                  [type](const auto& entry) { return entry.first == type; });
  if (found == types.end()) return std::nullopt;
  return found->second;
}

std::optional<double> metronome_tempo(pugi::xml_node metronome) {
  const pugi::xml_node unit = metronome.child("beat-unit");
  if (unit.next_sibling("beat-unit")) return std::nullopt;
  const std::optional<double> quarters = type_quarters(clean(unit.child_value()));
  const std::string_view text = metronome.child_value("per-minute");
  const std::size_t first = text.find_first_of("0123456789");
  if (!quarters || first == std::string_view::npos) return std::nullopt;
  const std::size_t end = text.find_first_not_of("0123456789.", first);
  const std::optional<double> beats = parse_number(text.substr(first, end - first));
  if (!beats) return std::nullopt;

  // Each dot adds half of what the one before added.
  double beat = *quarters;
  double added = *quarters;
  for (const pugi::xml_node dot : metronome.children("beat-unit-dot")) {
    static_cast<void>(dot);
    added /= 2.0;
    beat += added;
  }
  return *beats * beat;
}

std::optional<double> words_tempo(std::string_view words) {
  constexpr std::array<std::pair<std::string_view, double>, 13> tempos{{{"grave", 40.0},
                                                                        {"largo", 50.0},
                                                                        {"lento", 52.0},
                                                                        {"larghetto", 63.0},
                                                                        {"adagio", 71.0},
                                                                        {"andante", 92.0},
                                                                        {"andantino", 94.0},
                                                                        {"moderato", 114.0},
                                                                        {"allegretto", 116.0},
                                                                        {"allegro", 144.0},
                                                                        {"vivace", 160.0},
                                                                        {"presto", 184.0},
                                                                        {"prestissimo", 204.0}}};
  // Whole words only: every word between two blanks.
  std::string text(1, ' ');
  text.append(lower(clean(words))).append(1, ' ');
  std::replace_if(
      text.begin(), text.end(), [](char c) { return c < 'a' || c > 'z'; }, ' ');
  std::size_t first = std::string::npos;
  std::optional<double> tempo;
  for (const auto& [word, quarters_per_minute] : tempos) {
    const std::size_t found = text.find(std::string(1, ' ').append(word).append(1, ' '));
    if (found >= first) continue;
    first = found;
    tempo = quarters_per_minute;
  }
  return tempo;
}

void read_dynamics(pugi::xml_node dynamics, const Moment& at, const DirectionSink& sink) {
  for (const pugi::xml_node mark : dynamics.children()) {
    if (const std::optional<double> loudness = mark_loudness(mark.name()))
      sink.dynamics.marks.push_back({at, *loudness});
    if (is_accent_mark(mark.name())) sink.accents.insert(at.offset_quarter);
  }
}

void read_direction(pugi::xml_node direction, const Moment& at, double divisions,
                    const DirectionSink& sink) {
  const pugi::xml_node offset = direction.child("offset");
  const bool sounds = std::string_view(offset.attribute("sound").value()) == "yes";
  const Moment moment = moved(at, offset, sounds, divisions);
  const pugi::xml_node sound = direction.child("sound");
  const Said said{!sound.attribute("tempo").empty(), !sound.attribute("dynamics").empty()};
  for (const pugi::xml_node type : direction.children("direction-type"))
    for (const pugi::xml_node item : type.children()) read_type(item, moment, said, sink);
  if (sound) read_sound(sound, moment, divisions, sink);
}

void read_sound(pugi::xml_node sound, const Moment& at, double divisions,
                const DirectionSink& sink) {
  const Moment moment = moved(at, sound.child("offset"), true, divisions);
  if (const pugi::xml_attribute tempo = sound.attribute("tempo"))
    add_tempo(parse_number(tempo.value()), false, moment, sound, sink);
  if (const auto loudness = percent_loudness(sound.attribute("dynamics")))
    sink.dynamics.marks.push_back({moment, *loudness});

  const auto is_yes = [sound](const char* name) {
    return std::string_view(sound.attribute(name).value()) == "yes";
  };
  Signs& signs = sink.bar.sounded;
  if (is_yes("dacapo")) signs.da_capo = true;
  if (is_yes("forward-repeat")) sink.bar.repeat_start = true;
  if (sound.attribute("fine")) signs.fine = true;
  if (const auto label = sound.attribute("segno")) signs.segnos.emplace_back(label.value());
  if (const auto label = sound.attribute("coda")) signs.codas.emplace_back(label.value());
  if (const auto label = sound.attribute("dalsegno")) signs.dal_segno = label.value();
  if (const auto label = sound.attribute("tocoda")) {
    signs.to_coda = label.value();
    signs.to_coda_at_start = moment.offset_quarter <= 0.0;
  }
}

}  // namespace combwright::music::musicxml
