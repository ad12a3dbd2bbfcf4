// SPDX-License-Identifier: Apache-2.0
#include "arrange/scale_bound.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <numeric>

#include "arrange/rules.h"

namespace combwright::arrange {
namespace {

// Teeth of one pitch that are told apart; the last stands for all more.
constexpr int depth = 4;

// More notes of a pitch than this are taken for played by a single tooth.
constexpr std::size_t most_notes_of_a_pitch = 2'000;

std::size_t index(int i) {
  return static_cast<std::size_t>(i);
}

// What the teeth of one written pitch add, for the first, the second...
struct PitchGain {
  int midi;
  std::array<double, depth> of_tooth{};
};

// A tune as the bound sees it.
struct TuneGain {
  std::vector<PitchGain> with_octave;     // for a pitch that has octaves in the range
  std::vector<PitchGain> without_octave;  // for one that has none
  std::array<double, midi_notes> octave{};  // worth of all notes of a written pitch on octaves
};

std::array<double, depth> gains(const std::vector<double>& onset_s,
                                const std::vector<double>& weight, double interval_s) {
  std::array<double, depth> gain{};
  const double total = std::accumulate(weight.begin(), weight.end(), 0.0);
  if (!(interval_s > same_time_s) || onset_s.size() > most_notes_of_a_pitch) {
    gain[0] = total;
    return gain;
  }
  const std::vector<double> added = earned_by_more_teeth(onset_s, weight, interval_s, depth - 1);
  double rest = total;
  for (std::size_t k = 0; k < added.size(); ++k) {
    gain[k] = added[k];
    rest -= added[k];
  }
  gain[depth - 1] = std::max(0.0, rest);
  return gain;
}

TuneGain gain_of(const TuneWorth& tune, double interval_s) {
  TuneGain gain;
  std::vector<double> beyond;
  for (int m = 0; m < midi_notes; ++m) {
    const PitchNotes& notes = tune.written(m);
    if (notes.onset_s.empty()) continue;
    beyond.clear();
    for (std::size_t i = 0; i < notes.weight.size(); ++i) {
      const double share = notes.melody[i] != 0 ? octave_share_melody : octave_share;
      beyond.push_back((1.0 - share) * notes.weight[i]);
      gain.octave[index(m)] += share * notes.weight[i];
    }
    gain.with_octave.push_back({m, gains(notes.onset_s, beyond, interval_s)});
    gain.without_octave.push_back({m, gains(notes.onset_s, notes.weight, interval_s)});
  }
  return gain;
}

class Bound {
 public:
  explicit Bound(const ScaleBoundTask& task)
      : task_(task),
        pitches_(index(task.highest_midi - task.lowest_midi + 1)),
        slots_(pitches_ * depth) {
    // Moved notes may bring two plucks nearer by the move limit each.
    const double interval = task.least_interval_s - 2.0 * (move_limit_s + same_time_s);
    tunes_.reserve(task.tunes.size());
    for (const TuneWorth& tune : task.tunes) tunes_.push_back(gain_of(tune, interval));
  }

  double in_keys(const std::vector<int>& keys) const {
    double sum = 0.0;
    std::vector<double> gain(slots_, 0.0);
    for (std::size_t j = 0; j < tunes_.size(); ++j) {
      sum += free_worth(j, keys[j]);
      for_each_gain(j, keys[j], [&](std::size_t slot, double value) { gain[slot] += value; });
    }
    return share(sum + sum_of_dearest(gain));
  }

  // For each tune by itself, in its best key.
  std::vector<double> of_tunes() const {
    std::vector<double> bounds;
    std::vector<double> gain(slots_);
    for (std::size_t j = 0; j < tunes_.size(); ++j) {
      double best = 0.0;
      for (const int key : task_.transpositions) {
        std::fill(gain.begin(), gain.end(), 0.0);
        for_each_gain(j, key, [&](std::size_t slot, double value) { gain[slot] = value; });
        best = std::max(best, free_worth(j, key) + sum_of_dearest(gain));
      }
      bounds.push_back(std::min(1.0, best));
    }
    return bounds;
  }

