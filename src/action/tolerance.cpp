// SPDX-License-Identifier: Apache-2.0
#include "action/tolerance.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>

#include "action/strike.h"
#include "base/angle.h"
#include "base/parallel.h"
#include "box/measures.h"
#include "box/star_drive.h"

namespace combwright::action {
namespace {

// A tolerance is two standard deviations.
constexpr double deviations_of_tolerance = 2.0;
constexpr double db_per_ratio = 20.0 / std::numbers::ln10;

constexpr std::array<Deviation, deviations> all_deviations{
    Deviation::axis_height,  Deviation::axle_play,  Deviation::projection_height,
    Deviation::comb_overlap, Deviation::comb_level, Deviation::eccentricity};

std::size_t at(Deviation deviation) {
  return static_cast<std::size_t>(deviation);
}

// Of one tooth what stays the same in all trials.
struct Site {
  Strike strike;
  double side = 1.0;  // 1 where points go down, the way the disc goes; -1 where they come up
  double speed_m_s = 0.0;
  double face_m = 0.0;  // where the projection is meant to let the tooth go
  std::size_t comb = 0;
  std::size_t wheel = 0;  // track from 0
};

// How a wheel, its projection and its tooth differ from the drawing.
struct Errors {
  double axis_m = 0.0;    // the axis lower
  double along_m = 0.0;   // the axis further on along the disc
  double height_m = 0.0;  // the projection higher
  double overlap_m = 0.0;
  double level_m = 0.0;
  double disc_m = 0.0;  // the disc behind
};

struct Outcome {
  bool plucked = false;
  double lift_m = 0.0;
  double timing_s = 0.0;
};

std::vector<Site> sites(const box::Box& box, const box::StarDrive& drive, double turn_time_s) {
  std::vector<Site> result;
  for (std::size_t comb = 0; comb < box.combs.size(); ++comb) {
    for (const box::Track& track : box::tracks(box)) {
      Site site{.strike = strike(box, drive, comb, place_of(box, track.number)),
                .side = box.combs[comb].plucked == box::Plucked::down ? 1.0 : -1.0,
                .speed_m_s = two_pi * track.radius_m / turn_time_s,
                .comb = comb,
                .wheel = static_cast<std::size_t>(track.number - 1)};
      site.face_m = drive.face_m(site.strike.slip_rad);
      result.push_back(site);
    }
  }
  return result;
}

Outcome outcome(const box::StarDrive& nominal, const Site& site, const Errors& errors) {
  const Strike& strike = site.strike;
  const double overlap = strike.overlap_m + errors.overlap_m + site.side * errors.along_m;
  const double level = strike.level_m + errors.level_m + site.side * errors.axis_m;
  const double r = strike.tip_radius_m;
  // It misses a tooth that it does not reach at the tooth's own level.
  if (!(std::abs(level) < r) || !(overlap > r - std::sqrt(r * r - level * level))) return {};
  const double slip = box::slip_rad(r, overlap, strike.length_m, level);
  box::StarDrive drive = nominal;
  drive.depth_m += errors.axis_m - errors.height_m;
  const double angle = strike.level_rad + slip;
  if (!(drive.centre_m * std::cos(angle) + drive.rounding_m > drive.depth_m)) return {};
  return {.plucked = true,
          .lift_m = r * std::sin(slip) + level,
          .timing_s = (drive.face_m(angle) + errors.along_m + errors.disc_m - site.face_m) /
                      site.speed_m_s};
}

// Numbers from a seed: SplitMix64 (Steele, Lea and Flood 2014, from memory), and from two of them
// two of a normal distribution (Box and Muller).
class Random {
 public:
  Random(std::uint64_t seed, std::uint64_t stream) : state_(mixed(mixed(seed) ^ stream)) {}

  double uniform() {
    state_ += 0x9e3779b97f4a7c15U;
    constexpr double steps = 9007199254740992.0;  // 2^53
    return (static_cast<double>(mixed(state_) >> 11U) + 0.5) / steps;
  }

