// SPDX-License-Identifier: Apache-2.0
#include <string>
#include <utility>

#include <fmt/format.h>

#include "app/clip_answers.h"
#include "app/report.h"
#include "base/quantity.h"
#include "box/box.h"
#include "music/pitch.h"

namespace combwright::app {
namespace {

std::string length(double length_m) {
  // Hundredths of a millimetre for what is clipped, micrometres for what is filed.
  if (length_m >= 1e-4) return fmt::format("{:.2f} mm", 1e3 * length_m);
  return fmt::format("{:.3f} mm", 1e3 * length_m);
}

std::string do_text(const steel::CombTooth& tooth, const tuner::Tuning& tuning, bool doubtful) {
  const tuner::Advice& advice = tuning.advice;
  if (!advice.work) {
    return doubtful || has_fault(tuning.findings) ? "stop: see the fault below"
                                                  : "stop: it is inside the tolerance";
  }
  if (*advice.work == tuner::Work::clip) {
    return fmt::format("clip {} off the tip end of the weight ({})", length(advice.amount_m),
                       to_text(advice.mass_kg, Dimension::mass));
  }
  if (*advice.work == tuner::Work::file_tip && !tooth.leaded()) {
    return fmt::format("file the tip thinner by {}, in a straight line from nothing at the root",
                       length(advice.amount_m));
  }
  return fmt::format(
      "file {} off the thickness from {} to {} from the root, along the tooth; "
      "polish it",
      length(advice.amount_m), to_text(advice.place.from_m, Dimension::length),
      to_text(advice.place.to_m, Dimension::length));
}

std::string cents_text(double cents) {
  return fmt::format("{:+.2f} cents", cents);
}

std::string readings_text(const tuner::Tuning& tuning,
                          const std::vector<tuner::Reading>& readings) {
  Table rows({"Reading", "Hz", "Cents", "Clipped", "Tip filed", "Root filed"});
  const double warm = tuning.measured_hz / readings.back().frequency_hz;
  const auto taken = [](double length_m) {
    return length_m > 0.0 ? length(length_m) : std::string();
  };
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const tuner::Reading& reading = readings[i];
    rows.add({fmt::format("{}", i + 1), fmt::format("{:.3f}", reading.frequency_hz),
              fmt::format("{:+.2f}", music::cents(reading.frequency_hz * warm / tuning.target_hz)),
              taken(reading.since.clip_m), taken(reading.since.file_tip_m),
              taken(reading.since.file_root_m)});
  }
  return rows.text();
}

}  // namespace

std::string clip_text(const tuner::ToothOf& of, const tuner::Tuning& tuning,
                      const std::vector<tuner::Reading>& readings, bool doubtful) {
  const steel::CombDesign& design = of.designs[of.comb];
  const steel::CombTooth& tooth = design.teeth[of.tooth];
  const tuner::Advice& advice = tuning.advice;
  std::vector<std::pair<std::string, std::string>> rows{
      {"Do", do_text(tooth, tuning, doubtful)},
      {"Expected", fmt::format("{}; chance of {} sharp {}", cents_text(advice.expect_cents),
                               advice.work == tuner::Work::file_root ? "staying" : "going",
                               percent(advice.overshoot_probability))},
      {"Tooth", fmt::format("{}, track {} ({})", box::comb_words(design.name), tooth.track,
                            music::note_name(tooth.midi))},
      {"Measured", fmt::format("{:.3f} Hz", tuning.measured_hz)},
      {"Target", fmt::format("{:.3f} Hz", tuning.target_hz)},
      {"Off", fmt::format("{} ({:+.3f} Hz)", cents_text(tuning.offset_cents),
                          tuning.measured_hz - tuning.target_hz)}};
  if (!advice.work) rows.erase(rows.begin() + 1);
  if (tuning.beat_hz) {
    rows.emplace_back("Beat", fmt::format("{:+.2f} Hz with the pair's other tooth; {:+.2f} Hz "
                                          "wanted",
                                          *tuning.beat_hz, *tuning.target_beat_hz));
  }
  if (advice.work && *advice.work != tuner::Work::clip)
    rows.emplace_back("Safety", fmt::format("factor {:.2f} after filing", advice.safety_factor));
  if (tooth.leaded()) {
    rows.emplace_back("Weight", fmt::format("{} left; for its length {:.3f} +- {:.3f} times that "
                                            "of the design",
                                            length(tuning.weight_left_m), tuning.weight.value,
                                            tuning.weight.spread));
    rows.emplace_back("Hand", fmt::format("takes {:.3f} +- {:.3f} times what is told",
                                          tuning.hand.value, tuning.hand.spread));
  }
  return facts(rows) + "\n" + readings_text(tuning, readings);
}

}  // namespace combwright::app
