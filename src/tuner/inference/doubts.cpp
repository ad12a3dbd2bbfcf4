// SPDX-License-Identifier: Apache-2.0
#include "tuner/inference/doubts.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

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
// A change of pitch that is less than this share of what was to be expected.
constexpr double hardly = 0.2;
constexpr double least_move_cents = 3.0;

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
    too_much_taken();
    if (has_fault(findings_)) return findings_;
    if (cumulative()) return findings_;
    for (std::size_t i = 1; i < readings_.size(); ++i) change(i);
    if (findings_.empty()) far_from_all();
    if (!has_fault(findings_)) last_disagrees();
    decay();
    partials();
    return findings_;
  }

 private:
  void warn(std::string what, std::string remedy) {
    findings_.push_back({Level::warning, where_, std::move(what), std::move(remedy)});
  }
  void fault(std::string what, std::string remedy) {
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
    fault(
        "the clipped lengths fit the pitches far better as lengths in all than as lengths since "
        "the reading before",
        "give with each reading what was clipped since the one before it");
    return true;
  }

  void wrong_tooth() {
    const TakenOff& since = heard_.front().since;
    const double expected = pitch_cents(tooth_, since);
    // The weight's share of the prior, by a weight heavier by one spread.
    const double by_weight = pitch_cents(tooth_, since, prior_.weight) - expected;
    const double by_steel =
        std::sqrt(prior_.steel_cents * prior_.steel_cents + by_weight * by_weight +
                  2.0 * prior_.correlation * prior_.steel_cents * by_weight);
    const double by_hand = (expected - pitch_cents(tooth_, {})) * hand_spread(prior_.clips);
    const double spread = std::hypot(by_steel, by_hand);
    const double off = heard_.front().cents - expected;
    if (std::abs(off) < far * spread) return;
    std::string what = fmt::format(
        "the first reading is {:.3g} cents {} than such a tooth should be, which is "
        "known to {:.2g} cents (one standard deviation)",
        std::abs(off), off > 0.0 ? "sharper" : "flatter", spread);
    // Of how much nearer another tooth must be to be the likelier by far.
    constexpr double far_nearer = 0.3;
    bool another = false;
    if (const auto* const other = better_tooth()) {
      another = distance_to(*other) < far_nearer * distance_to(tooth_);
      what +=
          fmt::format("; it fits {} ({}), {}", tracks_of(other->midi),
                      music::note_name(other->midi), box::comb_words(of_.designs[of_.comb].name));
    }
    warn(what, "look at the track, and that no neighbour or damper touches the tooth");
    if (another || std::abs(off) > far_beyond * spread) findings_.back().level = Level::fault;
  }

  // From the first reading to a tooth's pitch as cut or in tune.
  double distance_to(const steel::CombTooth& tooth) const {
    const double to_target = music::cents(readings_.front().frequency_hz / tooth.target_hz);
    return std::min(std::abs(to_target), std::abs(to_target + tooth.flat_cents));
  }

  // The tooth of the comb that is nearest to the first reading, if it is nearer than the one named.
  const steel::CombTooth* better_tooth() const {
    const auto& teeth = of_.designs[of_.comb].teeth;
    const auto nearest = std::min_element(
        teeth.begin(), teeth.end(),
        [&](const auto& a, const auto& b) { return distance_to(a) < distance_to(b); });
    return distance_to(*nearest) < distance_to(tooth_) && nearest->midi != tooth_.midi ? &*nearest
                                                                                       : nullptr;
  }

  // "track 8", "track 5 or 6".
  std::string tracks_of(int midi) const {
    std::string tracks;
    for (const steel::CombTooth& tooth : of_.designs[of_.comb].teeth)
      if (tooth.midi == midi)
        tracks += fmt::format("{}{}", tracks.empty() ? "track " : " or ", tooth.track);
    return tracks;
  }

  void too_much_taken() {
    TakenOff told;
    for (const Reading& reading : readings_)
      for (const Work work : works) part(told, work) += part(reading.since, work);
    if (told.clip_m > 0.0 && !tooth_.leaded())
      warn("it has no weight by its design, but some was clipped", "look at comb and track");
    constexpr double measured_wrong = 1.2;
    if (tooth_.leaded()) {
      const double whole = tooth_.as_cut.leads.front().length_m;
      if (told.clip_m > measured_wrong * whole) {
        fault(
            fmt::format("{} were clipped in all, and its weight is {} long as first fitted",
                        to_text(told.clip_m, Dimension::length), to_text(whole, Dimension::length)),
            "look at the lengths: each is to be what was clipped since the reading before");
      }
    }
    for (const Work work : {Work::file_tip, Work::file_root}) {
      if (part(told, work) <= measured_wrong * most(tooth_, work)) continue;
      fault(fmt::format("{} were filed off its {} in all, and {} is the most that can be",
                        to_text(part(told, work), Dimension::length),
                        work == Work::file_tip ? "tip" : "root",
                        to_text(most(tooth_, work), Dimension::length)),
            "look at the depths: each is to be what was filed since the reading before");
    }
  }

  // What one work did to the pitch.
  void change(std::size_t i) {
    const TakenOff& since = heard_[i].since;
    const double error = std::hypot(heard_[i].spread_cents, heard_[i - 1].spread_cents);
    const double moved = heard_[i].cents - heard_[i - 1].cents;
    const std::string nth = fmt::format("reading {}", i + 1);
    if (since.nothing()) {
      // A tooth that cools is sharper by less than this.
      constexpr double least_cents = 0.5;
      constexpr double least_cut_cents = 3.0;
      if (std::abs(moved) > far * error && std::abs(moved) > least_cents) {
        warn(fmt::format("{}: the pitch moved by {:+.2f} cents, and nothing was taken off", nth,
                         moved),
             "was a cut left out? Look for a loose weight, a touching damper, a warm tooth");
        if (std::abs(moved) > least_cut_cents) findings_.back().level = Level::fault;
      }
      return;
    }
    int kinds = 0;
    for (const Work work : works) kinds += part(since, work) > 0.0 ? 1 : 0;
    if (kinds != 1) return;
    for (const Work work : works)
      if (part(since, work) > 0.0) work_did(i, work, nth, moved, error);
  }

  void work_did(std::size_t i, Work work, const std::string& nth, double moved, double error) {
    TakenOff before;
    for (std::size_t j = 0; j < i; ++j)
      for (const Work one : works) part(before, one) += part(heard_[j].since, one);
    TakenOff after = before;
    part(after, work) += part(heard_[i].since, work);
    const double expected = pitch_cents(tooth_, after) - pitch_cents(tooth_, before);
    const double size = std::abs(expected);
    // Along the way that it should go.
    const double along = expected < 0.0 ? -moved : moved;
    const double change_spread = std::hypot(hand_spread(habit(work)), prior_.weight);
    const std::string after_what = fmt::format("after {} that should {} it by about {:.3g} cents",
                                               work == Work::clip ? "a clip" : "filing",
                                               expected < 0.0 ? "lower" : "raise", size);
    if (along < -far * error) {
      fault(fmt::format("{}: the pitch {} by {:.2f} cents {}", nth, moved < 0.0 ? "fell" : "rose",
                        std::abs(moved), after_what),
            "look for a loosened or cracked weight, a touching damper, or a reading of another "
            "tooth; give the readings again without it");
    } else if (along < hardly * size && along < least_move_cents && size > far * error) {
      fault(fmt::format("{}: the pitch hardly moved ({:+.2f} cents) {}", nth, moved, after_what),
            "was it this tooth that was worked on, and by this length? Pluck it again");
    } else if (along > 0.0 &&
               std::abs(along - size) > far * std::hypot(error, change_spread * size) &&
               std::abs(std::log(along / size)) > far * change_spread) {
      const double fitting_m = part(heard_[i].since, work) * along / size;
      warn(
          fmt::format("{}: the pitch moved by {:+.3g} cents {}", nth, moved, after_what),
          fmt::format("look at the length (about {:.2g} mm would fit), and that it is this tooth's",
                      1e3 * fitting_m));
      if (std::abs(std::log(along / size)) > far_beyond * change_spread)
        findings_.back().level = Level::fault;
    }
  }

  const Habit& habit(Work work) const { return work == Work::clip ? prior_.clips : prior_.files; }
  static double hand_spread(const Habit& hand) {
    return std::hypot(hand.scatter, hand.bias_spread);
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

  // The last reading against all that is told of the tooth.
  void last_disagrees() {
    constexpr double least_cents = 3.0;
    const double known = known_.offset_cents().value;
    const double apart = heard_.back().cents - known;
    if (std::abs(apart) < least_cents || std::abs(known_.left().back()) < far) return;
    fault(fmt::format("the last reading lies {:.3g} cents {} than what the readings and lengths "
                      "before it tell",
                      std::abs(apart), apart > 0.0 ? "higher" : "lower"),
          "look at the lengths, and pluck it again");
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