  double any_keys(double reached, int rounds) {
    constexpr int patience = 10;
    const std::size_t tunes = tunes_.size();
    price_.assign(tunes * slots_, 0.0);
    std::vector<float> step(tunes * slots_);
    double best = 1.0;
    double scale = 1.0;
    int stale = 0;
    for (int round = 0; round < rounds; ++round) {
      std::vector<double> all(slots_, 0.0);
      double value = 0.0;
      std::vector<int> key(tunes);
      for (std::size_t j = 0; j < tunes; ++j) {
        value += best_of(j, key[j]);
        for (std::size_t s = 0; s < slots_; ++s) all[s] += price_[j * slots_ + s];
      }
      std::vector<char> chosen(slots_, 0);
      value += sum_of_dearest(all, &chosen);
      value = share(value);
      if (value < best - 1e-7) {
        best = value;
        stale = 0;
      } else if (++stale == patience) {
        scale *= 0.6;
        stale = 0;
      }
      // Down where the scale has the tooth, up where the tune uses it.
      double norm = 0.0;
      for (std::size_t j = 0; j < tunes; ++j) {
        float* slope = &step[j * slots_];
        for (std::size_t s = 0; s < slots_; ++s) slope[s] = chosen[s] != 0 ? -1.0F : 0.0F;
        for_each_gain(j, key[j], [&](std::size_t slot, double gain) {
          if (gain > price_[j * slots_ + slot]) slope[slot] += 1.0F;
        });
        for (std::size_t s = 0; s < slots_; ++s) {
          if (slope[s] < 0.0F && price_[j * slots_ + s] == 0.0) slope[s] = 0.0F;
          norm += slope[s] * slope[s];
        }
      }
      if (norm == 0.0) break;
      const double length =
          scale * (value - reached) * static_cast<double>(tunes) / norm;
      for (std::size_t i = 0; i < price_.size(); ++i)
        price_[i] = std::max(0.0, price_[i] + length * static_cast<double>(step[i]));
    }
    return best;
  }

 private:
  double share(double sum) const {
    return std::min(1.0, sum / static_cast<double>(tunes_.size()));
  }

  bool in_range(int midi) const {
    return midi >= task_.lowest_midi && midi <= task_.highest_midi;
  }

  bool has_octave(int midi) const {
    return in_range(midi + 12) || in_range(midi - 12) || in_range(midi + 24) ||
           in_range(midi - 24);
  }

  double free_worth(std::size_t j, int key) const {
    double sum = 0.0;
    for (const PitchGain& pitch : tunes_[j].with_octave)
      if (has_octave(pitch.midi + key)) sum += tunes_[j].octave[index(pitch.midi)];
    return sum;
  }

  template <typename Visit>
  void for_each_gain(std::size_t j, int key, Visit visit) const {
    const TuneGain& tune = tunes_[j];
    for (std::size_t i = 0; i < tune.with_octave.size(); ++i) {
      const int midi = tune.with_octave[i].midi + key;
      if (!in_range(midi)) continue;
      const PitchGain& gain = has_octave(midi) ? tune.with_octave[i] : tune.without_octave[i];
      const std::size_t first = index(midi - task_.lowest_midi) * depth;
      for (std::size_t k = 0; k < depth; ++k)
        if (gain.of_tooth[k] > 0.0) visit(first + k, gain.of_tooth[k]);
    }
  }

  double best_of(std::size_t j, int& best_key) const {
    double best = -1.0;
    for (const int key : task_.transpositions) {
      double value = free_worth(j, key);
      for_each_gain(j, key, [&](std::size_t slot, double gain) {
        value += std::max(0.0, gain - price_[j * slots_ + slot]);
      });
      if (value > best) {
        best = value;
        best_key = key;
      }
    }
    return best;
  }

  // Of as many slots as there are teeth. That a second tooth comes with a first is left out, which
  // can only raise it.
  double sum_of_dearest(const std::vector<double>& value, std::vector<char>* chosen = nullptr) const {
    std::vector<std::size_t> order(slots_);
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return value[a] > value[b]; });
    order.resize(std::min(order.size(), index(task_.teeth)));
    double sum = 0.0;
    for (const std::size_t s : order) {
      sum += value[s];
      if (chosen != nullptr) (*chosen)[s] = 1;
    }
    return sum;
  }

  const ScaleBoundTask& task_;
  std::size_t pitches_, slots_;
  std::vector<TuneGain> tunes_;
  std::vector<double> price_;  // by tune and slot
};

}  // namespace

ScaleBounds scale_bounds(const ScaleBoundTask& task, const std::vector<int>& keys, double reached,
                         int rounds) {
  assert(!task.tunes.empty() && keys.size() == task.tunes.size() && task.teeth > 0);
  Bound bound(task);
  return {.any_keys = bound.any_keys(reached, rounds),
          .in_keys = bound.in_keys(keys),
          .of_tune = bound.of_tunes()};
}

}  // namespace combwright::arrange
