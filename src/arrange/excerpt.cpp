// SPDX-License-Identifier: Apache-2.0
#include "arrange/excerpt.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <optional>

namespace combwright::arrange {
namespace {

std::vector<const ScoreNote*> line_of(const std::vector<ScoreNote>& score, Role role) {
  std::vector<const ScoreNote*> line;
  for (const ScoreNote& note : score)
    if (note.role == role) line.push_back(&note);
  return line;
}

double median_step_s(const std::vector<const ScoreNote*>& line) {
  std::vector<double> steps;
  for (std::size_t i = 1; i < line.size(); ++i)
    steps.push_back(line[i]->onset_s - line[i - 1]->onset_s);
  if (steps.empty()) return 0.0;
  const auto middle = steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2);
  std::nth_element(steps.begin(), middle, steps.end());
  return *middle;
}

}  // namespace

std::vector<double> phrase_ends(const music::Tune& tune, const std::vector<ScoreNote>& score) {
  std::vector<double> strength(tune.bars.size(), 0.0);
  if (score.empty()) return strength;
  const auto first = static_cast<std::size_t>(score.front().bar - 1);
  const auto last = static_cast<std::size_t>(score.back().bar - 1);
  const std::size_t upbeat = tune.bars[first].number == 0 ? 1 : 0;

  for (std::size_t b = first; b <= last; ++b) {
    if (tune.bars[b].section_end) strength[b] += 0.5;
    const std::size_t played = b - first + 1 - std::min(upbeat, b - first + 1);
    if (played > 0 && played % 4 == 0) strength[b] += played % 8 == 0 ? 0.2 : 0.1;
  }

  const auto melody = line_of(score, Role::melody);
  const double usual_step = median_step_s(melody);
  for (std::size_t i = 0; i < melody.size(); ++i) {
    const bool last_of_bar = i + 1 == melody.size() || melody[i + 1]->bar != melody[i]->bar;
    if (!last_of_bar || i + 1 == melody.size() || usual_step <= 0.0) continue;
    const double pause = (melody[i + 1]->onset_s - melody[i]->onset_s) / usual_step;
    strength[static_cast<std::size_t>(melody[i]->bar - 1)] +=
        0.35 * std::clamp((pause - 1.0) / 3.0, 0.0, 1.0);
  }

  const auto bass = line_of(score, Role::bass);
  for (std::size_t i = 0; i < bass.size(); ++i) {
    const bool last_of_bar = i + 1 == bass.size() || bass[i + 1]->bar != bass[i]->bar;
    const bool at_home = (bass[i]->midi - bass.back()->midi) % 12 == 0;
    if (last_of_bar && at_home) strength[static_cast<std::size_t>(bass[i]->bar - 1)] += 0.15;
  }

  for (double& s : strength) s = std::min(s, 0.95);
  strength[last] = 1.0;
  return strength;
}

double onset_span_s(const std::vector<ScoreNote>& score, const BarRange& bars) {
  std::optional<double> first;
  double last = 0.0;
  for (const ScoreNote& note : score) {
    if (note.bar < bars.first || note.bar > bars.last) continue;
    if (!first) first = note.onset_s;
    last = note.onset_s;
  }
  return first ? last - *first : 0.0;
}

ExcerptChoice choose_excerpt(const music::Tune& tune, const std::vector<ScoreNote>& score,
                             double room_s, double fastest) {
  assert(!score.empty() && room_s > 0.0);
  constexpr double clear_end = 0.35;    // strength from which a bar counts as a phrase end
  constexpr double worth_of_end = 0.4;  // of a full turn
  constexpr double cost_of_haste = 0.5;
  const std::vector<double> ends = phrase_ends(tune, score);
  const int first = score.front().bar;
  const double start = score.front().onset_s;

  ExcerptChoice best{.bars = {first, first}};
  double best_merit = -1.0;
  double best_clear_merit = -1.0;
  for (std::size_t i = 0; i < score.size(); ++i) {
    const bool last_of_bar = i + 1 == score.size() || score[i + 1].bar != score[i].bar;
    if (!last_of_bar) continue;
    const double span = score[i].onset_s - start;
    if (span > room_s * fastest) break;
    const double fill = std::min(1.0, span / room_s);
    const double haste = std::max(0.0, span / room_s - 1.0);
    const double end = ends[static_cast<std::size_t>(score[i].bar - 1)];
    const double merit = fill - cost_of_haste * haste + worth_of_end * end;
    const bool clear = end >= clear_end && fill >= 0.5;
    const bool better =
        clear ? merit > best_clear_merit : best_clear_merit < 0.0 && merit > best_merit;
    if (i + 1 == score.size())
      return {.bars = {first, score[i].bar}, .whole = true, .at_phrase_end = true};
    if (!better) continue;
    best = {.bars = {first, score[i].bar}, .whole = false, .at_phrase_end = end >= clear_end};
    (clear ? best_clear_merit : best_merit) = merit;
  }
  return best;
}

}  // namespace combwright::arrange
