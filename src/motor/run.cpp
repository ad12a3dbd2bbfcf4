// SPDX-License-Identifier: Apache-2.0
#include "motor/run.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <utility>

#include "base/angle.h"
#include "motor/run/piece.h"

namespace combwright::motor {
namespace {

// The spring's torque runs straight over a stretch no longer than this.
constexpr double longest_stretch_rad = two_pi / 64.0;

// Which side of each mesh pushes, and whether the governor grips.
struct Regime {
  bool disc_driven = true;
  bool governor_driven = true;
  bool grips = false;
};

// The torques over one stretch, all at the disc: value at its beginning and rise over a radian.
struct Stretch {
  double length = 0.0;
  double spring = 0.0;
  double spring_rise = 0.0;
  double pluck = 0.0;
  double pluck_rise = 0.0;
  double rub = 0.0;

  double load() const { return pluck + rub; }
};

// What is told of the motion as it goes.
class Observer {
 public:
  virtual ~Observer() = default;
  // Along one piece from `begin_rad` of travel, at `begin_s`.
  virtual void along(const Piece& piece, double begin_rad, double begin_s, double length,
                     double end_s) = 0;
};

class Motion {
 public:
  explicit Motion(const Machine& machine)
      : machine_(machine),
        square_(machine.governor.square_n_m_s2 * std::pow(machine.governor_per_disc, 3)),
        offset_(machine.governor.offset_n_m * machine.governor_per_disc),
        grip_(machine.governor.grip_rad2_s2 /
              (machine.governor_per_disc * machine.governor_per_disc)),
        governor_inertia_(machine.governor.inertia_kg_m2 * machine.governor_per_disc *
                          machine.governor_per_disc) {}

  double speed_square() const { return y_; }
  double time_s() const { return time_; }
  bool stalled() const { return stalled_; }
  double travel_rad() const { return travel_; }
  const Books& books() const { return books_; }

  double kinetic_j() const { return 0.5 * (machine_.load.inertia_kg_m2 + governor_inertia_) * y_; }

  // Goes along one stretch, or until it stalls.
  void go(Stretch stretch, Observer& observer) {
    settle_regime(stretch);
    // Corners met at one place can't be many; a bound keeps rounding from turning it into a loop.
    for (int corner = 0; corner < 64 && stretch.length > 0.0 && !stalled_; ++corner) {
      const Piece piece = piece_of(stretch);
      if (!(piece.start > 0.0) && !(piece.slope(0.0) > 0.0)) {
        stalled_ = true;
        break;
      }
      const auto [length, event] = first_event(piece, stretch);
      step(piece, stretch, length, event == Event::stall, observer);
      advance(stretch, length);
      if (event == Event::disc) regime_.disc_driven = !regime_.disc_driven;
      if (event == Event::governor) regime_.governor_driven = !regime_.governor_driven;
      if (event == Event::grip) regime_.grips = !regime_.grips;
    }
  }

 private:
  enum class Event { none, disc, governor, grip, stall };

  double disc_factor(const Regime& regime) const {
    return regime.disc_driven ? 1.0 / machine_.disc_efficiency : machine_.disc_back;
  }
  double governor_factor(const Regime& regime) const {
    return regime.governor_driven ? 1.0 / machine_.train_efficiency : machine_.train_back;
  }
  double inertia(const Regime& regime) const {
    return machine_.load.inertia_kg_m2 * disc_factor(regime) +
           governor_inertia_ * governor_factor(regime);
  }
  double square(const Regime& regime) const { return regime.grips ? square_ : 0.0; }
  double offset(const Regime& regime) const { return regime.grips ? offset_ : 0.0; }

  // The disc's acceleration if this is how it is driven.
  double acceleration(const Stretch& s, const Regime& regime) const {
    const double brake = square(regime) * y_ - offset(regime);
    return (s.spring - s.load() * disc_factor(regime) - brake * governor_factor(regime)) /
           inertia(regime);
  }

