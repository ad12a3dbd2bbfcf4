// SPDX-License-Identifier: Apache-2.0
#include "music/musicxml_score.h"

#include <algorithm>
#include <string_view>

#include <fmt/format.h>

#include "music/musicxml_attributes.h"
#include "music/musicxml_measure.h"
#include "music/musicxml_text.h"

namespace combwright::music::musicxml {
namespace {

constexpr double same_quarter = 1e-6;

class ScoreReader {
 public:
  explicit ScoreReader(const Document& document)
      : document_(document), remarks_(document), list_(read_part_list(document.root())) {
    for (const PartInfo& info : list_.parts) {
      PartState state;
      state.part = static_cast<int>(states_.size());
      state.info = &info;
      states_.push_back(state);
      score_.parts.push_back(info.part);
    }
    has_divisions_.resize(states_.size());
  }

  Score read() {
    const pugi::xml_node root = document_.root();
    const std::string_view kind = root.name();
    if (kind == "score-partwise") {
      read_partwise(root);
    } else if (kind == "score-timewise") {
      read_timewise(root);
    } else {
      throw document_.error(root, fmt::format("<{}> is no score; <score-partwise> or "
                                              "<score-timewise> would do",
                                              clean(kind, 40)));
    }
    if (score_.bars.empty())
      throw document_.error(root, "no measures; a score with music would do");
    score_.title = read_title(root);
    score_.composer = read_composer(root);
    return finish();
  }

 private:
  void read_partwise(pugi::xml_node root) {
    for (const pugi::xml_node part : root.children("part")) {
      PartState& state = state_of(part);
      for (const pugi::xml_node measure : part.children("measure")) find_divisions(measure, state);
      std::size_t bar = 0;
      for (const pugi::xml_node measure : part.children("measure"))
        read_bar(measure, measure, bar++, state);
    }
  }

  void read_timewise(pugi::xml_node root) {
    for (const pugi::xml_node measure : root.children("measure"))
      for (const pugi::xml_node part : measure.children("part"))
        find_divisions(part, state_of(part));
    std::size_t bar = 0;
    for (const pugi::xml_node measure : root.children("measure")) {
      for (const pugi::xml_node part : measure.children("part"))
        read_bar(measure, part, bar, state_of(part));
      ++bar;
    }
  }

  PartState& state_of(pugi::xml_node part) {
    const auto found = list_.index.find(part.attribute("id").value());
    if (found == list_.index.end()) {
      throw document_.error(part, fmt::format("part '{}' is not in the part list; a <score-part> "
                                              "with this id would do",
                                              clean(part.attribute("id").value(), 40)));
    }
    return states_[found->second];
  }

  // Files exist that define the divisions after notes that count in them: the first definition
  // holds from the beginning.
  void find_divisions(pugi::xml_node measure, PartState& state) {
    const auto part = static_cast<std::size_t>(state.part);
    for (pugi::xml_node attributes = measure.child("attributes");
         attributes && !has_divisions_[part]; attributes = attributes.next_sibling("attributes")) {
      const pugi::xml_node divisions = attributes.child("divisions");
      if (!divisions) continue;
      state.divisions = read_divisions(document_, divisions);
      has_divisions_[part] = true;
    }
  }

  // `measure` carries number and marks, `contents` the music: one element in a partwise score.
  void read_bar(pugi::xml_node measure, pugi::xml_node contents, std::size_t index,
                PartState& state) {
    if (index >= max_bars)
      throw document_.error(
          measure, fmt::format("more than {} measures; a shorter score would do", max_bars));
    const bool is_new = index >= score_.bars.size();
    if (is_new) number_bar(measure, score_.bars.emplace_back());
    WrittenBar& bar = score_.bars[index];
    const std::size_t notes_before = bar.notes.size();
    read_measure(document_, contents, index, state, bar, remarks_);
    note_count_ += bar.notes.size() - notes_before;
    if (note_count_ > max_notes)
      throw document_.error(measure,
                            fmt::format("more than {} notes; a shorter score would do", max_notes));
    if (is_new) {
      bar.beats = state.beats;
      bar.beat_unit = state.beat_unit;
      bar.nominal_quarter = state.nominal_quarter;
    }
  }

  void number_bar(pugi::xml_node measure, WrittenBar& bar) const {
    const std::string_view text = measure.attribute("number").value();
    const bool implicit = std::string_view(measure.attribute("implicit").value()) == "yes";
    const int previous = score_.bars.size() < 2 ? 0 : score_.bars[score_.bars.size() - 2].number;
    const std::optional<int> number =
        parse_whole(text.substr(0, text.find_first_not_of("0123456789")));
    bar.number = number.value_or(implicit ? previous : previous + 1);
    bar.partial = implicit || bar.number == 0;
  }

