// SPDX-License-Identifier: Apache-2.0
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "app/answers.h"
#include "app/clip_answers.h"
#include "app/comb_job.h"
#include "app/commands.h"
#include "app/console.h"
#include "app/inputs.h"
#include "app/job_files.h"
#include "app/option_quantity.h"
#include "app/report.h"
#include "base/error.h"
#include "base/file.h"
#include "base/quantity.h"
#include "disc/plan_json.h"
#include "draw/cautions.h"
#include "tuner/reading_reader.h"
#include "tuner/tune.h"

namespace combwright::app {
namespace {

struct Options {
  std::string box;
  std::string shop;
  std::string comb;
  int track = 0;
  std::string readings;
  std::string beside;
  std::string risk;
  bool json = false;
};

std::optional<double> quantity(const char* name, const std::string& text, Dimension dimension,
                               double least, double most, const char* range) {
  const std::optional<double> given = option_quantity(name, text, dimension);
  if (given && !(*given >= least && *given <= most))
    throw Error({}, fmt::format("{} \"{}\" must be {}", name, text, range));
  return given;
}

tuner::Request request_of(const Options& options) {
  tuner::Request request;
  request.pair_hz = quantity("--beside", options.beside, Dimension::frequency, 1.0, 1e5,
                             "a pitch, from 1 Hz to 100000 Hz");
  if (const auto risk = quantity("--risk", options.risk, Dimension::ratio, 1e-5, 0.2,
                                 "a chance from 0.001 % to 20 %"))
    request.risk = *risk;
  return request;
}

// The comb by its name, which a box with one comb can do without.
std::size_t comb_of(const box::Box& box, const std::string& name) {
  std::string names;
  for (std::size_t i = 0; i < box.combs.size(); ++i) {
    if (box.combs[i].name == name || (name.empty() && box.combs.size() == 1)) return i;
    names += (names.empty() ? "\"" : R"(" or ")") + box.combs[i].name;
  }
  if (name.empty()) throw Error({}, fmt::format("--comb is missing; the box has {}\"", names));
  throw Error({}, fmt::format(R"(--comb is "{}"; the box has {}")", name, names));
}

std::size_t tooth_of(const box::Box& box, int track) {
  if (track < 1 || track > box.tracks.count)
    throw Error({}, fmt::format("--track is {}; the box has 1 to {}", track, box.tracks.count));
  return static_cast<std::size_t>(track - 1);
}

// All readings of the tooth, in order.
std::vector<tuner::Reading> readings_of(const Options& options) {
  if (options.readings.empty())
    throw Error({}, "no reading of the tooth is given; name a file of them with --readings FILE");
  const Bytes bytes = read_file(options.readings, tuner::most_readings_bytes);
  return tuner::read_readings(as_text(bytes), options.readings);
}

int show_clip(const Options& options) {
  const tuner::Request request = request_of(options);
  const BoxInput input = load_box(options.box);
  const box::Shop shop = load_shop(options.shop);
  const std::size_t comb = comb_of(input.box, options.comb);
  const std::size_t tooth = tooth_of(input.box, options.track);
  const std::vector<tuner::Reading> readings = readings_of(options);
  const Progress progress("designing the combs");
  const std::vector<steel::CombDesign> designs = designed(input.box, shop);
  const tuner::ToothOf of{input.box, shop, designs, comb, tooth};
  const tuner::Tuning tuning = tuner::tune(of, readings, request);
  const std::vector<std::string> cautions =
      draw::tuning_cautions(input.box, designs[comb].teeth[tooth]);
  if (options.json) {
    Json answer = to_json(of, tuning, readings);
    answer["cautions"] = cautions;
    answer["findings"] = disc::to_json(gravest_first(tuning.findings));
    print(page_of(answer));
  } else {
    print(findings_text(tuning.findings) + clip_text(of, tuning, readings) +
          cautions_text(cautions));
  }
  return status_of(tuning.findings);
}

}  // namespace

void add_clip(CLI::App& program, Run& run) {
  const auto options = std::make_shared<Options>();
  CLI::App& command = add_command(
      program, "clip", "What to clip or file off a tooth next, from its readings so far",
      "combwright clip examples/bramble.toml --track 1 --readings examples/bramble-c4.json");
  add_box_file(command, options->box).required();
  command.add_option("--comb", options->comb, "which comb, as `comb` prints it")->type_name("NAME");
  command.add_option("--track", options->track, "which tooth")->type_name("N")->required();
  command
      .add_option("--readings", options->readings,
                  "the tooth's pitches in order, with what was clipped before each (JSON)")
      ->type_name("FILE");
  command.add_option("--shop", options->shop, "the workshop's own file (TOML)")->type_name("FILE");
  command
      .add_option("--beside", options->beside,
                  "pitch of the pair's other tooth, which this one is to beat with")
      ->type_name("HZ");
  command.add_option("--risk", options->risk, "greatest chance of going sharp (default: 0.5 %)")
      ->type_name("P");
  add_json_flag(command, options->json);
  command.callback([&run, options] { run = [options] { return show_clip(*options); }; });
}

}  // namespace combwright::app
