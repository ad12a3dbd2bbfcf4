// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "app/lesson_answers.h"
#include "app/report.h"
#include "base/quantity.h"
#include "music/pitch.h"

namespace combwright::app {
namespace {

// Five significant figures: pitches follow both root yield and modulus, so that what is known of
// them together hangs on more figures than either is known to.
std::string in_file(steel::Unknown unknown, double value) {
  switch (unknown) {
    case steel::Unknown::root_yield:
      return fmt::format("{:.5g} %", 100.0 * value);
    case steel::Unknown::modulus:
      return fmt::format("{:.5g} GPa", value * 1e-9);
    case steel::Unknown::density:
      return fmt::format("{:.5g} kg/m3", value);
  }
  return {};
}

std::string spread_in_file(double spread) {
  return fmt::format("{:.5g} %", 100.0 * spread);
}

std::string correlation_in_file(const std::vector<std::vector<double>>& correlation) {
  std::string list;
  for (std::size_t i = 0; i < correlation.size(); ++i)
    for (std::size_t j = i + 1; j < correlation.size(); ++j)
      list += fmt::format("{}\"{:.8g} %\"", list.empty() ? "" : ", ", 100.0 * correlation[i][j]);
  return list;
}

std::string learnt_text(const box::Box& box, const steel::Lesson& lesson) {
  Table rows({"Key", "Comb", "Before", "Spread", "Learnt", "Spread"});
  for (const steel::LearntValue& learnt : lesson.learnt) {
    rows.add({std::string(steel::key_of(learnt.unknown)),
              learnt.comb ? box.combs[*learnt.comb].name : std::string("all"),
              in_file(learnt.unknown, learnt.before), spread_in_file(learnt.before_spread),
              in_file(learnt.unknown, learnt.value), spread_in_file(learnt.spread)});
  }
  return rows.text();
}

std::string spread_text(const std::vector<steel::CombDesign>& designs,
                        const std::vector<steel::CombDesign>& next) {
  Table rows({"Pitch as cut, known to (95 %)", "Before", "Now"});
  for (std::size_t i = 0; i < designs.size(); ++i) {
    const auto cents = [](const steel::CombDesign& design) {
      return fmt::format("{:.1f} cents", design.cut_spread.within_95_cents());
    };
    rows.add({box::comb_words(designs[i].name), cents(designs[i]), cents(next[i])});
  }
  return rows.text();
}

std::string readings_text(const box::Box& box, const std::vector<steel::CombDesign>& designs,
                          const steel::Lesson& lesson) {
  Table rows({"Comb", "Track", "Note", "Measured Hz", "Expected Hz", "Off", "Left"});
  for (const steel::LearntTooth& tooth : lesson.teeth) {
    const steel::CombTooth& designed = designs[tooth.reading.comb].teeth[tooth.reading.tooth];
    rows.add({box.combs[tooth.reading.comb].name, fmt::format("{}", designed.track),
              music::note_name(designed.midi), fmt::format("{:.2f}", tooth.reading.frequency_hz),
              fmt::format("{:.2f}", tooth.expected_hz), fmt::format("{:+.1f}", tooth.off_cents),
              fmt::format("{:+.1f}", tooth.left_cents)});
  }
  return rows.text();
}

}  // namespace

std::string lesson_text(const box::Box& box, const std::vector<steel::CombDesign>& designs,
                        const std::vector<steel::CombDesign>& next, const steel::Lesson& lesson) {
  return learnt_text(box, lesson) + "\n" + spread_text(designs, next) +
         fmt::format("\nOne tooth strays from the others by {:.1f} cents.\n\n",
                     lesson.scatter_cents) +
         readings_text(box, designs, lesson) +
         "\nOff, Left: cents of the reading from what was expected, and from what the fit "
         "expects.\n"
         "Spread: one standard deviation, of a root yield in the same, of the others as a "
         "share.\n\n"
         "To keep what was learnt, write all of these keys into the box file, each below its own\n"
         "heading and in place of a key of that name. A heading that the file already has must "
         "not\n"
         "stand there twice: add only those that it lacks.\n\n" +
         lesson_keys(box, lesson);
}

std::string lesson_keys(const box::Box& box, const steel::Lesson& lesson) {
  std::string text;
  for (const steel::LearntValue& learnt : lesson.learnt) {
    const std::string_view full = steel::key_of(learnt.unknown);
    const std::size_t dot = full.find('.');
    const std::string_view key = full.substr(dot + 1);
    text += learnt.comb ? fmt::format("[[comb]]  # {}\n", box.combs[*learnt.comb].name)
                        : fmt::format("[{}]\n", full.substr(0, dot));
    text += fmt::format("{} = \"{}\"\n{}_spread = \"{}\"\n\n", key,
                        in_file(learnt.unknown, learnt.value), key, spread_in_file(learnt.spread));
  }
  return text + fmt::format("[learnt]\nscatter = \"{:.5g} cent\"\ncorrelation = [{}]\n",
                            lesson.scatter_cents, correlation_in_file(lesson.correlation));
}

}  // namespace combwright::app
