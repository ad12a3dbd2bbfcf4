// SPDX-License-Identifier: Apache-2.0
#include "arrange/scale_plan.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstdlib>

#include <fmt/format.h>

#include "arrange/problem.h"
#include "arrange/scale_bound.h"
#include "arrange/solve.h"
#include "base/error.h"
#include "base/parallel.h"
#include "base/quantity.h"
#include "box/measures.h"
#include "music/pitch.h"

namespace combwright::arrange {
namespace {

constexpr int most_teeth = 500;
constexpr int teeth_shown_next = 5;
constexpr int bound_rounds = 100;

// The box with so many tracks, on which its tunes are cut when it has so many teeth: those beyond
// its own lie outside. Its scale does not fit them until one is chosen.
box::Box with_tracks(const box::Box& box, int count) {
  assert(count > 0);
  box::Box other = box;
  other.tracks.count = count;
  other.scale.midi.resize(static_cast<std::size_t>(count), box.scale.midi.back());
  return other;
}

box::Box with_scale(const box::Box& box, const std::vector<int>& midi) {
  box::Box other = with_tracks(box, static_cast<int>(midi.size()));
  other.scale.midi = midi;
  return other;
}

// Least time between two plucks at each place of the scale, low to high.
std::vector<double> intervals_by_place(const box::Box& box) {
  const std::vector<Tooth> by_track = problem_of(box, box.motor.turn_time_s).teeth;
  std::vector<double> interval;
  for (int place = 0; place < box.tracks.count; ++place) {
    const int track = box::track_of_place(box, place);
    interval.push_back(by_track[static_cast<std::size_t>(track - 1)].interval_s);
  }
  return interval;
}

double nearest_tempo(const SearchSpace& space) {
  return *std::min_element(
      space.tempo_factors.begin(), space.tempo_factors.end(),
      [](double a, double b) { return std::abs(a - 1.0) < std::abs(b - 1.0); });
}

std::vector<int> reachable_keys() {
  std::vector<int> keys;
  for (int t = -transpose_reach_semitones; t <= transpose_reach_semitones; ++t) keys.push_back(t);
  return keys;
}

double mean(const std::vector<double>& values) {
  double sum = 0.0;
  for (const double value : values) sum += value;
  return sum / static_cast<double>(values.size());
}

// What the arranger's solver keeps of each tune on the box, in the keys given.
std::vector<double> kept(const box::Box& box, const std::vector<RepertoireTune>& tunes,
                         const std::vector<int>& keys, unsigned threads, const Watch& watch) {
  const Problem limits = problem_of(box, box.motor.turn_time_s);
  std::vector<double> share(tunes.size());
  parallel_for(tunes.size(), threads, [&](std::size_t j) {
    watch.check();
    const TurnPart& part = tunes[j].part;
    double total = 0.0;
    for (const ScoreNote& note : part.notes) total += note.weight;
    const Problem problem = with_demands(limits, part.notes, keys[j], nearest_tempo(part.space));
    share[j] = std::min(1.0, solve(problem, quick_effort).earned / total);
  });
  return share;
}

struct Range {
  int teeth, lowest, highest;
};

void check_is_note(const char* option, std::optional<int> midi) {
  if (!midi || (*midi >= 0 && *midi < midi_notes)) return;
  throw Error({}, fmt::format("{}: there is no note {}; notes are numbered from 0, {}, to {}, {}",
                              option, *midi, music::note_name(0), midi_notes - 1,
                              music::note_name(midi_notes - 1)));
}

// The lowest note lies above the highest; one of them may come from the box.
[[noreturn]] void refuse_order(const Range& range, const ScaleOptions& options) {
  const std::string lowest = music::note_name(range.lowest);
  const std::string highest = music::note_name(range.highest);
  if (!options.highest_midi) {
    throw Error({}, fmt::format("--lowest {} lies above {}, the highest note of the box's scale; "
                                "give --highest too",
                                lowest, highest));
  }
  if (!options.lowest_midi) {
    throw Error({}, fmt::format("--highest {} lies below {}, the lowest note of the box's scale; "
                                "give --lowest too",
                                highest, lowest));
  }
  throw Error({}, fmt::format("the lowest note, {}, lies above the highest, {}; give them the "
                              "other way round",
                              lowest, highest));
}

Range checked(const box::Box& box, const ScaleOptions& options) {
  const Range range{options.teeth.value_or(box.tracks.count),
                    options.lowest_midi.value_or(box.scale.midi.front()),
                    options.highest_midi.value_or(box.scale.midi.back())};
  if (range.teeth < 1 || range.teeth > most_teeth) {
    throw Error({},
                fmt::format("{} teeth can't be planned; ask for 1 to {}", range.teeth, most_teeth));
  }
  check_is_note("--lowest", options.lowest_midi);
  check_is_note("--highest", options.highest_midi);
  if (range.lowest > range.highest) refuse_order(range, options);
  return range;
}

// The box's own scale stretched over so many places, within the range.
std::vector<int> stretched(const std::vector<int>& midi, const Range& range) {
  std::vector<int> other;
  const auto teeth = static_cast<std::size_t>(range.teeth);
  for (std::size_t i = 0; i < teeth; ++i)
    other.push_back(std::clamp(midi[i * midi.size() / teeth], range.lowest, range.highest));
  return other;
}

// Whether the outermost of so many tracks still finds sheet.
bool has_room(const box::Box& box, int tracks) {
  const double outermost = box::track_radius_m(box, tracks) + 0.5 * box.projection.width_m;
  return outermost + box.disc.edge_margin_m <= 0.5 * box.disc.diameter_m;
}

// What each tooth more would buy.
std::vector<NextTooth> next_teeth(const box::Box& box, const std::vector<RepertoireTune>& tunes,
                                  ScaleTask task, const ScalePlan& plan, double worth,
                                  unsigned threads, const Watch& watch) {
  std::vector<int> midi;
  for (const ScaleTooth& tooth : plan.scale) midi.push_back(tooth.midi);
  const auto teeth = static_cast<int>(midi.size());
  task.interval_s = intervals_by_place(with_tracks(box, teeth + teeth_shown_next));
  std::vector<NextTooth> next;
  double before = plan.coverage;
  for (const ScaleChoice& grown : grow_scale(task, midi, watch)) {
    constexpr double nothing = 1e-6;
    if (grown.worth < worth + nothing) break;
    worth = grown.worth;
    const auto place = std::mismatch(midi.begin(), midi.end(), grown.midi.begin()).first;
    const auto added = static_cast<int>(place - midi.begin());
    NextTooth tooth{.midi = grown.midi[static_cast<std::size_t>(added)],
                    .track = box::track_of_place(with_scale(box, grown.midi), added)};
    midi = grown.midi;
    tooth.coverage = mean(kept(with_scale(box, midi), tunes, grown.transpositions, threads, watch));
    tooth.gain = tooth.coverage - before;
    before = tooth.coverage;
    next.push_back(tooth);
  }
  return next;
}

enum class Tempo { nearest, slowest };

// Without the intervals, which are a box's.
ScaleTask task_of(const std::vector<RepertoireTune>& tunes, const Range& range, Tempo tempo) {
  ScaleTask task{.lowest_midi = range.lowest,
                 .highest_midi = range.highest,
                 .transpositions = reachable_keys()};
  task.tunes.reserve(tunes.size());
  for (const RepertoireTune& tune : tunes) {
    const SearchSpace& space = tune.part.space;
    task.tunes.emplace_back(tune.part.notes, tempo == Tempo::nearest ? nearest_tempo(space)
                                                                     : space.tempo_factors.front());
  }
  return task;
}

// The bound; where rounding alone has put it below what is reached, that.
double not_below(double bound, double reached) {
  constexpr double rounding = 1e-9;
  assert(bound >= reached - rounding);
  return bound < reached && bound >= reached - rounding ? reached : bound;
}

// How many teeth of the scale are copies without which the tunes earn as much.
int idle_copies(const ScaleTask& task, const ScaleChoice& chosen) {
  TeethByPitch teeth = teeth_by_pitch(chosen.midi, task.interval_s);
  WorthScratch scratch;
  const auto earned = [&](int pitch_class) {
    double sum = 0.0;
    for (std::size_t j = 0; j < task.tunes.size(); ++j)
      sum += task.tunes[j].of_class(pitch_class, chosen.transpositions[j], teeth, scratch);
    return sum;
  };
  constexpr double nothing = 1e-9;
  int idle = 0;
  for (std::size_t midi = 0; midi < teeth.count.size(); ++midi) {
    const int pitch_class = static_cast<int>(midi) % 12;
    const double all = teeth.count[midi] > 1 ? earned(pitch_class) : 0.0;
    while (teeth.count[midi] > 1) {
      --teeth.count[midi];
      if (earned(pitch_class) < all - nothing) break;
      ++idle;
    }
  }
  return idle;
}

// That a range of fewer notes than teeth fills up with copies.
Findings copies_noted(const ScaleTask& task, const Range& range, const ScaleChoice& chosen) {
  const int notes = range.highest - range.lowest + 1;
  if (notes >= range.teeth) return {};
  const int idle = idle_copies(task, chosen);
  if (idle == 0) return {};
  return {{Level::note, "scale",
           fmt::format(
               "{} of the {} teeth are copies that the tunes do not need: from {} to {} there "
               "{} only {}",
               idle, range.teeth, music::note_name(range.lowest), music::note_name(range.highest),
               notes == 1 ? "is" : "are", notes == 1 ? "one note" : fmt::format("{} notes", notes)),
           fmt::format("give a lower lowest note or a higher highest one, or plan {} teeth",
                       range.teeth - idle)}};
}

void add_findings(const box::Box& box, ScalePlan& plan) {
  const auto teeth = static_cast<int>(plan.scale.size());
  if (!has_room(box, teeth)) {
    plan.findings.push_back({Level::warning, "scale",
                             fmt::format("{} tracks need a disc of more than {}", teeth,
                                         to_text(box.disc.diameter_m, Dimension::length)),
                             "plan fewer teeth, or change disc and tracks in the box file"});
  } else if (!plan.next.empty() && !has_room(box, teeth + teeth_shown_next)) {
    plan.findings.push_back(
        {Level::note, "next",
         fmt::format("the disc has no room for {} tracks more at this pitch", teeth_shown_next),
         "what they would buy holds for a larger disc"});
  }
}

}  // namespace

ScalePlan plan_scale(const box::Box& box, const std::vector<RepertoireTune>& tunes,
                     const ScaleOptions& options, unsigned threads, const Watch& watch) {
  assert(!tunes.empty());
  watch.say(fmt::format("choosing a scale for {} tunes", tunes.size()));
  const Range range = checked(box, options);
  ScaleTask task = task_of(tunes, range, Tempo::nearest);
  task.interval_s = intervals_by_place(box);
  const ScaleChoice now = worth_of_scale(task, box.scale.midi, threads, watch);
  const std::vector<double> kept_now = kept(box, tunes, now.transpositions, threads, watch);

  task.interval_s = intervals_by_place(with_tracks(box, range.teeth));
  ScaleChoice chosen =
      choose_scale(task, stretched(box.scale.midi, range), threads, usual_notes_looked_at, watch);
  std::vector<double> kept_then =
      kept(with_scale(box, chosen.midi), tunes, chosen.transpositions, threads, watch);
  const bool now_would_do = box.tracks.count == range.teeth &&
                            box.scale.midi.front() >= range.lowest &&
                            box.scale.midi.back() <= range.highest;
  if (now_would_do && mean(kept_now) >= mean(kept_then)) {
    chosen = now;
    kept_then = kept_now;
  }

  ScalePlan plan{.box_name = box.name, .scale_now = box.scale.midi};
  const box::Box planned = with_scale(box, chosen.midi);
  for (std::size_t i = 0; i < chosen.midi.size(); ++i)
    plan.scale.push_back({chosen.midi[i], box::track_of_place(planned, static_cast<int>(i))});
  plan.coverage = mean(kept_then);
  plan.coverage_now = mean(kept_now);
  watch.say("looking for what no scale can exceed");
  ScaleTask slowest = task_of(tunes, range, Tempo::slowest);
  slowest.interval_s = task.interval_s;
  const ScaleBounds bounds =
      scale_bounds(slowest, chosen.transpositions, plan.coverage, bound_rounds, threads, watch);
  plan.coverage_bound = not_below(bounds.any_keys, plan.coverage);
  plan.coverage_bound_in_keys = not_below(bounds.in_keys, plan.coverage);
  for (std::size_t j = 0; j < tunes.size(); ++j) {
    const TurnPart& part = tunes[j].part;
    plan.tunes.push_back({.name = tunes[j].name,
                          .coverage = kept_then[j],
                          .coverage_now = kept_now[j],
                          .coverage_bound = not_below(bounds.of_tune[j], kept_then[j]),
                          .transpose_semitones = chosen.transpositions[j],
                          .transpose_semitones_now = now.transpositions[j],
                          .tempo_factor = nearest_tempo(part.space),
                          .notes = static_cast<int>(part.notes.size()),
                          .bars = part.excerpt.bars});
  }
  const Findings copies = copies_noted(task, range, chosen);
  watch.say("adding teeth");
  plan.next = next_teeth(box, tunes, std::move(task), plan, chosen.worth, threads, watch);
  add_findings(box, plan);
  plan.findings.insert(plan.findings.end(), copies.begin(), copies.end());
  return plan;
}

}  // namespace combwright::arrange