  // The one regime that agrees with itself: the torque through each mesh has the sign that the
  // mesh's loss was taken for. Torque grows with acceleration, so that there is one.
  void settle_regime(const Stretch& s) {
    regime_.grips =
        grip_ <= 0.0 || (regime_.grips ? y_ >= grip_ * (1.0 - 1e-12) : y_ > grip_ * (1.0 + 1e-12));
    Regime best = regime_;
    double least = std::numeric_limits<double>::infinity();
    for (const bool disc : {true, false}) {
      for (const bool governor : {true, false}) {
        const Regime tried{disc, governor, regime_.grips};
        const double a = acceleration(s, tried);
        const double through_disc = s.load() + machine_.load.inertia_kg_m2 * a;
        const double through_train = square(tried) * y_ - offset(tried) + governor_inertia_ * a;
        const double wrong = std::max(0.0, disc ? -through_disc : through_disc) +
                             std::max(0.0, governor ? -through_train : through_train);
        if (wrong < least) {
          least = wrong;
          best = tried;
        }
      }
    }
    regime_ = best;
  }

  Piece piece_of(const Stretch& s) const {
    const double whole = inertia(regime_);
    const double gf = governor_factor(regime_);
    const double df = disc_factor(regime_);
    return {.length = s.length,
            .rate = 2.0 * (s.spring - s.load() * df + offset(regime_) * gf) / whole,
            .rise = 2.0 * (s.spring_rise - s.pluck_rise * df) / whole,
            .decay = 2.0 * square(regime_) * gf / whole,
            .start = y_};
  }

  std::pair<double, Event> first_event(const Piece& piece, const Stretch& s) const {
    double length = piece.length;
    Event event = Event::none;
    const Ends at_ends = ends(piece);
    const auto look = [&](Event kind, const Line& line, double slack) {
      const double x = first_below(piece, at_ends, line, slack);
      if (x >= 0.0 && (x < length || (x == length && event == Event::none))) {
        length = x;
        event = kind;
      }
    };
    const double half_rate = 0.5 * piece.rate;
    const double half_rise = 0.5 * piece.rise;
    const double half_decay = 0.5 * piece.decay;
    const double torque_slack = 1e-12 * (std::abs(s.spring) + s.load());
    const double disc_sign = regime_.disc_driven ? 1.0 : -1.0;
    const double disc_inertia = machine_.load.inertia_kg_m2;
    look(Event::disc,
         {disc_sign * (s.load() + disc_inertia * half_rate),
          disc_sign * (s.pluck_rise + disc_inertia * half_rise),
          -disc_sign * disc_inertia * half_decay},
         torque_slack);
    const double train_sign = regime_.governor_driven ? 1.0 : -1.0;
    look(Event::governor,
         {train_sign * (governor_inertia_ * half_rate - offset(regime_)),
          train_sign * governor_inertia_ * half_rise,
          train_sign * (square(regime_) - governor_inertia_ * half_decay)},
         torque_slack);
    if (grip_ > 0.0) {
      const double sign = regime_.grips ? 1.0 : -1.0;
      look(Event::grip, {-sign * grip_, 0.0, sign}, 1e-12 * grip_);
    }
    look(Event::stall, {0.0, 0.0, 1.0}, 0.0);
    return {length, event};
  }

  void step(const Piece& piece, const Stretch& s, double length, bool stall, Observer& observer) {
    const double end = stall ? 0.0 : std::max(0.0, piece.y(length));
    const double seconds = piece.time(length);
    observer.along(piece, travel_, time_, length, time_ + seconds);
    const double given = length * (s.spring + 0.5 * length * s.spring_rise);
    const double plucks = length * (s.pluck + 0.5 * length * s.pluck_rise);
    const double rub = length * s.rub;
    const double braked = square(regime_) * piece.area(length) - offset(regime_) * length;
    const double gained = 0.5 * (end - y_);
    const double through_disc = plucks + rub + machine_.load.inertia_kg_m2 * gained;
    const double through_train = braked + governor_inertia_ * gained;
    books_.spring_j += given;
    books_.plucks_j += plucks;
    books_.disc_j += rub;
    books_.governor_j += braked;
    books_.train_j += through_disc * (disc_factor(regime_) - 1.0) +
                      through_train * (governor_factor(regime_) - 1.0);
    y_ = end;
    time_ += seconds;
    travel_ += length;
    stalled_ = stall;
  }

