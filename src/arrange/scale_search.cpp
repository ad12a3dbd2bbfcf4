// SPDX-License-Identifier: Apache-2.0
#include "arrange/scale_search.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <numeric>
#include <random>
#include <utility>

#include "arrange/rules.h"
#include "base/parallel.h"

namespace combwright::arrange {
namespace {

using Counts = std::array<int, midi_notes>;

std::size_t note_index(int midi) {
  return static_cast<std::size_t>(midi);
}

std::vector<int> notes_of(const Counts& counts) {
  std::vector<int> midi;
  for (int m = 0; m < midi_notes; ++m)
    midi.insert(midi.end(), note_index(counts[note_index(m)]), m);
  return midi;
}

Counts counts_of(const std::vector<int>& midi) {
  Counts counts{};
  for (const int m : midi) ++counts[note_index(m)];
  return counts;
}

double key_cost(int transpose_semitones) {
  return worth_of_semitone * std::abs(transpose_semitones);
}

// What a transposition could earn if every pitch that has a tooth had enough of them, and every
// other one an octave if there is a tooth there.
double most_worth(const TuneWorth& tune, int transpose_semitones, const TeethByPitch& teeth) {
  double sum = 0.0;
  for (int m = 0; m < midi_notes; ++m) {
    const PitchNotes& notes = tune.written(m);
    if (notes.onset_s.empty()) continue;
    const auto has_tooth = [&](int midi) {
      return midi >= 0 && midi < midi_notes && teeth.count[note_index(midi)] > 0;
    };
    const int sounding = m + transpose_semitones;
    if (has_tooth(sounding)) {
      sum += notes.total;
    } else if (std::any_of(octave_steps.begin(), octave_steps.end(),
                           [&](int step) { return has_tooth(sounding + step); })) {
      sum += octave_share * notes.total;
    }
  }
  return sum;
}

// A tune's transpositions, best first, as many as asked for.
struct Ranked {
  double merit;
  int transpose_semitones;
};

std::vector<Ranked> best_keys(const TuneWorth& tune, const std::vector<int>& transpositions,
                              const TeethByPitch& teeth, std::size_t most, std::uint64_t& work) {
  assert(!transpositions.empty());
  std::vector<Ranked> hopes;
  hopes.reserve(transpositions.size());
  for (const int t : transpositions) hopes.push_back({most_worth(tune, t, teeth) - key_cost(t), t});
  const auto before = [](const Ranked& a, const Ranked& b) {
    if (a.merit != b.merit) return a.merit > b.merit;
    const int near_a = std::abs(a.transpose_semitones);
    const int near_b = std::abs(b.transpose_semitones);
    return near_a != near_b ? near_a < near_b : a.transpose_semitones < b.transpose_semitones;
  };
  std::sort(hopes.begin(), hopes.end(), before);
  std::vector<Ranked> best;
  for (const Ranked& hope : hopes) {
    if (best.size() == most && hope.merit < best.back().merit) break;
    work += tune.notes();
    best.push_back(
        {tune.of_all(hope.transpose_semitones, teeth) - key_cost(hope.transpose_semitones),
         hope.transpose_semitones});
    std::sort(best.begin(), best.end(), before);
    if (best.size() > most) best.pop_back();
  }
  while (best.size() < most) best.push_back(best.back());
  return best;
}

// Transpositions of each tune that an exchange of teeth is judged by.
constexpr std::size_t keys_at_once = 8;

// One local search.
class Chain {
 public:
  Chain(const ScaleTask& task, std::uint64_t most_work, const Watch& watch)
      : task_(task),
        watch_(watch),
        most_work_(most_work),
        lanes_(task.tunes.size() * keys_at_once) {}

  void start(const std::vector<int>& midi) {
    counts_ = counts_of(midi);
    rank_keys();
    weigh_all();
  }

