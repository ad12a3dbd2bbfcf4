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
#include "app/comb_place.h"
#include "app/commands.h"
#include "app/console.h"
#include "app/inputs.h"
#include "app/job_files.h"
#include "app/option_quantity.h"
#include "app/report.h"
#include "app/tooth_readings.h"
#include "base/error.h"
#include "base/file.h"
#include "base/quantity.h"
#include "disc/plan_json.h"
#include "draw/cautions.h"
#include "tuner/tune.h"

namespace combwright::app {
namespace {

struct Options {
  std::string box;
  std::string shop;
  std::string comb;
  int track = 0;
  ReadingSources sources;
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

std::size_t tooth_of(const box::Box& box, int track) {
  if (track < 1 || track > box.tracks.count)
    throw Error({}, fmt::format("--track is {}; the box has 1 to {}", track, box.tracks.count));
  return static_cast<std::size_t>(track - 1);
}

std::string filed_text(const ToothReadings& read) {
  std::string numbers;
  for (const std::int64_t number : read.filed)
    numbers += fmt::format("{}{}", numbers.empty() ? "" : ", ", number);
  return numbers.empty() ? "" : fmt::format("\nFiled as reading {}.\n", numbers);
}

// How to take back what was filed, where it may be of another tooth.
Findings filed_findings(const ToothReadings& read, const tuner::Tuning& tuning,
                        const std::string& db) {
  Findings findings;
  if (!has_fault(tuning.findings)) return findings;
  for (const std::int64_t number : read.filed) {
    findings.push_back(
        {Level::note, db, fmt::format("what was heard now is in the records as reading {}", number),
         fmt::format("if it was another tooth: combwright log strike {} --db \"{}\" --work-too "
                     "--remark \"another tooth\"",
                     number, db)});
  }
  return findings;
}

int show_clip(const Options& options) {
  tuner::Request request = request_of(options);
  const BoxInput input = load_box(options.box);
  const box::Shop shop = load_shop(options.shop);
  const std::size_t comb = comb_place(input.box, options.comb);
  const std::size_t tooth = tooth_of(input.box, options.track);
  const std::vector<steel::CombDesign> designs = [&] {
    Progress progress;
    return designed(input.box, shop, progress.watch());
  }();
  const ToothReadings read = tooth_readings(options.sources, input, designs[comb], comb, tooth);
  request.doubtful = read.doubtful;
  const tuner::ToothOf of{input.box, shop, designs, comb, tooth};
  const tuner::Tuning tuning = tuner::tune(of, read.readings, request);
  const Findings filed = filed_findings(read, tuning, options.sources.db);
  const Findings findings = gravest_first(merged({&read.findings, &tuning.findings, &filed}));
  const std::vector<std::string> cautions =
      draw::tuning_cautions(input.box, designs[comb].teeth[tooth]);
  if (options.json) {
    Json answer = to_json(of, tuning, read.readings);
    answer["filed"] = read.filed;
    answer["cautions"] = cautions;
    answer["findings"] = disc::to_json(findings);
    print(page_of(answer));
  } else {
    print(clip_text(of, tuning, read.readings, read.doubtful) + filed_text(read) + "\n" +
          findings_text(findings) + cautions_text(cautions));
  }
  return status_of(findings);
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
  ReadingSources& sources = options->sources;
  command
      .add_option("recordings", sources.recordings,
                  "recordings of its pluck, in order (WAV, FLAC, AIFF)")
      ->type_name("WAV");
  const auto add = [&command](const char* name, auto& value, const char* help, const char* type) {
    return command.add_option(name, value, help)->type_name(type);
  };
  add("--clipped", sources.clipped,
      "length clipped off the weight before a recording; one for each, or one between each two",
      "L")
      ->allow_extra_args(false);
  add("--filed-root", sources.filed_root, "thickness filed off the root before the first recording",
      "L");
  add("--filed-tip", sources.filed_tip, "the same at the tip", "L");
  add("--temperature", sources.temperature, "of the tooth in the recordings", "C");
  add("--db", sources.db, "the workshop's records: earlier readings, and where new ones go",
      "FILE");
  add("--who", sources.who, "who measures", "NAME");
  add("--remark", sources.remark, "to go into the records", "WORDS");
  command
      .add_option("--readings", sources.file,
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
