// SPDX-License-Identifier: Apache-2.0
#include <map>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "app/report.h"
#include "app/scale_answers.h"
#include "box/note_list.h"
#include "music/pitch.h"

namespace combwright::app {
namespace {

std::vector<int> notes_of(const arrange::ScalePlan& plan) {
  std::vector<int> midi;
  for (const arrange::ScaleTooth& tooth : plan.scale) midi.push_back(tooth.midi);
  return midi;
}

std::string share(double ratio) {
  return fmt::format("{:.2f} %", 100.0 * ratio);
}

// "C4 F#5*2" of the notes that `more` has beyond `less`.
std::string beyond(const std::vector<int>& more, const std::vector<int>& less) {
  std::map<int, int> count;
  for (const int midi : more) ++count[midi];
  for (const int midi : less) --count[midi];
  std::string text;
  for (const auto& [midi, times] : count) {
    if (times <= 0) continue;
    if (!text.empty()) text += ' ';
    text += music::note_name(midi);
    if (times > 1) text += fmt::format("*{}", times);
  }
  return text.empty() ? "none" : text;
}

std::string tunes_text(const arrange::ScalePlan& plan) {
  Table rows({"Chosen", "Now", "Possible", "Key", "Notes", "Bars", "Tune"});
  for (const arrange::TuneCoverage& tune : plan.tunes) {
    rows.add({percent(tune.coverage), percent(tune.coverage_now), percent(tune.coverage_bound),
              fmt::format("{:+}", tune.transpose_semitones), fmt::format("{}", tune.notes),
              fmt::format("{}-{}", tune.bars.first, tune.bars.last), tune.name});
  }
  return rows.text();
}

std::string next_text(const arrange::ScalePlan& plan) {
  if (plan.next.empty()) return "No tooth more would buy anything for these tunes.\n\n";
  Table rows({"Note", "Track", "Coverage", "Gain"});
  for (const arrange::NextTooth& tooth : plan.next) {
    rows.add({music::note_name(tooth.midi), fmt::format("{}", tooth.track), share(tooth.coverage),
              fmt::format("{:+.3f} %", 100.0 * tooth.gain)});
  }
  return rows.text() + "What each tooth more would buy, on top of those above it.\n\n";
}

}  // namespace

std::string scale_text(const arrange::ScalePlan& plan, const Findings& findings) {
  const std::vector<int> chosen = notes_of(plan);
  return facts({{"Box", plan.box_name},
                {"Tunes", fmt::format("{}", plan.tunes.size())},
                {"Teeth", fmt::format("{}, one for each track", plan.scale.size())},
                {"Coverage", share(plan.coverage)},
                {"Now", fmt::format("{} with the box's own scale", share(plan.coverage_now))},
                {"Possible",
                 fmt::format("at most {} with any scale of so many teeth; {} in these "
                             "keys",
                             share(plan.coverage_bound), share(plan.coverage_bound_in_keys))},
                {"New teeth", beyond(chosen, plan.scale_now)},
                {"Given up", beyond(plan.scale_now, chosen)}}) +
         findings_text(findings) + "\n" + box::notes_text(chosen) + "\n" + next_text(plan) +
         tunes_text(plan) +
         "Chosen and Now: what the tune keeps of its weight with the chosen scale and with the "
         "box's own.\nPossible: at most, with any scale of so many teeth for this tune alone.\n";
}

std::string scale_title(const std::string& box_name) {
  return "Scale for " + box_name + ",";
}

std::string scale_file(const arrange::ScalePlan& plan) {
  return fmt::format(
             "# {} {} teeth, by combwright from {} tunes.\n"
             "# Coverage {}; with the box's own scale {}.\n"
             "# Put it into the section [scale] in place of the notes there.\n",
             scale_title(plan.box_name), plan.scale.size(), plan.tunes.size(), share(plan.coverage),
             share(plan.coverage_now)) +
         box::notes_text(notes_of(plan));
}

}  // namespace combwright::app
