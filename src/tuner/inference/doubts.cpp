// SPDX-License-Identifier: Apache-2.0
#include "tuner/inference/doubts.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "base/quantity.h"
#include "music/pitch.h"
#include "steel/modes.h"
#include "steel/pitch_spread.h"
#include "tuner/worked.h"

namespace combwright::tuner {
namespace {

// In spreads: beyond this a value does not belong (one in 16,000 normal values is 4 spreads off).
constexpr double far = 4.0;
// Beyond this nothing is taken off the tooth.
constexpr double far_beyond = 8.0;
// A steel tooth swings hundreds of times while it decays (common practice, no source). One that
// swings less often than this in the time it takes to fall to 1 / e is held by something.
constexpr double fewest_swings = 50.0;
// A decay that has shortened to less than this share of the longest heard of the same tooth.
constexpr double shortened = 0.3;
// A higher mode is where the beam has it within this: a weight hangs lower and is softer than the
// model's, which moves the second mode by up to 70 cents against a solid (docs/validation.md).
constexpr double partial_cents = 200.0;
// What no warmth explains: a tooth 15 K warmer or colder than before.
constexpr double beyond_warmth_cents = 3.0;
// A change of pitch that is less than this share of what was to be expected.
constexpr double hardly = 0.2;

class Doubter {
 public:
  Doubter(const ToothOf& of, const Prior& prior, const std::vector<Reading>& readings,
          const std::vector<Posterior::Heard>& heard, const Posterior& known,
          const std::string& where)
      : of_(of),
        tooth_(of.designs[of.comb].teeth[of.tooth]),
        prior_(prior),
        readings_(readings),
        heard_(heard),
        known_(known),
        where_(where) {}

  Findings found() {
    wrong_tooth();
    too_much_clipped();
    if (has_fault(findings_) || cumulative()) return findings_;
    for (std::size_t i = 1; i < readings_.size(); ++i) change(i);
    if (findings_.empty()) far_from_all();
    decay();
    partials();
    return findings_;
  }

 private:
  void warn(std::string what, std::string remedy) {
    findings_.push_back({Level::warning, where_, std::move(what), std::move(remedy)});
  }

  // Nothing is taken off before it is cleared.
  void stop(std::string what, std::string remedy) {
    findings_.push_back({Level::fault, where_, std::move(what), std::move(remedy)});
  }

  // Lengths that grow from reading to reading and fit far better as lengths in all.
  bool cumulative() {
    std::vector<Posterior::Heard> since = heard_;
    double before = 0.0;
    int clips = 0;
    for (std::size_t i = 0; i < heard_.size(); ++i) {
      const double told = heard_[i].since.clip_m;
      if (told < before) return false;
      since[i].since.clip_m = told - before;
      clips += told > before ? 1 : 0;
      before = told;
    }
    if (clips < 2) return false;
    constexpr double far_better = 12.0;  // the logarithm of the odds is half of it
    const Posterior other(tooth_, prior_, since);
    if (!(other.misfit() + far_better < known_.misfit())) return false;
    stop(
        "the clipped lengths fit the pitches far better as lengths in all than as lengths since "
        "the reading before",
        "give with each reading what was clipped since the one before it");
    return true;
  }

  void wrong_tooth() {
    const double expected = pitch_cents(tooth_, heard_.front().since);
    // The weight's share of the prior, by a weight heavier by one spread.
    const double by_weight = pitch_cents(tooth_, heard_.front().since, prior_.weight) - expected;
    const double by_design =
        std::sqrt(prior_.steel_cents * prior_.steel_cents + by_weight * by_weight +
                  2.0 * prior_.correlation * prior_.steel_cents * by_weight);
    const double spread = std::hypot(by_design, by_hand());
    const double off = heard_.front().cents - expected;
    if (std::abs(off) < far * spread) return;
    std::string what = fmt::format(
        "the first reading is {:.3g} cents {} than such a tooth should be, which is "
        "known to {:.2g} cents (one standard deviation)",
        std::abs(off), off > 0.0 ? "sharper" : "flatter", spread);
    const steel::CombTooth* const other = better_tooth();
    if (other) {
      what +=
          fmt::format("; it fits track {} ({}), {}", other->track, music::note_name(other->midi),
                      box::comb_words(of_.designs[of_.comb].name));
    }
    warn(what, "look at the track, and that no neighbour or damper touches the tooth");
    const bool another = other && distance(*other) < by_design;
    if (another || std::abs(off) > far_beyond * spread) findings_.back().level = Level::fault;
  }

