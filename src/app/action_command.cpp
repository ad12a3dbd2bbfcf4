// SPDX-License-Identifier: Apache-2.0
#include <memory>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "action/action.h"
#include "app/answers.h"
#include "app/commands.h"
#include "app/console.h"
#include "app/inputs.h"
#include "app/report.h"
#include "base/quantity.h"
#include "disc/plan_json.h"

namespace combwright::app {
namespace {

struct Options {
  std::string box;
  bool json = false;
};

std::string table(const std::vector<action::TrackAction>& tracks) {
  Table rows({"Track", "Radius", "Lift", "Release arc", "Delay", "Damper lead", "Gap", "Repeat"});
  for (const action::TrackAction& track : tracks) {
    if (in_a_new_ten(track.track)) rows.begin_group();
    rows.add({fmt::format("{}", track.track), fmt::format("{:.2f} mm", track.radius_m * 1e3),
              fmt::format("{:.2f} mm", track.lift_m * 1e3),
              fmt::format("{:.2f} mm", track.release_arc_m * 1e3),
              interval_text(track.release_delay_s, 1), interval_text(track.damper_lead_s),
              fmt::format("{:.2f} mm", track.gap_m * 1e3), interval_text(track.min_interval_s)});
  }
  return "\n" + rows.text() +
         "\nDelay: from first touch to letting go, over the release arc. Damper lead: from its "
         "touch "
         "to\nletting go. Gap: to set between damper and tooth; at 0 it rests on the tooth. "
         "Repeat: "
         "least\ntime to the tooth's next pluck.\n";
}

int show_action(const Options& options) {
  const BoxInput input = load_box(options.box);
  const double turn_time_s = input.box.motor.turn_time_s;
  const std::vector<action::TrackAction> tracks = action::action(input.box, turn_time_s);
  const Findings found = action::findings(input.box, tracks);
  const Findings findings = merged({&input.findings, &found});
  if (options.json) {
    print(page_of({{"box", input.box.name},
                   {"turn_time_s", turn_time_s},
                   {"tracks", to_json(tracks)},
                   {"findings", disc::to_json(findings)}}));
  } else {
    print(facts({{"Box", input.box.name}, {"Turn", to_text(turn_time_s, Dimension::time)}}) +
          findings_text(findings) + table(tracks));
  }
  return status_of(findings);
}

}  // namespace

void add_action(CLI::App& program, Run& run) {
  const auto options = std::make_shared<Options>();
  CLI::App& command =
      add_command(program, "action", "When each track's tooth lets go, and how far it is lifted",
                  "combwright action examples/larkspur.toml");
  add_box_file(command, options->box).required();
  add_json_flag(command, options->json);
  command.callback([&run, options] { run = [options] { return show_action(*options); }; });
}

}  // namespace combwright::app