  static void advance(Stretch& s, double length) {
    s.spring += s.spring_rise * length;
    s.pluck += s.pluck_rise * length;
    s.length -= length;
  }

  const Machine& machine_;
  double square_;
  double offset_;
  double grip_;
  double governor_inertia_;
  Regime regime_;
  double y_ = 0.0;
  double time_ = 0.0;
  double travel_ = 0.0;
  bool stalled_ = false;
  Books books_;
};

// Torque of the spring at the disc after so much travel.
double driving_n_m(const Machine& machine, double travel_rad) {
  const double turns = machine.full_turns - machine.barrel_per_disc * travel_rad / two_pi;
  return machine.barrel_per_disc * running_torque_n_m(machine, turns);
}

double whole_travel_rad(const Machine& machine) {
  return two_pi * (machine.full_turns - machine.last_turns) / machine.barrel_per_disc;
}

// One turn from its beginning, piece by piece, up to `last_rad` of all travel.
void go_turn(const Machine& machine, int turn, double last_rad, Motion& motion,
             Observer& observer) {
  const std::vector<LoadPiece>& pieces = machine.load.pieces;
  const double base = turn * two_pi;
  for (std::size_t i = 0; i < pieces.size() && !motion.stalled(); ++i) {
    const double piece_end = i + 1 < pieces.size() ? pieces[i + 1].begin_rad : two_pi;
    double at = pieces[i].begin_rad;
    const double end = std::min(piece_end, last_rad - base);
    const int parts = std::max(1, static_cast<int>(std::ceil((end - at) / longest_stretch_rad)));
    const double length = (end - at) / parts;
    if (!(length > 0.0)) break;
    for (int part = 0; part < parts && !motion.stalled(); ++part) {
      const double into = length * part;
      const double from = driving_n_m(machine, base + at + into);
      const double to = driving_n_m(machine, base + at + into + length);
      motion.go({.length = length,
                 .spring = from,
                 .spring_rise = (to - from) / length,
                 .pluck = pieces[i].pluck_n_m + pieces[i].pluck_slope_n_m * into,
                 .pluck_rise = pieces[i].pluck_slope_n_m,
                 .rub = pieces[i].wheel_n_m + machine.load.steady_n_m},
                observer);
    }
  }
}

// Fastest and slowest speed of a turn, when it had settled.
class TurnWatch : public Observer {
 public:
  explicit TurnWatch(double settle_rad) : settle_(settle_rad) {}

  void begin(double travel_rad, double now_s, bool first) {
    base_ = travel_rad;
    begin_s_ = now_s;
    settled_ = !first;
    lost_s_ = 0.0;
    slowest_ = std::numeric_limits<double>::infinity();
    fastest_ = 0.0;
  }

  void along(const Piece& piece, double begin_rad, double /*begin_s*/, double length,
             double end_s) override {
    const double end_y = std::max(0.0, piece.y(length));
    if (settled_) {
      see(piece.start);
      see(end_y);
      const double turn = piece.turning_point();
      if (turn > 0.0 && turn < length) see(piece.y(turn));
    } else if (begin_rad + length - base_ >= settle_ && end_y > 0.0) {
      settled_ = true;
      lost_s_ = end_s - begin_s_ - (begin_rad + length - base_) / std::sqrt(end_y);
    }
  }

  Turn end(double now_s) const {
    return {.end_s = now_s,
            .time_s = now_s - begin_s_,
            .settled_s = now_s - begin_s_ - lost_s_,
            .slowest_rad_s = std::sqrt(slowest_),
            .fastest_rad_s = std::sqrt(fastest_)};
  }