  double normal() {
    if (spare_) {
      spare_ = false;
      return kept_;
    }
    const double far = std::sqrt(-2.0 * std::log(uniform()));
    const double angle = two_pi * uniform();
    kept_ = far * std::sin(angle);
    spare_ = true;
    return far * std::cos(angle);
  }

 private:
  static std::uint64_t mixed(std::uint64_t z) {
    z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9U;
    z = (z ^ (z >> 27U)) * 0x94d049bb133111ebU;
    return z ^ (z >> 31U);
  }

  std::uint64_t state_;
  double kept_ = 0.0;
  bool spare_ = false;
};

struct Sums {
  double count = 0.0;
  double lift = 0.0;
  double lift_squares = 0.0;
  double loudness = 0.0;
  double loudness_squares = 0.0;
  double timing = 0.0;
  double timing_squares = 0.0;

  void add(const Sums& other) {
    count += other.count;
    lift += other.lift;
    lift_squares += other.lift_squares;
    loudness += other.loudness;
    loudness_squares += other.loudness_squares;
    timing += other.timing;
    timing_squares += other.timing_squares;
  }
};

double deviation_of(double sum, double squares, double count) {
  return std::sqrt(std::max(0.0, squares / count - (sum / count) * (sum / count)));
}

std::array<Sensitivity, deviations> sensitivities_of(const box::StarDrive& drive,
                                                     const Site& site) {
  const Strike& strike = site.strike;
  const double r = strike.tip_radius_m;
  const double slip = strike.slip_rad - strike.level_rad;
  // Of what uses up the overlap, r (1 - cos slip) + draw_back(lift), lift = r sin slip + level.
  const double back = 2.0 * box::draw_back_m(strike.length_m, 1.0) * strike.lift_m;
  const double per_rad = r * std::sin(slip) + back * r * std::cos(slip);
  const double slip_per_overlap = 1.0 / per_rad;
  const double slip_per_level = -back / per_rad;
  const double face_per_rad = drive.face_per_rad(strike.slip_rad);
  const double face_per_depth = drive.face_per_depth(strike.slip_rad);

  Sensitivity overlap{r * std::cos(slip) * slip_per_overlap, face_per_rad * slip_per_overlap};
  Sensitivity level{1.0 + r * std::cos(slip) * slip_per_level, face_per_rad * slip_per_level};
  std::array<Sensitivity, deviations> result{};
  result[at(Deviation::axis_height)] = {site.side * level.lift,
                                        site.side * level.way + face_per_depth};
  result[at(Deviation::axle_play)] = {site.side * overlap.lift, site.side * overlap.way + 1.0};
  result[at(Deviation::projection_height)] = {0.0, -face_per_depth};
  result[at(Deviation::comb_overlap)] = overlap;
  result[at(Deviation::comb_level)] = level;
  result[at(Deviation::eccentricity)] = {0.0, 1.0};
  return result;
}

}  // namespace

std::string_view to_text(Deviation deviation) {
  constexpr std::array<std::string_view, deviations> words{"height of the star wheels' axes",
                                                           "play of the star wheels' axles",
                                                           "height of the projections",
                                                           "overlap of the comb",
                                                           "level of the comb",
                                                           "eccentricity of the disc"};
  return words.at(at(deviation));
}

std::string_view owner_of(Deviation deviation) {
  constexpr std::array<std::string_view, deviations> owners{"wheel", "wheel", "projection",
                                                            "comb",  "comb",  "disc"};
  return owners.at(at(deviation));
}

double tolerance_m(const box::ActionTolerance& tolerance, Deviation deviation) {
  switch (deviation) {
    case Deviation::axis_height:
      return tolerance.axis_height_m;
    case Deviation::axle_play:
      return tolerance.axle_play_m;
    case Deviation::projection_height:
      return tolerance.projection_height_m;
    case Deviation::comb_overlap:
      return tolerance.comb_overlap_m;
    case Deviation::comb_level:
      return tolerance.comb_level_m;
    case Deviation::eccentricity:
      break;
  }
  return tolerance.eccentricity_m;
}

std::array<Sensitivity, deviations> sensitivities(const box::Box& box, std::size_t comb,
                                                  int track) {
  assert(comb < box.combs.size() && track >= 1 && track <= box.tracks.count);
  const box::StarDrive drive = box::star_drive(box);
  const Site site{.strike = strike(box, drive, comb, place_of(box, track)),
                  .side = box.combs[comb].plucked == box::Plucked::down ? 1.0 : -1.0};
  return sensitivities_of(drive, site);
}

std::vector<ToothSpread> first_order(const box::Box& box, const box::ActionTolerance& tolerance,
                                     double turn_time_s) {
  const box::StarDrive drive = box::star_drive(box);
  std::vector<ToothSpread> result;
  for (const Site& site : sites(box, drive, turn_time_s)) {
    const auto slopes = sensitivities_of(drive, site);
    ToothSpread tooth{.comb = site.comb, .track = static_cast<int>(site.wheel) + 1};
    for (const Deviation deviation : all_deviations) {
      const double one = tolerance_m(tolerance, deviation) / deviations_of_tolerance;
      Sensitivity slope = slopes[at(deviation)];
      if (deviation == Deviation::axle_play) {
        const Sensitivity& across = slopes[at(Deviation::axis_height)];
        slope = {std::hypot(slope.lift, across.lift), std::hypot(slope.way, across.way)};
      }
      // Anywhere on the turn the disc is behind by its eccentricity times the sine of the place.
      if (deviation == Deviation::eccentricity) slope.way /= std::numbers::sqrt2;
      Spread& part = tooth.parts[at(deviation)];
      part.lift_m = std::abs(slope.lift) * one;
      part.loudness_db = db_per_ratio * part.lift_m / site.strike.lift_m;
      part.timing_s = std::abs(slope.way) * one / site.speed_m_s;
      tooth.all.lift_m = std::hypot(tooth.all.lift_m, part.lift_m);
      tooth.all.loudness_db = std::hypot(tooth.all.loudness_db, part.loudness_db);
      tooth.all.timing_s = std::hypot(tooth.all.timing_s, part.timing_s);
    }
    result.push_back(tooth);
  }
  return result;
}

std::vector<Contribution> ranked(const std::vector<ToothSpread>& teeth) {
  constexpr double heard_db = 1.0;
  constexpr double heard_s = 0.010;
  const double count = std::max<double>(1.0, static_cast<double>(teeth.size()));
  std::vector<Contribution> result;
  double loudness = 0.0;
  double timing = 0.0;
  for (const Deviation deviation : all_deviations) {
    Contribution part{.deviation = deviation};
    for (const ToothSpread& tooth : teeth) {
      const Spread& own = tooth.parts[at(deviation)];
      part.spread.lift_m += own.lift_m * own.lift_m / count;
      part.spread.loudness_db += own.loudness_db * own.loudness_db / count;
      part.spread.timing_s += own.timing_s * own.timing_s / count;
    }
    loudness += part.spread.loudness_db;
    timing += part.spread.timing_s;
    part.loudness_share = part.spread.loudness_db;
    part.timing_share = part.spread.timing_s;
    part.spread = {std::sqrt(part.spread.lift_m), std::sqrt(part.spread.loudness_db),
                   std::sqrt(part.spread.timing_s)};
    part.weight = std::max(part.spread.loudness_db / heard_db, part.spread.timing_s / heard_s);
    result.push_back(part);
  }
  for (Contribution& part : result) {
    part.loudness_share = loudness > 0.0 ? part.loudness_share / loudness : 0.0;
    part.timing_share = timing > 0.0 ? part.timing_share / timing : 0.0;
  }
  std::stable_sort(result.begin(), result.end(), [](const Contribution& a, const Contribution& b) {
    return a.weight > b.weight;
  });
  return result;
}

Trials trials(const box::Box& box, const box::ActionTolerance& tolerance, double turn_time_s,
              const TrialOptions& options, const Watch& watch) {
  watch.say("drawing boxes at random");
  assert(options.boxes > 0 && turn_time_s > 0.0);
  const box::StarDrive drive = box::star_drive(box);
  const std::vector<Site> places = sites(box, drive, turn_time_s);
  std::array<double, deviations> one{};
  for (const Deviation deviation : all_deviations)
    one[at(deviation)] = tolerance_m(tolerance, deviation) / deviations_of_tolerance;

  const auto wheels = static_cast<std::size_t>(box.tracks.count);
  const std::size_t combs = box.combs.size();
  // Sums of so many boxes at a time, added up in order: the same whoever does them.
  constexpr std::size_t block = 64;
  const std::size_t blocks = (options.boxes + block - 1) / block;
  std::vector<std::vector<Sums>> of_block(blocks);
  parallel_for(blocks, options.threads, [&](std::size_t index) {
    watch.check();
    std::vector<Sums>& sums = of_block[index];
    sums.resize(places.size());
    std::vector<Errors> wheel(wheels);
    std::vector<Errors> comb(combs);
    const std::size_t end = std::min(options.boxes, (index + 1) * block);
    for (std::size_t number = index * block; number < end; ++number) {
      Random random(options.seed, number);
      for (Errors& errors : comb) {
        errors.overlap_m = one[at(Deviation::comb_overlap)] * random.normal();
        errors.level_m = one[at(Deviation::comb_level)] * random.normal();
      }
      const double eccentricity = one[at(Deviation::eccentricity)] * random.normal();
      for (Errors& errors : wheel) {
        const double play = one[at(Deviation::axle_play)];
        errors.axis_m = one[at(Deviation::axis_height)] * random.normal() + play * random.normal();
        errors.along_m = play * random.normal();
        errors.height_m = one[at(Deviation::projection_height)] * random.normal();
        errors.disc_m = eccentricity * std::sin(two_pi * random.uniform());
      }
      for (std::size_t i = 0; i < places.size(); ++i) {
        Errors errors = wheel[places[i].wheel];
        errors.overlap_m = comb[places[i].comb].overlap_m;
        errors.level_m = comb[places[i].comb].level_m;
        const Outcome found = outcome(drive, places[i], errors);
        if (!found.plucked) continue;
        const double loudness = db_per_ratio * std::log(found.lift_m / places[i].strike.lift_m);
        // Counted from the drawing's, so that small spreads are not lost in what all have.
        const double lift = found.lift_m - places[i].strike.lift_m;
        Sums& sum = sums[i];
        sum.count += 1.0;
        sum.lift += lift;
        sum.lift_squares += lift * lift;
        sum.loudness += loudness;
        sum.loudness_squares += loudness * loudness;
        sum.timing += found.timing_s;
        sum.timing_squares += found.timing_s * found.timing_s;
      }
    }
  });

  Trials result;
  double plucked = 0.0;
  for (std::size_t i = 0; i < places.size(); ++i) {
    Sums sum;
    for (const std::vector<Sums>& part : of_block) sum.add(part[i]);
    plucked += sum.count;
    TrialTooth tooth{.comb = places[i].comb, .track = static_cast<int>(places[i].wheel) + 1};
    if (sum.count > 0.0) {
      tooth.mean_lift_m = places[i].strike.lift_m + sum.lift / sum.count;
      tooth.mean_timing_s = sum.timing / sum.count;
      tooth.all = {deviation_of(sum.lift, sum.lift_squares, sum.count),
                   deviation_of(sum.loudness, sum.loudness_squares, sum.count),
                   deviation_of(sum.timing, sum.timing_squares, sum.count)};
    }
    result.teeth.push_back(tooth);
  }
  const double all = static_cast<double>(options.boxes) * static_cast<double>(places.size());
  result.missed = all > 0.0 ? 1.0 - plucked / all : 0.0;
  return result;
}

}  // namespace combwright::action