  // Without teeth yet, each tune in one key.
  void start_empty(const std::vector<int>& keys) {
    counts_ = {};
    teeth_ = teeth_by_pitch({}, task_.interval_s);
    // Nothing is known yet of where each pitch will lie: evenly spread over the places.
    const int span = std::max(1, task_.highest_midi - task_.lowest_midi);
    for (int m = task_.lowest_midi; m <= task_.highest_midi; ++m) {
      const auto place = static_cast<std::size_t>(m - task_.lowest_midi) *
                         (task_.interval_s.size() - 1) / note_index(span);
      teeth_.interval_s[note_index(m)] = task_.interval_s[place];
    }
    keys_.assign(lanes_, 0);
    for (std::size_t j = 0; j < task_.tunes.size(); ++j)
      for (std::size_t l = 0; l < keys_at_once; ++l) keys_[lane(j, l)] = keys[j];
    weigh_all();
    while (std::accumulate(counts_.begin(), counts_.end(), 0) <
           static_cast<int>(task_.interval_s.size())) {
      add(best_addition(), 1);
    }
    rank_keys();
    weigh_all();
  }

  // Adds the tooth that earns most. The places beyond the scale stand in the task already.
  void grow() { add(best_addition(), 1); }

  // Exchanges teeth until nothing better is found. The teeth's weights must be known.
  void descend() {
    Counts best_counts = counts_;
    double best = ranked_;
    while (work_ < most_work_) {
      bool any = false;
      while (work_ < most_work_ && exchange()) any = true;
      if (!any) break;
      rank_keys();
      if (ranked_ <= best + 1e-9) break;
      best = ranked_;
      best_counts = counts_;
      weigh_all();
    }
    counts_ = best_counts;
    rank_keys();
  }

  ScaleChoice choice() const {
    ScaleChoice c{.midi = notes_of(counts_), .worth = worth_};
    for (std::size_t j = 0; j < task_.tunes.size(); ++j) {
      std::size_t best = lane(j, 0);
      for (std::size_t l = 1; l < keys_at_once; ++l)
        if (merit_[lane(j, l)] > merit_[best]) best = lane(j, l);
      c.transpositions.push_back(keys_[best]);
    }
    return c;
  }

 private:
  // Tunes lie side by side for each of their keys, so that sums over tunes run straight.
  std::size_t lane(std::size_t tune, std::size_t key) const {
    return key * task_.tunes.size() + tune;
  }

  void rank_keys() {
    teeth_ = teeth_by_pitch(notes_of(counts_), task_.interval_s);
    keys_.resize(lanes_);
    merit_.resize(lanes_);
    double sum = 0.0;
    for (std::size_t j = 0; j < task_.tunes.size(); ++j) {
      watch_.check();
      const auto best =
          best_keys(task_.tunes[j], task_.transpositions, teeth_, keys_at_once, work_);
      for (std::size_t l = 0; l < keys_at_once; ++l) {
        keys_[lane(j, l)] = best[l].transpose_semitones;
        merit_[lane(j, l)] = best[l].merit;
      }
      sum += best.front().merit;
    }
    worth_ = ranked_ = sum / static_cast<double>(task_.tunes.size());
  }

  double of_class(int pitch_class, std::size_t tune, std::size_t key) {
    constexpr std::uint64_t overhead = 8;  // costs as much as so many notes
    work_ += task_.tunes[tune].notes() / 12 + overhead;
    return task_.tunes[tune].of_class(pitch_class, keys_[lane(tune, key)], teeth_, scratch_);
  }

  // value(tune, key) in every lane, where keys differ.
  template <typename Value>
  void in_every_lane(std::vector<double>& values, Value value) {
    values.resize(lanes_);
    for (std::size_t j = 0; j < task_.tunes.size(); ++j) {
      for (std::size_t l = 0; l < keys_at_once; ++l) {
        const bool twin = l > 0 && keys_[lane(j, l)] == keys_[lane(j, l - 1)];
        values[lane(j, l)] = twin ? values[lane(j, l - 1)] : value(j, l);
      }
    }
  }

  // Whether one tooth more or less of a pitch can't change what a class earns that plays all its
  // notes at their own pitch.
  bool is_idle(int midi, int by, std::size_t tune, std::size_t key) const {
    if (by > 0) return true;
    const int as_written = midi - keys_[lane(tune, key)];
    if (as_written < 0 || as_written >= midi_notes) return true;
    const PitchNotes& notes = task_.tunes[tune].written(as_written);
    return notes.onset_s.empty() || (counts_[note_index(midi)] > 1 &&
                                     notes.least_gap_s >= teeth_.interval_s[note_index(midi)]);
  }

