// SPDX-License-Identifier: Apache-2.0
#include "arrange/scale_bound.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <numeric>

#include "arrange/rules.h"
#include "base/parallel.h"

namespace combwright::arrange {
namespace {

// Teeth of one pitch that are told apart; the last stands for all more.
constexpr std::size_t depth = 4;

// Into how many groups of like intervals the places are put.
constexpr std::size_t most_groups = 8;

// Ways to have teeth of a pitch: in which group the fastest lies, and how many.
constexpr std::size_t ways = most_groups * depth;

// More notes of a pitch than this are taken for played by a single tooth.
constexpr std::size_t most_notes_of_a_pitch = 2'000;

// Prices, for tunes and slots together; beyond that none are sought.
constexpr std::size_t most_prices = 10'000'000;

std::size_t index(int i) {
  return static_cast<std::size_t>(i);
}

constexpr std::size_t way(std::size_t group, std::size_t teeth) {
  return group * depth + std::min(teeth, depth) - 1;
}

// What the teeth of one written pitch earn, by way.
struct PitchGain {
  int midi = 0;
  std::array<double, ways> with_octave{};     // beyond an octave's worth for every note
  std::array<double, ways> without_octave{};  // where no octave lies in the range
  double octave = 0.0;                        // an octave's worth for every note
};

// The sums of what one, two, ... teeth of the interval earn; the last earns all.
std::array<double, depth> gains(const PitchNotes& notes, const std::vector<double>& weight,
                                double interval_s) {
  std::array<double, depth> sum{};
  const double total = std::accumulate(weight.begin(), weight.end(), 0.0);
  sum.fill(total);
  if (!(interval_s > same_time_s) || notes.least_gap_s >= interval_s ||
      weight.size() > most_notes_of_a_pitch)
    return sum;
  const std::vector<double> added =
      earned_by_more_teeth(notes.onset_s, weight, interval_s, static_cast<int>(depth) - 1);
  double earned = 0.0;
  for (std::size_t k = 0; k < added.size(); ++k) sum[k] = earned += added[k];
  return sum;
}

// Groups of neighbouring places whose intervals are alike, and the least in each.
struct Groups {
  std::vector<std::size_t> of_place;
  std::vector<double> interval_s;
};

Groups groups_of(const std::vector<double>& interval_s) {
  const auto [least, most] = std::minmax_element(interval_s.begin(), interval_s.end());
  const double span = std::log(*most / *least);
  Groups groups;
  groups.interval_s.assign(most_groups, *most);
  for (const double interval : interval_s) {
    const double part = span > 0.0 ? std::log(interval / *least) / span : 0.0;
    const auto g = std::min(most_groups - 1,
                            static_cast<std::size_t>(part * static_cast<double>(most_groups)));
    groups.of_place.push_back(g);
    groups.interval_s[g] = std::min(groups.interval_s[g], interval);
  }
  return groups;
}

class Bound {
 public:
  Bound(const ScaleTask& task, unsigned threads, const Watch& watch)
      : task_(task),
        threads_(threads),
        watch_(watch),
        groups_(groups_of(task.interval_s)),
        slots_(index(task.highest_midi - task.lowest_midi + 1) * ways),
        tunes_(task.tunes.size()) {
    parallel_for(tunes_.size(), threads_, [&](std::size_t j) {
      watch_.check();
      tunes_[j] = gain_of(task.tunes[j]);
    });
  }

  double in_keys(const std::vector<int>& keys) const {
    double sum = 0.0;
    std::vector<double> gain(slots_, 0.0);
    for (std::size_t j = 0; j < tunes_.size(); ++j) {
      sum += free_worth(j, keys[j]);
      add_gain(j, keys[j], gain);
    }
    return share(sum + best_scale(gain).worth);
  }

  // For each tune by itself, in its best key.
  std::vector<double> of_tunes() const {
    std::vector<double> bounds(tunes_.size());
    parallel_for(tunes_.size(), threads_, [&](std::size_t j) {
      std::vector<double> gain(slots_);
      double best = 0.0;
      for (const int key : task_.transpositions) {
        watch_.check();
        if (most_in_key(j, key) <= best) continue;
        std::fill(gain.begin(), gain.end(), 0.0);
        add_gain(j, key, gain);
        best = std::max(best, free_worth(j, key) + best_scale(gain).worth);
      }
      bounds[j] = std::min(1.0, best);
    });
    return bounds;
  }

