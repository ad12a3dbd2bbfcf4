// SPDX-License-Identifier: Apache-2.0
#include "ear/take.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include <fmt/format.h>

#include "base/cents.h"
#include "ear/hear.h"
#include "ear/onsets.h"
#include "ear/samples.h"

namespace combwright::ear {
namespace {

// Prices of the alignment, in the square of a pitch's distance over `usual_cents`.
constexpr double usual_cents = 40.0;
constexpr double missing_price = 9.0;
constexpr double extra_price = 6.0;
// Further off than this no pluck is that tooth's.
constexpr double most_cents = 250.0;
// Further off than this it may be another tooth's.
constexpr double doubtful_cents = 80.0;
// How often a tooth is looked for again.
constexpr std::size_t most_tries = 3;

// How far a pitch lies outside what is expected.
double outside_cents(const ExpectedTooth& tooth, double hz) {
  if (hz < tooth.low_hz) return cents(tooth.low_hz / hz);
  if (hz > tooth.high_hz) return cents(hz / tooth.high_hz);
  return 0.0;
}

double price(const ExpectedTooth& tooth, const HeardPluck& pluck) {
  const double off = outside_cents(tooth, pluck.own[0].frequency_hz);
  // Within the range, nearer to its top is likelier: most combs are in tune or nearly so.
  const double down = std::max(0.0, cents(tooth.high_hz / pluck.own[0].frequency_hz) - off);
  return off * off / (usual_cents * usual_cents) + 1e-4 * down;
}

struct Alignment {
  std::vector<std::optional<std::size_t>> pluck_of;  // of each tooth
  double price = 0.0;
};

Alignment align(const std::vector<ExpectedTooth>& teeth, const std::vector<HeardPluck>& plucks) {
  const std::size_t columns = plucks.size() + 1;
  std::vector<double> least((teeth.size() + 1) * columns);
  enum class Step : char { tooth_missing, pluck_extra, both };
  std::vector<Step> steps(least.size(), Step::both);
  const auto at = [columns](std::size_t t, std::size_t p) { return t * columns + p; };
  for (std::size_t t = 0; t <= teeth.size(); ++t) {
    for (std::size_t p = 0; p <= plucks.size(); ++p) {
      if (t == 0 && p == 0) continue;
      double best = INFINITY;
      const auto offer = [&](double total, Step step) {
        if (total < best) {
          best = total;
          steps[at(t, p)] = step;
        }
      };
      if (t > 0 && p > 0 &&
          outside_cents(teeth[t - 1], plucks[p - 1].own[0].frequency_hz) < most_cents)
        offer(least[at(t - 1, p - 1)] + price(teeth[t - 1], plucks[p - 1]), Step::both);
      if (t > 0) offer(least[at(t - 1, p)] + missing_price, Step::tooth_missing);
      if (p > 0) offer(least[at(t, p - 1)] + extra_price, Step::pluck_extra);
      least[at(t, p)] = best;
    }
  }
  Alignment alignment{std::vector<std::optional<std::size_t>>(teeth.size()), least.back()};
  for (std::size_t t = teeth.size(), p = plucks.size(); t > 0 || p > 0;) {
    const Step step = steps[at(t, p)];
    if (step == Step::both) alignment.pluck_of[t - 1] = p - 1;
    if (step != Step::pluck_extra) --t;
    if (step != Step::tooth_missing) --p;
  }
  return alignment;
}

// The plucks of no tooth, by place.
std::vector<std::size_t> left_over(const Alignment& alignment, std::size_t plucks) {
  std::vector<bool> used(plucks, false);
  for (const auto& pluck : alignment.pluck_of)
    if (pluck) used[*pluck] = true;
  std::vector<std::size_t> left;
  for (std::size_t p = 0; p < plucks; ++p)
    if (!used[p]) left.push_back(p);
  return left;
}

// Whether something that rings there could be the tooth.
bool may_hold(const HeardPluck& pluck, const ExpectedTooth& tooth) {
  return std::any_of(pluck.rings_hz.begin(), pluck.rings_hz.end(),
                     [&](double hz) { return outside_cents(tooth, hz) < doubtful_cents; });
}

// Listens again at one pluck for that tooth; nothing if it is not there.
std::optional<HeardPluck> hear_again(std::span<const double> samples, double rate_hz,
                                     double onset_s, double next_s, const ExpectedTooth& tooth) {
  const double begin_s = std::max(0.0, onset_s - lead_in_s);
  const double end_s = std::min(next_s - lead_out_s, static_cast<double>(samples.size()) / rate_hz);
  const std::size_t begin = samples_in(begin_s, rate_hz);
  const std::size_t end = samples_in(std::max(begin_s, end_s), rate_hz);
  const double near_hz = std::sqrt(tooth.low_hz * tooth.high_hz);
  Heard heard =
      hear(samples.subspan(begin, end - begin), rate_hz, {.near_hz = near_hz, .take = true});
  for (HeardPluck& pluck : heard.plucks) {
    pluck.onset_s += static_cast<double>(begin) / rate_hz;
    if (std::abs(pluck.onset_s - onset_s) < 0.05 &&
        outside_cents(tooth, pluck.own[0].frequency_hz) < doubtful_cents)
      return pluck;
  }
  return {};
}

// Plucks whose own mode was mistaken get another hearing, as a tooth that is missing at their
// place.
void second_hearing(std::span<const double> samples, double rate_hz,
                    const std::vector<ExpectedTooth>& teeth, std::vector<HeardPluck>& plucks) {
  const Alignment alignment = align(teeth, plucks);
  std::vector<std::pair<std::size_t, HeardPluck>> mended;
  for (const std::size_t p : left_over(alignment, plucks.size())) {
    // The teeth between those of the plucks before and after, and those two: one of them may be
    // the other tooth of its note.
    std::size_t first = 0;
    std::size_t last = teeth.size();
    for (std::size_t t = 0; t < teeth.size(); ++t) {
      if (!alignment.pluck_of[t]) continue;
      if (*alignment.pluck_of[t] < p) first = t;
      if (*alignment.pluck_of[t] > p) last = std::min(last, t + 1);
    }
    const double next_s = p + 1 < plucks.size() ? plucks[p + 1].onset_s : INFINITY;
    std::size_t tries = 0;
    for (std::size_t t = first; t < last && tries < most_tries; ++t) {
      if (!may_hold(plucks[p], teeth[t])) continue;
      ++tries;
      std::optional<HeardPluck> again =
          hear_again(samples, rate_hz, plucks[p].onset_s, next_s, teeth[t]);
      // A fainter tone that is not sure rings on from another pluck.
      if (!again || (!again->sure && again->own[0].amplitude < plucks[p].own[0].amplitude))
        continue;
      mended.emplace_back(p, std::move(*again));
      break;
    }
  }
  for (auto& [p, pluck] : mended) plucks[p] = std::move(pluck);
}

// Whether it is that comb at all, and whether it stands off as a whole.
void judge(Take& take, const std::vector<ExpectedTooth>& teeth, const Alignment& alignment,
           const std::vector<HeardPluck>& plucks) {
  constexpr double least_share = 0.5;
  constexpr double far_cents = 20.0;
  std::vector<double> off;
  for (std::size_t t = 0; t < teeth.size(); ++t) {
    if (!alignment.pluck_of[t]) continue;
    const double hz = plucks[*alignment.pluck_of[t]].own[0].frequency_hz;
    off.push_back(hz > teeth[t].high_hz ? outside_cents(teeth[t], hz)
                                        : -outside_cents(teeth[t], hz));
  }
  if (static_cast<double>(off.size()) < least_share * static_cast<double>(teeth.size())) {
    take.findings.push_back({Level::fault, "",
                             fmt::format("only {} of {} teeth are heard; this does not look like "
                                         "that comb",
                                         off.size(), teeth.size()),
                             "look which comb and box it is, and pluck every tooth in its turn"});
    return;
  }
  const auto middle = off.begin() + static_cast<std::ptrdiff_t>(off.size() / 2);
  std::nth_element(off.begin(), middle, off.end());
  if (std::abs(*middle) > far_cents) {
    take.findings.push_back({Level::warning, "",
                             fmt::format("the comb as a whole stands {:.0f} cents {} of what it "
                                         "should be as cut or in tune",
                                         std::abs(*middle), *middle < 0.0 ? "flat" : "sharp"),
                             "look at the box's a4 and which comb it is"});
  }
}

}  // namespace

Take hear_take(std::span<const double> samples, double rate_hz,
               const std::vector<ExpectedTooth>& expected) {
  Heard heard = hear(samples, rate_hz, {.take = true});
  std::vector<ExpectedTooth> teeth = expected;
  Take take{std::vector<TakenTooth>(expected.size()), false, {}, std::move(heard.findings)};
  const double forwards = align(teeth, heard.plucks).price;
  std::reverse(teeth.begin(), teeth.end());
  take.backwards = align(teeth, heard.plucks).price < forwards;
  if (!take.backwards) std::reverse(teeth.begin(), teeth.end());
  second_hearing(samples, rate_hz, teeth, heard.plucks);
  const Alignment alignment = align(teeth, heard.plucks);
  for (std::size_t t = 0; t < teeth.size(); ++t) {
    if (!alignment.pluck_of[t]) continue;
    HeardPluck pluck = heard.plucks[*alignment.pluck_of[t]];
    const double off = outside_cents(teeth[t], pluck.own[0].frequency_hz);
    if (off > doubtful_cents) {
      pluck.sure = false;
      pluck.findings.push_back(
          {Level::warning, "",
           fmt::format("{:.0f} cents off what this tooth may be, as cut or in tune", off),
           "look whether it was plucked in its turn"});
    }
    take.teeth[take.backwards ? teeth.size() - 1 - t : t].pluck = std::move(pluck);
  }
  if (!heard.plucks.empty()) judge(take, teeth, alignment, heard.plucks);
  for (const std::size_t p : left_over(alignment, heard.plucks.size()))
    take.extra.push_back(std::move(heard.plucks[p]));
  return take;
}

}  // namespace combwright::ear