  // What the class earns with the teeth as they stand, and what one tooth more or less of each of
  // its pitches would change.
  void weigh_changes(int pitch_class) {
    std::vector<double>& now = class_value_[note_index(pitch_class)];
    in_every_lane(now, [&](std::size_t j, std::size_t l) { return of_class(pitch_class, j, l); });
    for (int m = pitch_class; m < midi_notes; m += 12) {
      if (m < task_.lowest_midi || m > task_.highest_midi) continue;
      for (const int by : {1, -1}) {
        watch_.check();
        std::vector<double>& change = by > 0 ? more_[note_index(m)] : less_[note_index(m)];
        if (by < 0 && counts_[note_index(m)] == 0) {
          change.clear();
          continue;
        }
        teeth_.count[note_index(m)] += by;
        in_every_lane(change, [&](std::size_t j, std::size_t l) {
          const double value = now[lane(j, l)];
          constexpr double rounding = 1e-12;
          const bool full =
              value >= task_.tunes[j].most_of_class(pitch_class, keys_[lane(j, l)]) - rounding;
          return full && is_idle(m, by, j, l) ? 0.0 : of_class(pitch_class, j, l) - value;
        });
        teeth_.count[note_index(m)] -= by;
      }
    }
  }

  void weigh_all() {
    merit_.assign(lanes_, 0.0);
    for (int c = 0; c < 12; ++c) weigh_changes(c);
    for (std::size_t i = 0; i < lanes_; ++i) merit_[i] = -key_cost(keys_[i]);
    for (const std::vector<double>& value : class_value_)
      for (std::size_t i = 0; i < lanes_; ++i) merit_[i] += value[i];
    worth_ = mean_of_best(nullptr, nullptr);
  }

  // The mean over tunes of the best key's merit after the changes.
  double mean_of_best(const std::vector<double>* a, const std::vector<double>* b) {
    const std::size_t tunes = task_.tunes.size();
    best_.assign(tunes, -1.0);
    for (std::size_t l = 0; l < keys_at_once; ++l) {
      for (std::size_t j = 0; j < tunes; ++j) {
        const std::size_t i = l * tunes + j;
        const double value = merit_[i] + (a ? (*a)[i] : 0.0) + (b ? (*b)[i] : 0.0);
        best_[j] = std::max(best_[j], value);
      }
    }
    double sum = 0.0;
    for (const double value : best_) sum += value;
    return sum / static_cast<double>(tunes);
  }

  void add(int midi, int by) {
    counts_[note_index(midi)] += by;
    teeth_.count[note_index(midi)] += by;
    const int pitch_class = midi % 12;
    const std::vector<double> before = class_value_[note_index(pitch_class)];
    weigh_changes(pitch_class);
    for (std::size_t i = 0; i < lanes_; ++i)
      merit_[i] += class_value_[note_index(pitch_class)][i] - before[i];
    worth_ = mean_of_best(nullptr, nullptr);
  }

  // The tooth more that earns most.
  int best_addition() {
    int best = task_.lowest_midi;
    double most = -1.0;
    for (int m = task_.lowest_midi; m <= task_.highest_midi; ++m) {
      const double worth = mean_of_best(&more_[note_index(m)], nullptr);
      if (worth > most) {
        most = worth;
        best = m;
      }
    }
    return most > worth_ + 1e-12 ? best : most_played();
  }

  // The pitch whose teeth have most to play, by weight: where no tooth more earns anything, one
  // there lets notes ring on and shares the wear.
  int most_played() const {
    int best = task_.lowest_midi;
    double most = -1.0;
    for (int m = task_.lowest_midi; m <= task_.highest_midi; ++m) {
      double load = 0.0;
      for (std::size_t j = 0; j < task_.tunes.size(); ++j) {
        const int as_written = m - keys_[lane(j, 0)];
        if (as_written >= 0 && as_written < midi_notes)
          load += task_.tunes[j].written(as_written).total;
      }
      load /= counts_[note_index(m)] + 1;
      if (load <= most) continue;
      most = load;
      best = m;
    }
    return best;
  }