  // What was taken off before the first reading is known as well as the hand keeps to what is told.
  double by_hand() const {
    const TakenOff& since = heard_.front().since;
    const auto share = [&](Work work, const Habit& hand) {
      TakenOff without = since;
      part(without, work) = 0.0;
      return (pitch_cents(tooth_, since) - pitch_cents(tooth_, without)) *
             std::hypot(hand.scatter, hand.bias_spread);
    };
    return std::hypot(share(Work::clip, prior_.clips), share(Work::file_tip, prior_.files),
                      share(Work::file_root, prior_.files));
  }

  // From the tooth's pitch as cut or in tune to the first reading, whichever is nearer.
  double distance(const steel::CombTooth& tooth) const {
    const double to_target = music::cents(readings_.front().frequency_hz / tooth.target_hz);
    return std::min(std::abs(to_target), std::abs(to_target + tooth.flat_cents));
  }

  // The tooth of the comb whose pitch as cut or in tune is nearest to the first reading, if it is
  // nearer than the one named.
  const steel::CombTooth* better_tooth() const {
    const auto& teeth = of_.designs[of_.comb].teeth;
    const auto nearest =
        std::min_element(teeth.begin(), teeth.end(),
                         [&](const auto& a, const auto& b) { return distance(a) < distance(b); });
    return distance(*nearest) < distance(tooth_) && nearest->midi != tooth_.midi ? &*nearest
                                                                                 : nullptr;
  }

  void too_much_clipped() {
    double told = 0.0;
    for (const Reading& reading : readings_) told += reading.since.clip_m;
    if (told == 0.0) return;
    if (!tooth_.leaded()) {
      warn("it has no weight by its design, but some was clipped", "look at comb and track");
      return;
    }
    const double whole = tooth_.as_cut.leads.front().length_m;
    if (told <= 1.2 * whole) return;
    warn(fmt::format("{} were clipped in all, and its weight is {} long as first fitted",
                     to_text(told, Dimension::length), to_text(whole, Dimension::length)),
         "look at the lengths: each is what was clipped since the reading before");
    findings_.back().level = Level::fault;
  }

  // What one work did to the pitch.
  void change(std::size_t i) {
    const TakenOff& since = heard_[i].since;
    const double error = std::hypot(heard_[i].spread_cents, heard_[i - 1].spread_cents);
    const double moved = heard_[i].cents - heard_[i - 1].cents;
    const std::string nth = fmt::format("reading {}", i + 1);
    if (since.nothing()) {
      if (std::abs(moved) > far * error && std::abs(moved) > 0.5) {
        warn(fmt::format("{}: the pitch moved by {:+.2f} cents, and nothing was taken off", nth,
                         moved),
             "was a cut left out? Look for a loose weight, a touching damper, a warm tooth");
        if (std::abs(moved) > beyond_warmth_cents) findings_.back().level = Level::fault;
      }
      return;
    }
    if (since.clip_m > 0.0 && since.file_tip_m == 0.0 && since.file_root_m == 0.0)
      clip_did(i, nth, moved, error);
  }

  void clip_did(std::size_t i, const std::string& nth, double moved, double error) {
    TakenOff before;
    for (std::size_t j = 0; j < i; ++j) {
      before.clip_m += heard_[j].since.clip_m;
      before.file_tip_m += heard_[j].since.file_tip_m;
      before.file_root_m += heard_[j].since.file_root_m;
    }
    TakenOff after = before;
    after.clip_m += heard_[i].since.clip_m;
    const double expected = pitch_cents(tooth_, after) - pitch_cents(tooth_, before);
    const double told = heard_[i].since.clip_m;
    const std::string likely = fmt::format("{:.2f} mm", 1e3 * clip_for(before, moved));
    if (moved < -far * error) {
      stop(fmt::format("{}: the pitch fell by {:.2f} cents after a clip that should raise it by "
                       "about {:.3g}",
                       nth, -moved, expected),
           "look for a loosened or cracked weight, a touching damper, or a reading of another "
           "tooth");
    } else if (moved < hardly * expected && expected > far * error) {
      stop(fmt::format("{}: the pitch hardly moved ({:+.2f} cents) after a clip that should raise "
                       "it by about {:.3g}",
                       nth, moved, expected),
           fmt::format("was it this tooth that was clipped, and by {}? {} would do that",
                       to_text(told, Dimension::length), likely));
    } else if (std::abs(moved - expected) > far * std::hypot(error, change_spread() * expected) &&
               !(std::abs(std::log(moved / expected)) <= far * change_spread())) {
      warn(fmt::format("{}: the pitch rose by {:.3g} cents after a clip that should raise it by "
                       "about {:.3g}",
                       nth, moved, expected),
           fmt::format("look at the length of {}, and that it is this tooth's; {} would do that",
                       to_text(told, Dimension::length), likely));
      if (!(std::abs(std::log(moved / expected)) <= far_beyond * change_spread()))
        findings_.back().level = Level::fault;
    }
  }

