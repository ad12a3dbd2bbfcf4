// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "app/lesson_answers.h"
#include "app/report.h"
#include "base/quantity.h"
#include "music/pitch.h"

namespace combwright::app {
namespace {

// A value of one of the keys that are learnt as a box file has it.
std::string in_file(const steel::Learnt& learnt, double value) {
  if (learnt.key == "comb.root_yield") return fmt::format("{:.1f} %", 100.0 * value);
  if (learnt.key == "steel.modulus") return fmt::format("{:.2f} GPa", value * 1e-9);
  return fmt::format("{:.0f} kg/m3", value);
}

// The spread in the form that its key asks for: of a root yield as it is, else as a share.
std::string spread_in_file(const steel::Learnt& learnt) {
  const double share =
      learnt.key == "comb.root_yield" ? learnt.spread : learnt.spread / learnt.value;
  return fmt::format("{:.2f} %", 100.0 * share);
}

std::string learnt_text(const box::Box& box, const steel::Lesson& lesson) {
  Table rows({"Key", "Comb", "Before", "+-", "Learnt", "+-"});
  for (const steel::Learnt& learnt : lesson.learnt) {
    rows.add({learnt.key,
              learnt.key == "comb.root_yield" ? box.combs[learnt.comb].name : std::string("all"),
              in_file(learnt, learnt.before), in_file(learnt, learnt.before_spread),
              in_file(learnt, learnt.value), in_file(learnt, learnt.spread)});
  }
  return rows.text();
}

std::string spread_text(const box::Box& box, const steel::Lesson& lesson) {
  Table rows({"Pitch as cut, known to (95 %)", "Before", "Now"});
  for (std::size_t i = 0; i < lesson.after.size(); ++i) {
    const auto cents = [](const steel::CutSpread& spread) {
      return fmt::format("{:.1f} cents", spread.within_95_cents());
    };
    rows.add({box::comb_words(box.combs[i].name), cents(lesson.before[i]), cents(lesson.after[i])});
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
                        const steel::Lesson& lesson) {
  return learnt_text(box, lesson) + "\n" + spread_text(box, lesson) +
         fmt::format("\nOne tooth strays from the others by {:.1f} cents.\n\n",
                     lesson.scatter_cents) +
         readings_text(box, designs, lesson) +
         "\nOff, Left: cents of the reading from what was expected, and from what the fit "
         "expects.\n"
         "+-: one standard deviation. To keep what was learnt, put this into the box file:\n\n" +
         lesson_keys(box, lesson);
}

std::string lesson_keys(const box::Box& box, const steel::Lesson& lesson) {
  std::string text;
  for (const steel::Learnt& learnt : lesson.learnt) {
    const std::size_t dot = learnt.key.find('.');
    const std::string section = learnt.key.substr(0, dot);
    const std::string key = learnt.key.substr(dot + 1);
    text += section == "comb" ? fmt::format("[[comb]]  # {}\n", box.combs[learnt.comb].name)
                              : fmt::format("[{}]\n", section);
    text += fmt::format("{} = \"{}\"\n{}_spread = \"{}\"\n", key, in_file(learnt, learnt.value),
                        key, spread_in_file(learnt));
  }
  return text;
}

}  // namespace combwright::app
