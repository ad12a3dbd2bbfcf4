// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "app/action_answers.h"
#include "app/answers.h"
#include "app/comb_job.h"
#include "app/commands.h"
#include "app/console.h"
#include "app/inputs.h"
#include "app/job_files.h"
#include "app/option_quantity.h"
#include "app/single_file.h"
#include "base/error.h"
#include "draw/action_svg.h"
#include "draw/cautions.h"

namespace combwright::app {
namespace {

struct Options {
  std::string box;
  std::string shop;
  int track = 0;
  std::string at;
  std::string svg;
  std::string plot;
  bool tolerances = false;
  action::TrialOptions trials;
  bool force = false;
  bool json = false;
};

// The track that is drawn, and where the disc stands on it.
void check_drawing(const Options& options, const box::Box& box) {
  const bool drawn = !options.svg.empty() || !options.plot.empty();
  if (options.track == 0) {
    if (drawn) throw Error({}, "--svg and --plot draw one track; say which with --track");
    if (!options.at.empty())
      throw Error({}, "--at says where a drawing stands; add --track and --svg");
    return;
  }
  if (!drawn)
    throw Error({}, "--track chooses what --svg or --plot draws; name a file with one of them");
  if (!options.at.empty() && options.svg.empty())
    throw Error({}, "--at says where the drawing of --svg stands; name its file");
  if (options.track < 1 || options.track > box.tracks.count) {
    throw Error({}, fmt::format("--track is {}; the box has tracks 1 to {}", options.track,
                                box.tracks.count));
  }
}

SingleFile drawing_file(const std::string& path, const box::Box& box, bool force) {
  return {path, draw::action_title(box), force};
}

int show_action(const Options& options) {
  const BoxInput input = load_box(options.box);
  const box::Shop shop = load_shop(options.shop);
  check_drawing(options, input.box);
  const std::optional<double> at = option_quantity("--at", options.at, Dimension::length);
  for (const std::string& path : {options.svg, options.plot})
    if (!path.empty()) check_single(drawing_file(path, input.box, options.force));
  std::vector<steel::CombDesign> designs;
  const ActionJob job = [&] {
    Progress progress;
    designs = designed(input.box, shop, progress.watch());
    return action_job(input, shop, designs,
                      options.tolerances ? std::optional(options.trials) : std::nullopt,
                      progress.watch());
  }();
  if (options.track > 0) {
    const draw::ActionScene scene{input.box, designs, options.track};
    if (!options.svg.empty())
      write_single(drawing_file(options.svg, input.box, options.force),
                   draw::write_action_svg(scene, at));
    if (!options.plot.empty())
      write_single(drawing_file(options.plot, input.box, options.force),
                   draw::write_lift_svg(scene));
  }
  if (options.json) {
    Json answer = to_json(input.box, shop, job);
    answer["cautions"] = draw::setting_cautions();
    print(page_of(answer));
  } else {
    print(action_text(input.box, shop, job) + cautions_text(draw::setting_cautions()));
  }
  return status_of(job.findings);
}

}  // namespace

void add_action(CLI::App& program, Run& run) {
  const auto options = std::make_shared<Options>();
  CLI::App& command = add_command(
      program, "action", "Star wheels and dampers: when teeth let go, with what force, how surely",
      "combwright action examples/larkspur.toml --shop examples/shop.toml");
  add_box_file(command, options->box).required();
  command.add_option("--shop", options->shop, "the workshop's own file (TOML)")->type_name("FILE");
  command.add_option("--track", options->track, "the track to draw")->type_name("N");
  command
      .add_option("--at", options->at,
                  "travel of the disc since first touch to draw it at; else where it lets go")
      ->type_name("LENGTH");
  command.add_option("--svg", options->svg, "write a drawing of the track as SVG")
      ->type_name("FILE");
  command.add_option("--plot", options->plot, "write its lift and force over the travel as SVG")
      ->type_name("FILE");
  command.add_flag("--tolerances", options->tolerances,
                   "what the workshop's tolerances do to loudness and timing");
  command.add_option("--boxes", options->trials.boxes, "boxes to draw at random for that")
      ->type_name("N")
      ->check(CLI::Range(100, 1'000'000));
  command.add_option("--seed", options->trials.seed, "of the random numbers")->type_name("N");
  add_force_flag(command, options->force);
  add_json_flag(command, options->json);
  command.callback([&run, options] { run = [options] { return show_action(*options); }; });
}

}  // namespace combwright::app