  // The clip that moves the pitch so far, by the design.
  double clip_for(const TakenOff& before, double moved) const {
    double low = 0.0;
    double high = std::max(0.0, most(tooth_, Work::clip) - before.clip_m);
    const double from = pitch_cents(tooth_, before);
    constexpr int halvings = 20;
    for (int i = 0; i < halvings; ++i) {
      TakenOff after = before;
      const double middle = 0.5 * (low + high);
      after.clip_m += middle;
      (pitch_cents(tooth_, after) - from < moved ? low : high) = middle;
    }
    return 0.5 * (low + high);
  }

  double change_spread() const {
    return std::sqrt(prior_.clips.scatter * prior_.clips.scatter +
                     prior_.clips.bias_spread * prior_.clips.bias_spread +
                     prior_.weight * prior_.weight);
  }

  // Nothing of its own is wrong, but all together is unlikely.
  void far_from_all() {
    const std::vector<double> errors = known_.cut_errors();
    const auto most = std::max_element(
        errors.begin(), errors.end(), [](double a, double b) { return std::abs(a) < std::abs(b); });
    if (most != errors.end() && std::abs(*most) > far) {
      warn(fmt::format("one cut came out {:.2g} of its spreads off what was told", *most),
           "look at the lengths, or tell the workshop's own scatter (hand.clip_scatter of the "
           "shop)");
    }
  }

  void decay() {
    double longest = 0.0;
    for (const Reading& reading : readings_)
      if (reading.decay_s) longest = std::max(longest, *reading.decay_s);
    const Reading& last = readings_.back();
    if (!last.decay_s) return;
    const double swings = *last.decay_s * last.frequency_hz;
    if (swings < fewest_swings) {
      warn(fmt::format("it decays in {} to 1 / e, {:.0f} swings; a sound tooth swings at least "
                       "{:.0f} times",
                       interval_text(*last.decay_s), swings, fewest_swings),
           "look for a cracked tooth, a loose weight or screw, and lift the damper off");
    } else if (*last.decay_s < shortened * longest) {
      warn(fmt::format("it decays in {}, and did in {} before", interval_text(*last.decay_s),
                       interval_text(longest)),
           "look whether its weight came loose or a damper touches");
    }
  }

  void partials() {
    const std::vector<double>& partials = readings_.back().partials_hz;
    if (partials.empty()) return;
    // All modes go with the steel's stiffness as the first does.
    const std::vector<steel::Mode> modes =
        steel::modes(worked(tooth_, known_.off(), known_.log_weight().value), 6);
    const double scale = readings_.back().frequency_hz / modes.front().frequency_hz;
    const double highest = scale * modes.back().frequency_hz;
    std::string strange;
    bool any = false;
    for (const double partial : partials) {
      if (partial > highest * std::exp2(partial_cents / 1200.0)) continue;
      double nearest = 1e9;
      for (const steel::Mode& mode : modes)
        nearest = std::min(nearest, std::abs(music::cents(partial / (scale * mode.frequency_hz))));
      if (nearest <= partial_cents)
        any = true;
      else
        strange += fmt::format("{}{:.5g} Hz", strange.empty() ? "" : ", ", partial);
    }
    if (strange.empty() || any) return;
    warn(fmt::format("none of its higher partials is near a mode of such a tooth; heard {}, "
                     "expected {:.5g} Hz for the second mode",
                     strange, scale * modes[1].frequency_hz),
         "look at the track, and whether a damper, the weight of a neighbour or a burr touches");
  }

  const ToothOf& of_;
  const steel::CombTooth& tooth_;
  const Prior& prior_;
  const std::vector<Reading>& readings_;
  const std::vector<Posterior::Heard>& heard_;
  const Posterior& known_;
  const std::string& where_;
  Findings findings_;
};

}  // namespace

Findings doubts(const ToothOf& tooth, const Prior& prior, const std::vector<Reading>& readings,
                const std::vector<Posterior::Heard>& heard, const Posterior& known,
                const std::string& where) {
  return Doubter(tooth, prior, readings, heard, known, where).found();
}

}  // namespace combwright::tuner
