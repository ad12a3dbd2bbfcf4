// SPDX-License-Identifier: Apache-2.0
#include "ear/own_mode.h"

#include <algorithm>
#include <cmath>

#include "base/angle.h"
#include "base/cents.h"

namespace combwright::ear {
namespace {

// A tooth rings through at least so many radians while it falls to 1 / e; a knock or a mode of the
// room does not.
constexpr double least_radians = 60.0;
// A ring so far below a stronger one that can't be its higher mode is no tooth's first mode.
constexpr double most_below_db = 16.0;
// A pick-up that feels acceleration gives the second mode of a bare tooth (6.27)^2 = 32 dB more.
constexpr double most_above_db = 46.0;
// With a note given, a semitone off costs as much as so many decibels: a neighbour plucked by
// mistake may be louder, one that is struck along is 20 dB softer.
constexpr double db_a_semitone = 20.0;
constexpr double most_off_cents = 600.0;
constexpr double rival_db = 5.0;

// Of the energy that a ring gives off in all; what does not die (hum) counts as the slowest tooth.
double level_db(const FoundRing& found) {
  constexpr double slowest_per_s = 1.0;
  const double decay = std::max(found.ring.decay_per_s, slowest_per_s);
  return 10.0 * std::log10(found.amplitude * found.amplitude / decay + 1e-300);
}

// Mains run at 50 or 60 Hz, give or take two parts in a thousand (common practice, no source), and
// hum neither begins nor dies. Where no beginning was heard, a tooth that rings long is told from
// it by dying at all, and by being sought.
bool is_mains(const FoundRing& found, double seconds, bool begun, std::optional<double> near_hz) {
  constexpr double most_off = 0.002;
  constexpr double highest_hz = 1500.0;
  constexpr double near_cents = 50.0;
  // Over the stretch, beyond what noise may pretend.
  constexpr double most_decay = 0.4;
  constexpr double most_decay_unheard = 0.05;
  const Ring& ring = found.ring;
  if (!found.older.value_or(true) || ring.frequency_hz > highest_hz) return false;
  const double decay = (ring.decay_per_s - 3.0 * found.spread.decay_per_s) * seconds;
  if (decay > (begun || found.older ? most_decay : most_decay_unheard)) return false;
  if (!found.older && near_hz && std::abs(cents(ring.frequency_hz / *near_hz)) < near_cents)
    return false;
  for (const double mains_hz : {50.0, 60.0}) {
    const double harmonic = std::round(ring.frequency_hz / mains_hz);
    if (harmonic >= 1.0 &&
        std::abs(ring.frequency_hz - harmonic * mains_hz) < most_off * ring.frequency_hz)
      return true;
  }
  return false;
}

// `begun` says whether something beside it was heard to begin.
bool may_be_own(const FoundRing& found, bool begun) {
  // Noise that falls steeply over frequency has tops that look like weak rings.
  constexpr double most_spread_unheard = 0.125;  // of the amplitude
  if (begun && !found.older && found.spread.amplitude > most_spread_unheard) return false;
  return two_pi * found.ring.frequency_hz >= least_radians * std::max(0.0, found.ring.decay_per_s);
}

// Places of the rings that may be the own mode, by what speaks for them, the best first.
std::vector<std::size_t> near_to(const std::vector<FoundRing>& rings,
                                 const std::vector<std::size_t>& candidates, double near_hz) {
  const auto off_cents = [&](std::size_t i) {
    return std::abs(cents(rings[i].ring.frequency_hz / near_hz));
  };
  const auto score = [&](std::size_t i) {
    return level_db(rings[i]) - 0.01 * db_a_semitone * off_cents(i);
  };
  std::vector<std::size_t> order = candidates;
  std::erase_if(order, [&](std::size_t i) { return off_cents(i) > most_off_cents; });
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return score(a) > score(b); });
  if (order.size() > 1 && score(order[1]) < score(order[0]) - rival_db)
    order.erase(order.begin() + 1, order.end());
  return order;
}

