// SPDX-License-Identifier: Apache-2.0
#include "arrange/search.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <cstdlib>
#include <limits>
#include <optional>
#include <queue>
#include <utility>

#include "arrange/octaves.h"
#include "arrange/rules.h"
#include "arrange/share.h"
#include "arrange/solve.h"

namespace combwright::arrange {
namespace {

double weight_of(const std::vector<ScoreNote>& notes) {
  double sum = 0.0;
  for (const ScoreNote& note : notes) sum += note.weight;
  return sum;
}

// What a note that is locked to be played earns beyond its weight: more than all notes together.
double premium_of(const std::vector<ScoreNote>& notes) {
  return 2.0 * weight_of(notes);
}

bool is_held(const ScoreNote& note) {
  return note.lock && *note.lock != Fate::dropped;
}

Demand demand_of(const ScoreNote& note, double premium) {
  Demand demand{.weight = note.weight, .melody = note.role == Role::melody};
  if (!note.lock) return demand;
  switch (*note.lock) {
    case Fate::kept:
      demand.hold = Hold::kept;
      demand.weight += premium;
      break;
    case Fate::octave:
      demand.hold = Hold::octave;
      demand.weight += premium / octave_share_of(demand.melody);
      break;
    default:
      demand.weight = 0.0;
  }
  return demand;
}

// Takes the premium of the locks off again; false if one of them is not kept. What is left of the
// bound holds for all that keep them.
bool settle_locks(const std::vector<ScoreNote>& notes, Solution& solution) {
  const double premium = premium_of(notes);
  bool kept = true;
  for (std::size_t i = 0; i < notes.size(); ++i) {
    if (!is_held(notes[i])) continue;
    solution.bound -= premium;
    if (solution.choices[i].fate == *notes[i].lock)
      solution.earned -= premium;
    else
      kept = false;
  }
  solution.bound = std::max(solution.bound, 0.0);
  return kept;
}

// Together in all trials; more would take too long.
constexpr std::size_t most_notes_solved = 400'000;

// What staying near the written key and tempo is worth.
double distance_cost(int transpose_semitones, double tempo_factor) {
  return worth_of_semitone * std::abs(transpose_semitones) +
         worth_of_tempo_percent * 100.0 * std::abs(std::log(tempo_factor));
}

// Share of the weight that each transposition could earn if every note had its teeth to itself.
class PitchBounds {
 public:
  PitchBounds(const Problem& limits, const std::vector<ScoreNote>& notes) {
    for (const Tooth& tooth : limits.teeth) has_tooth_[index(tooth.midi)] = true;
    for (const ScoreNote& note : notes)
      (note.role == Role::melody ? melody_ : others_)[index(note.midi)] += note.weight;
    total_ = weight_of(notes);
  }

  double share(int transpose_semitones) const {
    double sum = 0.0;
    for (int midi = 0; midi < 128; ++midi) {
      const double melody = melody_[index(midi)];
      const double others = others_[index(midi)];
      if (melody + others == 0.0) continue;
      double best = 0.0;
      double best_melody = 0.0;
      for (const int octave : {0, 12, -12, 24, -24}) {
        const int sounding = midi + transpose_semitones + octave;
        if (sounding < 0 || sounding > 127 || !has_tooth_[index(sounding)]) continue;
        best = std::max(best, earned_at_onset({.midi = 0, .weight = 1.0}, std::abs(octave)));
        best_melody =
            std::max(best_melody,
                     earned_at_onset({.midi = 0, .weight = 1.0, .melody = true}, std::abs(octave)));
      }
      sum += best * others + best_melody * melody;
    }
    return sum / total_;
  }

 private:
  static std::size_t index(int midi) { return static_cast<std::size_t>(midi); }

  std::array<bool, 128> has_tooth_{};
  std::array<double, 128> melody_{}, others_{};
  double total_ = 0.0;
};

struct Candidate {
  double merit;       // what it could reach at best, or has reached
  std::size_t trial;  // index into the trials
  bool solved;
};

struct LessMerit {
  bool operator()(const Candidate& a, const Candidate& b) const {
    if (a.merit != b.merit) return a.merit < b.merit;
    if (a.solved != b.solved) return !a.solved;
    return a.trial > b.trial;
  }
};

// Best-first search over the trials, which lie by transposition, then tempo, slowest first.
class TrialSearch {
 public:
  TrialSearch(const Problem& limits, const std::vector<ScoreNote>& notes, const SearchSpace& space,
              const Watch& watch)
      : limits_(limits),
        notes_(notes),
        watch_(watch),
        tempos_(space.tempo_factors.size()),
        total_(weight_of(notes)) {
    const PitchBounds pitch_bounds(limits, notes);
    for (const int transpose : space.transpositions) {
      const double bound = pitch_bounds.share(transpose);
      reach_.push_back(bound);
      note_prices_.emplace_back(notes.size(), std::numeric_limits<double>::infinity());
      for (const double tempo : space.tempo_factors) {
        trials_.push_back(
            {.transpose_semitones = transpose, .tempo_factor = tempo, .bound = bound});
        push(trials_.size() - 1);
      }
    }
  }