 private:
  void see(double y) {
    slowest_ = std::min(slowest_, y);
    fastest_ = std::max(fastest_, y);
  }

  double settle_;
  double base_ = 0.0;
  double begin_s_ = 0.0;
  bool settled_ = false;
  double lost_s_ = 0.0;
  double slowest_ = 0.0;
  double fastest_ = 0.0;
};

// The time at each of some places of one turn.
class PlaceWatch : public Observer {
 public:
  PlaceWatch(const std::vector<double>& places, double base_rad)
      : places_(places), base_(base_rad) {}

  void along(const Piece& piece, double begin_rad, double begin_s, double length,
             double end_s) override {
    if (!started_) {
      // Rounding may end the turn before a little beyond its end.
      if (begin_rad < base_ - 1e-9) return;
      started_ = true;
      start_s_ = begin_s;
    }
    for (; next_ < places_.size() && base_ + places_[next_] <= begin_rad + length; ++next_) {
      const double x = std::clamp(base_ + places_[next_] - begin_rad, 0.0, length);
      times_.push_back((x == length ? end_s : begin_s + piece.time(x)) - start_s_);
    }
  }

  std::vector<double> times() && { return std::move(times_); }

 private:
  const std::vector<double>& places_;
  double base_;
  bool started_ = false;
  double start_s_ = 0.0;
  std::size_t next_ = 0;
  std::vector<double> times_;
};

}  // namespace

double Turn::swing() const {
  return (fastest_rad_s - slowest_rad_s) * settled_s / two_pi;
}

double winding_torque_n_m(const Machine& machine, double turns) {
  return (1.0 + machine.coil_friction) * torque_n_m(machine.spring, turns);
}

double running_torque_n_m(const Machine& machine, double turns) {
  return (1.0 - machine.coil_friction) * torque_n_m(machine.spring, turns);
}

double Wind::mean_turn_s() const {
  double mean = 0.0;
  for (const Turn& turn : turns) mean += turn.settled_s / static_cast<double>(turns.size());
  return mean;
}

double Books::gap() const {
  const double taken = plucks_j + train_j + governor_j + disc_j + left_j;
  return spring_j > 0.0 ? (spring_j - taken) / spring_j : 0.0;
}

Wind run(const Machine& machine, double settle_rad) {
  assert(!machine.load.pieces.empty());
  Wind result;
  Motion motion(machine);
  TurnWatch watch(settle_rad);
  const double last = whole_travel_rad(machine);
  for (int turn = 0; !motion.stalled(); ++turn) {
    // What rounding leaves of a turn is none.
    if (turn * two_pi >= last - 1e-9) break;
    watch.begin(turn * two_pi, motion.time_s(), turn == 0);
    go_turn(machine, turn, last, motion, watch);
    if (!motion.stalled() && (turn + 1) * two_pi <= last + 1e-9)
      result.turns.push_back(watch.end(motion.time_s()));
  }
  result.time_s = motion.time_s();
  result.stalls = motion.stalled();
  result.disc_turns = motion.travel_rad() / two_pi;
  if (result.stalls) result.stall_rad = std::fmod(motion.travel_rad(), two_pi);
  result.barrel_turns = result.disc_turns * machine.barrel_per_disc;
  result.books = motion.books();
  result.books.left_j = motion.kinetic_j();
  result.books.coils_j =
      result.books.spring_j * machine.coil_friction / (1.0 - machine.coil_friction);
  return result;
}

std::vector<double> times_in_turn(const Machine& machine, int turn,
                                  const std::vector<double>& places_rad) {
  Motion motion(machine);
  PlaceWatch watch(places_rad, turn * two_pi);
  const double last = whole_travel_rad(machine);
  for (int i = 0; i <= turn && !motion.stalled() && i * two_pi < last - 1e-9; ++i)
    go_turn(machine, i, last, motion, watch);
  return std::move(watch).times();
}

}  // namespace combwright::motor