std::vector<std::size_t> lowest(const std::vector<FoundRing>& rings,
                                std::vector<std::size_t> candidates) {
  std::sort(candidates.begin(), candidates.end(), [&](std::size_t a, std::size_t b) {
    return rings[a].ring.frequency_hz < rings[b].ring.frequency_hz;
  });
  const auto overshadowed = [&](std::size_t i) {
    return std::any_of(candidates.begin(), candidates.end(), [&](std::size_t other) {
      const bool higher_mode =
          rings[other].ring.frequency_hz >= least_mode_ratio * rings[i].ring.frequency_hz;
      // What was heard to begin goes before what may have rung already.
      const bool unheard = !rings[i].older && rings[other].older;
      return level_db(rings[other]) - level_db(rings[i]) >
             (higher_mode && !unheard ? most_above_db : most_below_db);
    });
  };
  const auto own = std::find_if_not(candidates.begin(), candidates.end(), overshadowed);
  if (own == candidates.end()) return {};
  std::vector<std::size_t> order{*own};
  for (auto i = own + 1; i != candidates.end(); ++i) {
    if (rings[*i].ring.frequency_hz < least_mode_ratio * rings[*own].ring.frequency_hz &&
        level_db(rings[*i]) > level_db(rings[*own]) - rival_db) {
      order.push_back(*i);
      break;
    }
  }
  return order;
}

// The loudest ring from before that is near to a pitch.
std::vector<std::size_t> older_near(const std::vector<FoundRing>& rings,
                                    const std::vector<Kind>& kinds, double near_hz) {
  constexpr double near_cents = 100.0;
  std::vector<std::size_t> best;
  for (std::size_t i = 0; i < rings.size(); ++i) {
    if (kinds[i] != Kind::older ||
        std::abs(cents(rings[i].ring.frequency_hz / near_hz)) > near_cents)
      continue;
    if (best.empty() || rings[i].amplitude > rings[best[0]].amplitude) best = {i};
  }
  return best;
}

// The loudest ring that began with the own mode, could have it for a higher mode, and dies too fast
// for a sound tooth: a cracked one's first mode may.
std::optional<std::size_t> short_lived_below(const std::vector<FoundRing>& rings, std::size_t own) {
  constexpr double least_radians_at_all = 12.0;
  std::optional<std::size_t> found;
  for (std::size_t i = 0; i < rings.size(); ++i) {
    const Ring& ring = rings[i].ring;
    if (rings[i].older != false || may_be_own(rings[i], true) ||
        least_mode_ratio * ring.frequency_hz > rings[own].ring.frequency_hz ||
        two_pi * ring.frequency_hz < least_radians_at_all * ring.decay_per_s ||
        rings[i].amplitude < rings[own].amplitude)
      continue;
    if (!found || rings[i].amplitude > rings[*found].amplitude) found = i;
  }
  return found;
}

}  // namespace

Kinds tell_kinds(const std::vector<FoundRing>& rings, double seconds,
                 std::optional<double> near_hz) {
  Kinds kinds{std::vector<Kind>(rings.size(), Kind::other), {}, {}};
  const bool begun = std::any_of(rings.begin(), rings.end(),
                                 [](const FoundRing& found) { return found.older == false; });
  std::vector<std::size_t> plucked;
  std::vector<std::size_t> candidates;
  for (std::size_t i = 0; i < rings.size(); ++i) {
    if (is_mains(rings[i], seconds, begun, near_hz)) {
      kinds.of[i] = Kind::mains;
    } else if (rings[i].older.value_or(false)) {
      kinds.of[i] = Kind::older;
    } else {
      plucked.push_back(i);
      if (may_be_own(rings[i], begun)) candidates.push_back(i);
    }
  }
  std::vector<std::size_t> order =
      near_hz ? near_to(rings, candidates, *near_hz) : lowest(rings, candidates);
  // The tooth that is sought, plucked again while it rang, or not plucked at all.
  if (order.empty() && near_hz) order = older_near(rings, kinds.of, *near_hz);
  if (order.empty()) return kinds;
  kinds.own = order[0];
  if (order.size() > 1) kinds.rival = order[1];
  if (!kinds.rival && !near_hz) kinds.rival = short_lived_below(rings, order[0]);
  kinds.of[order[0]] = Kind::own;
  for (const std::size_t i : plucked)
    if (rings[i].ring.frequency_hz >= least_mode_ratio * rings[order[0]].ring.frequency_hz)
      kinds.of[i] = Kind::partial;
  return kinds;
}

}  // namespace combwright::ear
