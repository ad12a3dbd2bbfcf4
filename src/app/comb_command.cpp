// SPDX-License-Identifier: Apache-2.0
#include <memory>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "action/action.h"
#include "app/answers.h"
#include "app/comb_answers.h"
#include "app/commands.h"
#include "app/console.h"
#include "app/inputs.h"
#include "app/single_file.h"
#include "draw/comb_drawing.h"
#include "draw/dxf.h"
#include "steel/comb.h"

namespace combwright::app {
namespace {

struct Options {
  std::string box;
  std::string shop;
  std::string dxf;
  bool force = false;
  bool json = false;
};

std::vector<double> lifts_m(const box::Box& box) {
  std::vector<double> lifts;
  for (const action::TrackAction& track : action::action(box, box.motor.turn_time_s))
    lifts.push_back(track.lift_m);
  return lifts;
}

int show_comb(const Options& options) {
  const BoxInput input = load_box(options.box);
  const box::Shop shop = load_shop(options.shop);
  const SingleFile file = {options.dxf, fmt::format("combs of {}", input.box.name), options.force};
  if (!file.path.empty()) check_single(file);
  const std::vector<steel::CombDesign> designs = [&] {
    const Progress progress("designing the comb");
    return steel::design_combs(input.box, shop, lifts_m(input.box));
  }();
  std::vector<const Findings*> stages{&input.findings};
  for (const steel::CombDesign& design : designs) stages.push_back(&design.findings);
  const Findings findings = merged(stages);
  if (!file.path.empty())
    write_single(file, draw::write_dxf(draw::comb_drawing(input.box, designs, file.title)));
  print(options.json ? page_of(to_json(input.box, designs, findings))
                     : comb_text(input.box, designs, findings));
  return status_of(findings);
}

}  // namespace

void add_comb(CLI::App& program, Run& run) {
  const auto options = std::make_shared<Options>();
  CLI::App& command =
      add_command(program, "comb", "Design the whole comb: lengths, thicknesses, leads",
                  "combwright comb examples/larkspur.toml --shop examples/shop.toml");
  add_box_file(command, options->box).required();
  command.add_option("--shop", options->shop, "the workshop's own file (TOML)")->type_name("FILE");
  command.add_option("--dxf", options->dxf, "write the combs at full size as DXF")
      ->type_name("FILE");
  add_force_flag(command, options->force);
  add_json_flag(command, options->json);
  command.callback([&run, options] { run = [options] { return show_comb(*options); }; });
}

}  // namespace combwright::app
