// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "app/answers.h"
#include "app/commands.h"
#include "app/console.h"
#include "app/inputs.h"
#include "app/report.h"
#include "disc/plan_json.h"
#include "music/pitch.h"

namespace combwright::app {
namespace {

struct Options {
  std::string box;
  bool json = false;
};

// "disc" of "disc.diameter".
std::string group_of(const box::Setting& setting) {
  return setting.key.substr(0, setting.key.find('.'));
}

// Each group in one piece, in the order in which they begin.
std::vector<box::Setting> by_group(std::vector<box::Setting> settings) {
  std::map<std::string, std::size_t> order;
  for (const box::Setting& setting : settings) order.emplace(group_of(setting), order.size());
  std::stable_sort(settings.begin(), settings.end(),
                   [&](const box::Setting& a, const box::Setting& b) {
                     return order[group_of(a)] < order[group_of(b)];
                   });
  return settings;
}

std::string table(const BoxInput& input) {
  Table keys({"Key", "From", "Value"});
  std::string group;
  for (const box::Setting& setting : by_group(input.settings)) {
    if (group_of(setting) != group) keys.begin_group();
    group = group_of(setting);
    keys.add({setting.key, std::string(box::to_text(setting.source)), setting.value});
  }
  Table tracks({"Track", "Radius", "Note"});
  for (const box::Track& track : box::tracks(input.box)) {
    if (in_a_new_ten(track.number)) tracks.begin_group();
    tracks.add({fmt::format("{}", track.number), fmt::format("{:.2f} mm", track.radius_m * 1e3),
                music::note_name(track.midi)});
  }
  return "\n" + keys.text() + "\n" + tracks.text();
}

int check(const Options& options) {
  const BoxInput input = load_box(options.box);
  if (options.json) {
    print(page_of({{"box", to_json(input.box)}, {"findings", disc::to_json(input.findings)}}));
  } else {
    print(facts({{"Box", input.box.name}}) +
          (input.findings.empty()
               ? "\nNothing to object to. The teeth are judged by combwright comb.\n"
               : findings_text(input.findings)) +
          table(input));
  }
  return status_of(input.findings);
}

}  // namespace

void add_check(CLI::App& program, Run& run) {
  const auto options = std::make_shared<Options>();
  CLI::App& command = add_command(program, "check", "Read a box file and show the box as resolved",
                                  "combwright check examples/larkspur.toml");
  add_box_file(command, options->box).required();
  add_json_flag(command, options->json);
  command.callback([&run, options] { run = [options] { return check(*options); }; });
}

}  // namespace combwright::app