  Score finish() {
    set_lengths();
    spread_endings();
    choose_signs();
    std::vector<Dynamics> dynamics;
    for (PartState& state : states_) dynamics.push_back(std::move(state.dynamics));
    apply_dynamics(score_.bars, dynamics);
    for (WrittenBar& bar : score_.bars) settle_tempos(bar.tempos);
    for (const PartState& state : states_) score_.percussion_notes += state.percussion_notes;
    score_.findings = remarks_.findings();
    return std::move(score_);
  }

  // A repeat sign inside a bar, or a part of it that isn't counted, splits it in two that are not
  // to be filled up.
  bool is_split(std::size_t index) const {
    const auto has_next = [&](auto mark) {
      return index + 1 < score_.bars.size() && score_.bars[index + 1].*mark;
    };
    const WrittenBar& bar = score_.bars[index];
    const bool after_repeat = index > 0 && score_.bars[index - 1].repeat_plays > 0;
    return bar.repeat_start || after_repeat || bar.repeat_plays > 0 ||
           has_next(&WrittenBar::repeat_start) || has_next(&WrittenBar::partial);
  }

  // A bar is as long as its longest part, but a bar too short for its time signature is filled up
  // unless it is a pickup or split by a repeat sign.
  void set_lengths() {
    double start = 0.0;
    for (std::size_t i = 0; i < score_.bars.size(); ++i) {
      WrittenBar& bar = score_.bars[i];
      const bool may_be_short = bar.partial || i == 0 || is_split(i);
      const bool empty = bar.content_quarter <= 0.0;
      bar.length_quarter = may_be_short && !empty
                               ? bar.content_quarter
                               : std::max(bar.content_quarter, bar.nominal_quarter);
      if (bar.length_quarter <= 0.0) bar.length_quarter = 4.0;
      bar.start_quarter = start;
      start += bar.length_quarter;
    }
  }

  // From the bars where endings start and stop to every bar inside. An ending that never stops
  // lasts until the next begins or a repeat sign closes it.
  void spread_endings() {
    std::vector<int> open;
    for (WrittenBar& bar : score_.bars) {
      if (bar.ending_start)
        open = bar.endings;
      else
        bar.endings = open;
      if (bar.ending_stop || bar.repeat_plays > 0) open.clear();
    }
  }

  // What is only drawn or said in words counts for those kinds of sign that no <sound> gives.
  void choose_signs() {
    split_coda_signs();
    choose([](const Signs& signs) { return !signs.segnos.empty(); },
           [](Signs& to, const Signs& from) { to.segnos = from.segnos; });
    choose([](const Signs& signs) { return !signs.codas.empty(); },
           [](Signs& to, const Signs& from) { to.codas = from.codas; });
    choose([](const Signs& signs) { return signs.to_coda.has_value(); },
           [](Signs& to, const Signs& from) { to.to_coda = from.to_coda; });
    choose([](const Signs& signs) { return signs.fine; },
           [](Signs& to, const Signs& from) { to.fine = from.fine; });
    choose([](const Signs& signs) { return signs.da_capo || signs.dal_segno; },
           [](Signs& to, const Signs& from) {
             to.da_capo = from.da_capo;
             to.dal_segno = from.dal_segno;
           });
  }

  template <typename Has, typename Take>
  void choose(const Has& has, const Take& take) {
    const bool sounded = std::any_of(score_.bars.begin(), score_.bars.end(),
                                     [&has](const WrittenBar& bar) { return has(bar.sounded); });
    if (sounded) return;
    for (WrittenBar& bar : score_.bars) take(bar.sounded, bar.worded);
  }

  // The coda's sign is drawn twice, first where to leave and last where to go on.
  void split_coda_signs() {
    std::vector<Signs*> drawn;
    bool in_words = false;
    for (WrittenBar& bar : score_.bars) {
      if (bar.worded.to_coda) {
        in_words = true;
        bar.worded.codas.clear();
      }
      if (!bar.worded.codas.empty()) drawn.push_back(&bar.worded);
    }
    if (in_words || drawn.size() < 2) return;
    drawn.front()->codas.clear();
    drawn.front()->to_coda.emplace();
  }

  // In order, one for each moment; a number has precedence over words.
  static void settle_tempos(std::vector<WrittenTempo>& tempos) {
    std::stable_sort(tempos.begin(), tempos.end(),
                     [](const WrittenTempo& a, const WrittenTempo& b) {
                       if (a.offset_quarter != b.offset_quarter)
                         return a.offset_quarter < b.offset_quarter;
                       return a.in_words < b.in_words;
                     });
    const auto same = [](const WrittenTempo& a, const WrittenTempo& b) {
      return b.offset_quarter - a.offset_quarter < same_quarter;
    };
    tempos.erase(std::unique(tempos.begin(), tempos.end(), same), tempos.end());
  }

  const Document& document_;
  Remarks remarks_;
  PartList list_;
  std::vector<PartState> states_;
  std::vector<bool> has_divisions_;
  std::size_t note_count_ = 0;
  Score score_;
};

}  // namespace

Score read_score(const Document& document) {
  return ScoreReader(document).read();
}

}  // namespace combwright::music::musicxml