  // The index of the best trial, among those solved if there is too much to do for all.
  std::size_t run() {
    while (true) {
      const Candidate top = queue_.top();
      queue_.pop();
      if (notes_solved_ > most_notes_solved) {
        stopped_ = true;
        return best_solved();
      }
      if (top.merit > merit(top.trial)) {
        push(top.trial);  // its bound has come down since
      } else if (trials_[top.trial].fidelity) {
        return top.trial;
      } else {
        const double before = trials_[top.trial].bound;
        look_at(top.trial);
        if (trials_[top.trial].bound < before - 1e-9) rule_out_by_slowest(top.trial);
        push(top.trial);
      }
    }
  }

  // The trial solved once more as well as can be, and all that was looked at.
  SearchResult finish(std::size_t best) {
    Trial& trial = trials_[best];
    SearchResult result{
        .transpose_semitones = trial.transpose_semitones,
        .tempo_factor = trial.tempo_factor,
        .problem = with_demands(limits_, notes_, trial.transpose_semitones, trial.tempo_factor),
        .stopped = stopped_};
    std::vector<double>& prices = note_prices_[best / tempos_];
    Solution quick = solve(result.problem, quick_effort, prices, watch_);
    result.solution = solve(result.problem, effort_for(notes_.size()), prices, watch_);
    const bool quick_kept = settle_locks(notes_, quick);
    result.locks_kept = settle_locks(notes_, result.solution);
    if (std::pair(quick_kept, quick.earned) >
        std::pair(result.locks_kept, result.solution.earned)) {
      result.solution.earned = quick.earned;
      result.solution.choices = quick.choices;
      result.locks_kept = quick_kept;
    }
    result.solution.bound = std::min(result.solution.bound, trial.bound * total_);
    trial.bound = result.solution.bound / total_;
    trial.fidelity = std::min(trial.bound, result.solution.earned / total_);
    result.trials = std::move(trials_);
    return result;
  }

 private:
  double merit(std::size_t t) const {
    const Trial& trial = trials_[t];
    return trial.fidelity.value_or(std::min(trial.bound, reach_[t / tempos_])) -
           distance_cost(trial.transpose_semitones, trial.tempo_factor);
  }

  std::size_t best_solved() const {
    std::optional<std::size_t> best;
    for (std::size_t t = 0; t < trials_.size(); ++t)
      if (trials_[t].fidelity && (!best || merit(t) > merit(*best))) best = t;
    return best.value();
  }

  void push(std::size_t t) { queue_.push({merit(t), t, trials_[t].fidelity.has_value()}); }

  void look_at(std::size_t t) {
    Trial& trial = trials_[t];
    notes_solved_ += notes_.size();
    Solution solution =
        solve(with_demands(limits_, notes_, trial.transpose_semitones, trial.tempo_factor),
              quick_effort, note_prices_[t / tempos_], watch_);
    const bool kept = settle_locks(notes_, solution);
    trial.bound = std::min(trial.bound, solution.bound / total_);
    trial.fidelity = kept ? std::min(trial.bound, solution.earned / total_) : 0.0;
  }

  // A slower tempo leaves every tooth more time: where its own bound is low, faster ones are not
  // looked at. It is no bound of theirs: moves at the end of the turn may make an exception.
  void rule_out_by_slowest(std::size_t t) {
    const std::size_t slowest = t - t % tempos_;
    if (!trials_[slowest].fidelity) {
      look_at(slowest);
      push(slowest);
    }
    reach_[t / tempos_] = trials_[slowest].bound;
  }

  const Problem& limits_;
  const std::vector<ScoreNote>& notes_;
  const Watch& watch_;
  const std::size_t tempos_;
  const double total_;
  std::size_t notes_solved_ = 0;
  bool stopped_ = false;
  std::vector<Trial> trials_;
  std::vector<std::vector<double>> note_prices_;  // by transposition: of the trial last solved
  std::vector<double> reach_;  // by transposition: the bound of its slowest tempo, once known
  std::priority_queue<Candidate, std::vector<Candidate>, LessMerit> queue_;
};

}  // namespace

Problem with_demands(Problem limits, const std::vector<ScoreNote>& notes, int transpose_semitones,
                     double tempo_factor) {
  assert(!notes.empty() && tempo_factor > 0.0);
  const double start = notes.front().onset_s;
  const double premium = premium_of(notes);
  limits.demands.reserve(notes.size());
  for (const ScoreNote& note : notes) {
    Demand& demand = limits.demands.emplace_back(demand_of(note, premium));
    demand.onset_s = limits.earliest_s + (note.onset_s - start) / tempo_factor;
    demand.midi = note.midi + transpose_semitones;
  }
  return limits;
}

SearchResult search(const Problem& limits, const std::vector<ScoreNote>& notes,
                    const SearchSpace& space, const Watch& watch) {
  assert(!space.transpositions.empty() && !space.tempo_factors.empty());
  TrialSearch trials(limits, notes, space, watch);
  const std::size_t best = trials.run();
  SearchResult result = trials.finish(best);
  prefer_near_octaves(result.problem, result.solution.choices);
  share_duplicates(result.problem, result.solution.choices);
  return result;
}

}  // namespace combwright::arrange