  struct Option {
    double worth;
    int midi;
  };

  // The pitches where a change by itself leaves most, best first.
  std::vector<Option> best_options(const std::array<std::vector<double>, midi_notes>& changes) {
    constexpr std::size_t most = 10;
    std::vector<Option> options;
    for (int m = task_.lowest_midi; m <= task_.highest_midi; ++m)
      if (!changes[note_index(m)].empty())
        options.push_back({mean_of_best(&changes[note_index(m)], nullptr), m});
    std::stable_sort(options.begin(), options.end(),
                     [](const Option& a, const Option& b) { return a.worth > b.worth; });
    if (options.size() > most) options.resize(most);
    return options;
  }

  // Exchanges the two teeth that gain most; false if none gain.
  bool exchange() {
    const std::vector<Option> in = best_options(more_);
    const std::vector<Option> out = best_options(less_);
    double most = worth_ + 1e-7;
    std::pair<int, int> best{-1, -1};
    for (const Option& a : in) {
      watch_.check();
      for (const Option& r : out) {
        if (a.midi == r.midi) continue;
        double worth = mean_of_best(&more_[note_index(a.midi)], &less_[note_index(r.midi)]);
        if (a.midi % 12 == r.midi % 12) {
          // Teeth of one class stand in for each other: the sum of the changes may be too good.
          ++teeth_.count[note_index(a.midi)];
          --teeth_.count[note_index(r.midi)];
          const int pitch_class = a.midi % 12;
          const std::vector<double>& now = class_value_[note_index(pitch_class)];
          in_every_lane(both_, [&](std::size_t j, std::size_t l) {
            return of_class(pitch_class, j, l) - now[lane(j, l)];
          });
          --teeth_.count[note_index(a.midi)];
          ++teeth_.count[note_index(r.midi)];
          worth = mean_of_best(&both_, nullptr);
        }
        if (worth > most) {
          most = worth;
          best = {a.midi, r.midi};
        }
      }
    }
    if (best.first < 0) return false;
    add(best.first, 1);
    add(best.second, -1);
    return true;
  }