  // A price stands for one step: from c - 1 to c teeth, or from one group to the next faster one. A
  // way to have teeth of a pitch costs all steps up to it, so that ways that are much alike cost
  // much the same.
  double any_keys(double reached, int rounds) const {
    constexpr int patience = 5;
    constexpr double shorter = 0.7;
    const std::size_t tunes = tunes_.size();
    if (tunes * slots_ > most_prices) return 1.0;
    std::vector<std::vector<double>> step_price(tunes, std::vector<double>(slots_, 0.0));
    std::vector<Pick> pick(tunes);
    std::vector<double> steepness(tunes);
    double least = 1.0;
    double length_scale = 1.0;
    int stale = 0;
    for (int round = 0; round < rounds; ++round) {
      std::vector<std::vector<double>> price(tunes);
      parallel_for(tunes, threads_, [&](std::size_t j) {
        watch_.check();
        price[j] = way_prices(step_price[j]);
        pick[j] = best_pick(j, price[j]);
      });
      std::vector<double> all(slots_, 0.0);
      double value = 0.0;
      for (std::size_t j = 0; j < tunes; ++j) {
        value += pick[j].worth;
        for (std::size_t s = 0; s < slots_; ++s) all[s] += price[j][s];
      }
      const Scale scale = best_scale(all);
      value = share(value + scale.worth);
      if (value < least - 1e-6) {
        least = value;
        stale = 0;
      } else if (++stale == patience) {
        length_scale *= shorter;
        stale = 0;
      }
      // A step's price goes down where the scale has it, up where the tune takes it.
      const std::vector<char> had = steps_of(scale.slots);
      parallel_for(tunes, threads_, [&](std::size_t j) {
        const std::vector<char> taken = steps_of(pick[j].slots);
        steepness[j] = 0.0;
        for (std::size_t s = 0; s < slots_; ++s)
          if (taken[s] != had[s] && (taken[s] != 0 || step_price[j][s] > 0.0)) steepness[j] += 1.0;
      });
      const double norm = std::accumulate(steepness.begin(), steepness.end(), 0.0);
      if (norm == 0.0) break;
      const double length = length_scale * (value - reached) * static_cast<double>(tunes) / norm;
      parallel_for(tunes, threads_, [&](std::size_t j) {
        const std::vector<char> taken = steps_of(pick[j].slots);
        for (std::size_t s = 0; s < slots_; ++s)
          step_price[j][s] = std::max(0.0, step_price[j][s] + length * (taken[s] - had[s]));
      });
    }
    return least;
  }

 private:
  // What a tune takes from the scale, and what that is worth to it.
  struct Pick {
    double worth = 0.0;
    std::vector<std::size_t> slots;
  };

  struct Scale {
    double worth = 0.0;
    std::vector<std::size_t> slots;
  };

  // Of all ways, from the prices of the steps.
  std::vector<double> way_prices(const std::vector<double>& step_price) const {
    std::vector<double> price = step_price;
    for (std::size_t first = 0; first < slots_; first += ways) {
      for (std::size_t g = most_groups; g-- > 0;) {
        for (std::size_t c = 1; c < depth; ++c)
          price[first + g * depth + c] += price[first + g * depth + c - 1];
        if (g + 1 == most_groups) continue;
        for (std::size_t c = 0; c < depth; ++c)
          price[first + g * depth + c] += price[first + (g + 1) * depth + c];
      }
    }
    return price;
  }

  // 1 for each step that the ways contain.
  std::vector<char> steps_of(const std::vector<std::size_t>& slots) const {
    std::vector<char> steps(slots_, 0);
    for (const std::size_t slot : slots) {
      const std::size_t first = slot - slot % ways;
      for (std::size_t g = slot % ways / depth; g < most_groups; ++g)
        for (std::size_t c = 0; c <= slot % depth; ++c) steps[first + g * depth + c] = 1;
    }
    return steps;
  }

  std::vector<PitchGain> gain_of(const TuneWorth& tune) const {
    std::vector<PitchGain> all;
    std::vector<double> beyond;
    for (int m = 0; m < midi_notes; ++m) {
      const PitchNotes& notes = tune.written(m);
      if (notes.onset_s.empty()) continue;
      PitchGain gain{.midi = m};
      beyond.clear();
      for (std::size_t i = 0; i < notes.weight.size(); ++i) {
        const double part = octave_share_of(notes.melody[i] != 0);
        beyond.push_back((1.0 - part) * notes.weight[i]);
        gain.octave += part * notes.weight[i];
      }
      for (std::size_t g = 0; g < most_groups; ++g) {
        // Moved notes may bring two plucks nearer by the move limit each.
        const double interval = groups_.interval_s[g] - 2.0 * (move_limit_s + same_time_s);
        const auto with = gains(notes, beyond, interval);
        const auto without = gains(notes, notes.weight, interval);
        std::copy(with.begin(), with.end(), &gain.with_octave[g * depth]);
        std::copy(without.begin(), without.end(), &gain.without_octave[g * depth]);
      }
      all.push_back(gain);
    }
    return all;
  }

  double share(double sum) const { return std::min(1.0, sum / static_cast<double>(tunes_.size())); }

  bool in_range(int midi) const { return midi >= task_.lowest_midi && midi <= task_.highest_midi; }

  bool has_octave(int midi) const {
    return std::any_of(octave_steps.begin(), octave_steps.end(),
                       [&](int step) { return in_range(midi + step); });
  }

  double free_worth(std::size_t j, int key) const {
    double sum = 0.0;
    for (const PitchGain& pitch : tunes_[j])
      if (has_octave(pitch.midi + key)) sum += pitch.octave;
    return sum;
  }

  const std::array<double, ways>& gain_at(const PitchGain& pitch, int midi) const {
    return has_octave(midi) ? pitch.with_octave : pitch.without_octave;
  }

