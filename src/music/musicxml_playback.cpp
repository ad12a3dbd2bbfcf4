// SPDX-License-Identifier: Apache-2.0
#include "music/musicxml_playback.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <tuple>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/error.h"
#include "music/musicxml_unroll.h"

namespace combwright::music::musicxml {
namespace {

// Tied notes whose written durations were rounded may miss each other by this much.
constexpr double tie_reach_quarter = 0.02;
// More notes of one pitch in one part are not held at once by any player.
constexpr std::size_t max_open_ties = 8;

void check_count(std::size_t count, const std::string& what, const std::string& name) {
  if (count > max_notes)
    throw Error({name}, fmt::format("more than {} {} with all repeats; a shorter score would do",
                                    max_notes, what));
}

const Tempo& tempo_at(const std::vector<Tempo>& tempos, double quarter) {
  const auto next = std::upper_bound(
      tempos.begin(), tempos.end(), quarter,
      [](double value, const Tempo& tempo) { return value < tempo.start_quarter; });
  return next == tempos.begin() ? tempos.front() : *std::prev(next);
}

double seconds_at(const std::vector<Tempo>& tempos, double quarter) {
  const Tempo& tempo = tempo_at(tempos, quarter);
  return tempo.start_s + (quarter - tempo.start_quarter) * 60.0 / tempo.quarters_per_minute;
}

// The tempo in force at the beginning of every written bar: after a jump the player takes up the
// tempo of the place.
std::vector<double> tempos_at_bars(const std::vector<WrittenBar>& bars) {
  std::vector<double> tempos;
  double tempo = default_tempo;
  for (const WrittenBar& bar : bars) {
    tempos.push_back(tempo);
    if (!bar.tempos.empty()) tempo = bar.tempos.back().quarters_per_minute;
  }
  return tempos;
}

class Playback {
 public:
  Playback(const Score& score, const std::string& name) : score_(score), name_(name) {
    tune_.title = score.title;
    tune_.composer = score.composer;
    tune_.parts = score.parts;
    tune_.percussion_notes = score.percussion_notes;
    tune_.findings = score.findings;
    order_ = unroll(score.bars, name, tune_.findings);
  }

  Tune play() {
    lay_bars();
    for (std::size_t i = 0; i < order_.size(); ++i) play_bar(i);
    finish();
    return std::move(tune_);
  }

 private:
  struct Tie {
    std::size_t note = 0;
    double end_quarter = 0.0;
    int voice = 0;
    std::size_t bar = 0;  // as written
  };

  // Bars and tempos in order; together they are the clock for the notes.
  void lay_bars() {
    const std::vector<double> first_tempos = tempos_at_bars(score_.bars);
    double quarter = 0.0;
    for (const std::size_t index : order_) {
      const WrittenBar& written = score_.bars[index];
      set_tempo(quarter, first_tempos[index]);
      for (const WrittenTempo& tempo : written.tempos)
        if (tempo.offset_quarter < written.length_quarter)
          set_tempo(quarter + tempo.offset_quarter, tempo.quarters_per_minute);
      if (written.section_start && !tune_.bars.empty()) tune_.bars.back().section_end = true;
      tune_.bars.push_back({written.number, seconds_at(tune_.tempos, quarter), quarter,
                            written.length_quarter, written.beats, written.beat_unit,
                            written.section_end});
      quarter += written.length_quarter;
    }
  }

  void set_tempo(double quarter, double quarters_per_minute) {
    check_count(++played_tempos_, "tempos", name_);
    std::vector<Tempo>& tempos = tune_.tempos;
    if (tempos.empty()) {
      tempos.push_back({0.0, 0.0, quarters_per_minute});
      return;
    }
    if (tempos.back().quarters_per_minute == quarters_per_minute) return;
    const double start_s = seconds_at(tempos, quarter);
    if (tempos.back().start_quarter == quarter)
      tempos.back().quarters_per_minute = quarters_per_minute;
    else
      tempos.push_back({start_s, quarter, quarters_per_minute});
  }

  void play_bar(std::size_t played) {
    const WrittenBar& bar = score_.bars[order_[played]];
    for (const WrittenNote& note : bar.notes) {
      check_count(++played_notes_, "notes", name_);
      play_note(note, order_[played], tune_.bars[played].start_quarter);
    }
  }

