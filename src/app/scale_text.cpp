// SPDX-License-Identifier: Apache-2.0
#include <array>
#include <map>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <fmt/ranges.h>

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

std::map<int, int> counted(const std::vector<int>& midi) {
  std::map<int, int> count;
  for (const int m : midi) ++count[m];
  return count;
}

std::string number_word(int number) {
  static constexpr std::array words = {"none", "one",   "two",   "three", "four", "five",
                                       "six",  "seven", "eight", "nine",  "ten"};
  const auto i = static_cast<std::size_t>(number);
  return i < words.size() ? words[i] : fmt::format("{}", number);
}

std::string listed(const std::vector<std::string>& items) {
  return items.empty() ? "none" : fmt::format("{}", fmt::join(items, ", "));
}

std::string note_times(int midi, int times) {
  return music::note_name(midi) + (times > 1 ? fmt::format("*{}", times) : "");
}

}  // namespace

std::vector<std::string> added_teeth(const arrange::ScalePlan& plan) {
  std::map<int, int> had = counted(plan.scale_now);
  std::vector<std::string> items;
  for (const auto& [midi, count] : counted(notes_of(plan))) {
    const int stood = had[midi];
    if (count <= stood) continue;
    items.push_back(note_times(midi, count - stood) +
                    (stood > 0 ? fmt::format(" (beside {})", number_word(stood)) : ""));
  }
  return items;
}

std::vector<std::string> teeth_given_up(const arrange::ScalePlan& plan) {
  std::map<int, int> kept = counted(notes_of(plan));
  std::vector<std::string> items;
  for (const auto& [midi, count] : counted(plan.scale_now)) {
    const int lost = count - kept[midi];
    if (lost <= 0) continue;
    items.push_back(lost == count ? note_times(midi, lost)
                                  : fmt::format("{} ({} of {})", music::note_name(midi),
                                                number_word(lost), number_word(count)));
  }
  return items;
}

namespace {

std::string tunes_text(const arrange::ScalePlan& plan) {
  Table rows({"Chosen", "Now", "Most possible", "Semitones", "Notes", "Bars", "Tune"});
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
                {"Most possible",
                 fmt::format("at most {} with any scale of so many teeth; {} in these "
                             "keys",
                             share(plan.coverage_bound), share(plan.coverage_bound_in_keys))},
                {"New teeth", listed(added_teeth(plan))},
                {"Given up", listed(teeth_given_up(plan))}}) +
         findings_text(findings) + "\n" + box::notes_text(chosen) + "\n" + next_text(plan) +
         tunes_text(plan) +
         "Chosen and Now: what the tune keeps of its weight with the chosen scale and with the "
         "box's own.\nMost possible: at most, with any scale of so many teeth for this tune "
         "alone.\n";
}

std::string scale_keys(const arrange::ScalePlan& plan) {
  const std::string tracks = plan.scale.size() == plan.scale_now.size()
                                 ? std::string()
                                 : fmt::format("[tracks]\ncount = {}\n\n", plan.scale.size());
  return tracks + "[scale]\n" + box::notes_text(notes_of(plan));
}

// The comma ends the name: a box whose name begins like this one's has another title.
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