  const ScaleTask& task_;
  const Watch& watch_;
  std::uint64_t most_work_;
  std::uint64_t work_ = 0;
  std::size_t lanes_;
  Counts counts_{};
  TeethByPitch teeth_;
  std::vector<int> keys_;      // by lane
  std::vector<double> merit_;  // by lane
  double worth_ = 0.0;   // of the teeth in the keys held, at the intervals of the last ranking
  double ranked_ = 0.0;  // at the last ranking: true to the scale's own intervals
  std::array<std::vector<double>, 12> class_value_;          // by lane
  std::array<std::vector<double>, midi_notes> more_, less_;  // by lane
  std::vector<double> best_, both_;                          // scratch
  WorthScratch scratch_;
};

// Transpositions that bring the tunes' notes onto each other: in turns each tune takes the one in
// which it shares most with all others. The first are drawn near the middle of the range.
std::vector<int> aligned_keys(const ScaleTask& task, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  const std::size_t tunes = task.tunes.size();
  const auto allowed = [&](int t) {
    return std::find(task.transpositions.begin(), task.transpositions.end(), t) !=
           task.transpositions.end();
  };
  std::array<double, midi_notes> sum{};
  const auto put = [&](std::size_t j, int t, double sign) {
    for (int m = 0; m < midi_notes; ++m) {
      const double weight = task.tunes[j].written(m).total;
      const int midi = m + t;
      if (weight > 0.0 && midi >= task.lowest_midi && midi <= task.highest_midi)
        sum[note_index(midi)] += sign * weight;
    }
  };
  const auto shared = [&](std::size_t j, int t) {
    double value = -key_cost(t);
    for (int m = 0; m < midi_notes; ++m) {
      const int midi = m + t;
      if (midi >= task.lowest_midi && midi <= task.highest_midi)
        value += task.tunes[j].written(m).total * std::sqrt(sum[note_index(midi)]);
    }
    return value;
  };
  std::vector<int> keys(tunes, task.transpositions.front());
  for (std::size_t j = 0; j < tunes; ++j) {
    const int t = static_cast<int>(random() % 13) - 6;
    if (allowed(t)) keys[j] = t;
    put(j, keys[j], 1.0);
  }
  for (int round = 0; round < 6; ++round) {
    for (std::size_t j = 0; j < tunes; ++j) {
      put(j, keys[j], -1.0);
      for (double& s : sum) s = std::max(0.0, s);
      double most = shared(j, keys[j]);
      for (const int t : task.transpositions) {
        const double value = shared(j, t);
        if (value > most) {
          most = value;
          keys[j] = t;
        }
      }
      put(j, keys[j], 1.0);
    }
  }
  return keys;
}

}  // namespace

TeethByPitch teeth_by_pitch(const std::vector<int>& midi, const std::vector<double>& interval_s) {
  assert(midi.size() <= interval_s.size() && !interval_s.empty());
  TeethByPitch teeth;
  teeth.count = counts_of(midi);
  std::size_t place = 0;
  for (int m = 0; m < midi_notes; ++m) {
    double& interval = teeth.interval_s[note_index(m)];
    interval = interval_s[std::min(place, interval_s.size() - 1)];
    for (int k = 0; k < teeth.count[note_index(m)]; ++k, ++place)
      interval = std::max(interval, interval_s[place]);
  }
  return teeth;
}

ScaleChoice worth_of_scale(const ScaleTask& task, const std::vector<int>& midi, unsigned threads,
                           const Watch& watch) {
  const TeethByPitch teeth = teeth_by_pitch(midi, task.interval_s);
  ScaleChoice choice{.midi = midi};
  choice.transpositions.resize(task.tunes.size());
  std::vector<double> merit(task.tunes.size());
  parallel_for(task.tunes.size(), threads, [&](std::size_t j) {
    watch.check();
    std::uint64_t work = 0;
    const Ranked best = best_keys(task.tunes[j], task.transpositions, teeth, 1, work).front();
    choice.transpositions[j] = best.transpose_semitones;
    merit[j] = best.merit;
  });
  for (const double m : merit) choice.worth += m / static_cast<double>(merit.size());
  return choice;
}

ScaleChoice choose_scale(const ScaleTask& task, const std::vector<int>& present, unsigned threads,
                         std::uint64_t most_notes_looked_at, const Watch& watch) {
  assert(!task.tunes.empty() && !task.transpositions.empty());
  assert(present.size() == task.interval_s.size());
  // Few for many notes, as then they come to much the same.
  std::size_t notes = 1;
  for (const TuneWorth& tune : task.tunes) notes += tune.notes();
  const std::size_t chains = std::clamp<std::size_t>(200'000 / notes, 4, 24);
  const std::uint64_t each = most_notes_looked_at / chains;
  std::vector<ScaleChoice> found(chains);
  parallel_for(chains, threads, [&](std::size_t i) {
    Chain chain(task, each, watch);
    if (i == 0)
      chain.start(present);
    else if (i == 1)
      chain.start_empty(worth_of_scale(task, present, 1, watch).transpositions);
    else
      chain.start_empty(aligned_keys(task, i));
    chain.descend();
    found[i] = chain.choice();
  });
  return *std::max_element(
      found.begin(), found.end(),
      [](const ScaleChoice& a, const ScaleChoice& b) { return a.worth < b.worth; });
}

std::vector<ScaleChoice> grow_scale(const ScaleTask& task, const std::vector<int>& midi,
                                    const Watch& watch) {
  std::vector<ScaleChoice> grown;
  Chain chain(task, std::numeric_limits<std::uint64_t>::max(), watch);
  chain.start(midi);
  for (std::size_t size = midi.size(); size < task.interval_s.size(); ++size) {
    chain.grow();
    grown.push_back(chain.choice());
  }
  return grown;
}

}  // namespace combwright::arrange