  void play_note(const WrittenNote& written, std::size_t bar, double bar_start) {
    const double nominal = bar_start + written.offset_quarter;
    Note note = sounding(written, nominal);
    const double end = written.grace ? nominal : nominal + written.duration_quarter;
    if (const std::optional<std::size_t> held = take_tie(written, bar, nominal)) {
      Note& first = tune_.notes[*held];
      first.duration_quarter = std::max(end - first.onset_quarter, first.duration_quarter);
      first.ornament = first.ornament && written.ornament;
      if (written.tie_start) open_tie(written, {*held, end, written.voice, bar});
      return;
    }
    tune_.notes.push_back(note);
    if (written.tie_start) open_tie(written, {tune_.notes.size() - 1, end, written.voice, bar});
  }

  Note sounding(const WrittenNote& written, double nominal) const {
    const double quarters_per_s = tempo_at(tune_.tempos, nominal).quarters_per_minute / 60.0;
    const auto step = [quarters_per_s](const Stagger& stagger, double step_s) {
      if (stagger.of == 0) return 0.0;
      return std::min(step_s * quarters_per_s, stagger.room_quarter / stagger.of);
    };
    const double grace = step(written.before, grace_step_s);
    const double late = std::max(grace * written.before.of - nominal, 0.0);
    const double rolled = step(written.after, arpeggio_step_s) * written.after.steps;
    const double shift = late + rolled - grace * written.before.steps;

    Note note;
    note.onset_quarter = nominal + shift;
    note.duration_quarter = written.grace ? grace : std::max(written.duration_quarter - shift, 0.0);
    note.midi = written.midi;
    note.loudness = written.loudness;
    note.accent = written.accent;
    note.ornament = written.ornament;
    note.part = written.part;
    note.voice = written.voice;
    return note;
  }

  void open_tie(const WrittenNote& written, const Tie& tie) {
    std::vector<Tie>& ties = ties_[{written.part, written.midi}];
    if (ties.size() >= max_open_ties) ties.erase(ties.begin());
    ties.push_back(tie);
  }

  // The held note that this one prolongs: of the same voice if there is a choice. A note that
  // lacks the tie's end is still tied to its written predecessor in the voice, for files exist that
  // mark beginnings only; after a jump it is struck anew.
  std::optional<std::size_t> take_tie(const WrittenNote& written, std::size_t bar,
                                      double onset_quarter) {
    std::vector<Tie>& ties = ties_[{written.part, written.midi}];
    const auto meets = [onset_quarter](const Tie& tie) {
      return std::abs(tie.end_quarter - onset_quarter) < tie_reach_quarter;
    };
    auto found = std::find_if(ties.begin(), ties.end(), [&](const Tie& tie) {
      const bool follows = bar == tie.bar || bar == tie.bar + 1;
      return meets(tie) && tie.voice == written.voice &&
             (written.tie_stop || (follows && !written.grace));
    });
    if (found == ties.end() && written.tie_stop)
      found = std::find_if(ties.begin(), ties.end(), meets);
    if (found == ties.end()) return std::nullopt;
    const std::size_t note = found->note;
    ties.erase(found);
    return note;
  }

  void finish() {
    for (Note& note : tune_.notes) {
      note.onset_s = seconds_at(tune_.tempos, note.onset_quarter);
      const double end_s = seconds_at(tune_.tempos, note.onset_quarter + note.duration_quarter);
      note.duration_s = end_s - note.onset_s;
      tune_.length_s = std::max(tune_.length_s, end_s);
    }
    std::stable_sort(tune_.notes.begin(), tune_.notes.end(), [](const Note& a, const Note& b) {
      return std::tie(a.onset_s, a.midi, a.part) < std::tie(b.onset_s, b.midi, b.part);
    });
  }

  const Score& score_;
  const std::string& name_;
  std::vector<std::size_t> order_;
  // Counted with the tied and the repeated ones, so that no file takes long.
  std::size_t played_notes_ = 0;
  std::size_t played_tempos_ = 0;
  std::map<std::pair<int, int>, std::vector<Tie>> ties_;
  Tune tune_;
};

}  // namespace

Tune play(const Score& score, const std::string& name) {
  return Playback(score, name).play();
}

}  // namespace combwright::music::musicxml