  // What the key could earn if every pitch had teeth enough.
  double most_in_key(std::size_t j, int key) const {
    double sum = free_worth(j, key);
    for (const PitchGain& pitch : tunes_[j]) {
      const int midi = pitch.midi + key;
      if (in_range(midi)) sum += gain_at(pitch, midi)[depth - 1];
    }
    return sum;
  }

  std::size_t first_slot(int midi) const { return index(midi - task_.lowest_midi) * ways; }

  void add_gain(std::size_t j, int key, std::vector<double>& gain) const {
    for (const PitchGain& pitch : tunes_[j]) {
      const int midi = pitch.midi + key;
      if (!in_range(midi)) continue;
      for (std::size_t w = 0; w < ways; ++w) gain[first_slot(midi) + w] += gain_at(pitch, midi)[w];
    }
  }

  // The key, and for each pitch the way, that leave the tune most after the prices; of equal ways
  // the one with the slowest and fewest teeth.
  Pick best_pick(std::size_t j, const std::vector<double>& price) const {
    Pick best{.worth = -1.0};
    std::vector<std::size_t> slots;
    for (const int key : task_.transpositions) {
      if (most_in_key(j, key) <= best.worth) continue;
      double worth = free_worth(j, key);
      slots.clear();
      for (const PitchGain& pitch : tunes_[j]) {
        const int midi = pitch.midi + key;
        if (!in_range(midi)) continue;
        const std::array<double, ways>& gain = gain_at(pitch, midi);
        const double* asked = &price[first_slot(midi)];
        constexpr double like = 1e-12;  // differences below that are rounding
        double most = 0.0;
        double of_chosen = like;
        std::size_t chosen = ways;
        for (std::size_t g = most_groups; g-- > 0;) {
          for (std::size_t w = g * depth; w < (g + 1) * depth; ++w) {
            const double value = gain[w] - asked[w];
            most = std::max(most, value);
            if (value <= of_chosen + like) continue;
            of_chosen = value;
            chosen = w;
          }
        }
        worth += most;
        if (chosen == ways) continue;
        slots.push_back(first_slot(midi) + chosen);
      }
      if (worth <= best.worth) continue;
      best.worth = worth;
      best.slots = slots;
    }
    return best;
  }

  // The scale whose slots are worth most, by dynamic programming over pitches and places; a place
  // may stay empty.
  Scale best_scale(const std::vector<double>& worth) const {
    const std::size_t places = task_.interval_s.size();
    const std::size_t pitches = slots_ / ways;
    std::vector<double> before(places + 1, 0.0);
    std::vector<double> now(places + 1);
    // By pitch and place: how many teeth end there; 0 for none of this pitch, and `skip` for an
    // empty place.
    constexpr unsigned char skip = 255;
    std::vector<unsigned char> teeth(pitches * (places + 1), 0);
    for (std::size_t p = 0; p < pitches; ++p) {
      now[0] = before[0];
      for (std::size_t n = 1; n <= places; ++n) {
        unsigned char& chosen = teeth[p * (places + 1) + n];
        now[n] = before[n];
        if (now[n - 1] > now[n]) {
          now[n] = now[n - 1];
          chosen = skip;
        }
        for (std::size_t c = 1; c <= std::min(depth, n); ++c) {
          const double value = before[n - c] + worth[p * ways + way(fastest(n - c, n), c)];
          if (value <= now[n]) continue;
          now[n] = value;
          chosen = static_cast<unsigned char>(c);
        }
      }
      before.swap(now);
    }
    Scale scale{.worth = before[places]};
    for (std::size_t p = pitches, n = places; p > 0 && n > 0;) {
      const unsigned char c = teeth[(p - 1) * (places + 1) + n];
      if (c == skip) {
        --n;
        continue;
      }
      if (c > 0) scale.slots.push_back((p - 1) * ways + way(fastest(n - c, n), c));
      n -= c;
      --p;
    }
    return scale;
  }

  // The group of the fastest of the places [first, end); groups go from fast to slow, and intervals
  // rise or fall along the places, so that the fastest is the first or the last.
  std::size_t fastest(std::size_t first, std::size_t end) const {
    return std::min(groups_.of_place[first], groups_.of_place[end - 1]);
  }

  const ScaleTask& task_;
  const unsigned threads_;
  const Watch& watch_;
  Groups groups_;
  std::size_t slots_;
  std::vector<std::vector<PitchGain>> tunes_;
};

}  // namespace

ScaleBounds scale_bounds(const ScaleTask& task, const std::vector<int>& keys, double reached,
                         int rounds, unsigned threads, const Watch& watch) {
  assert(!task.tunes.empty() && keys.size() == task.tunes.size() && !task.interval_s.empty());
  assert(!task.transpositions.empty());
  assert(std::is_sorted(task.interval_s.begin(), task.interval_s.end()) ||
         std::is_sorted(task.interval_s.rbegin(), task.interval_s.rend()));
  const Bound bound(task, threads, watch);
  return {.any_keys = bound.any_keys(reached, rounds),
          .in_keys = bound.in_keys(keys),
          .of_tune = bound.of_tunes()};
}

}  // namespace combwright::arrange
