// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "app/answers.h"
#include "app/comb_job.h"
#include "app/commands.h"
#include "app/console.h"
#include "app/inputs.h"
#include "app/pitch_answers.h"
#include "app/temperature_option.h"
#include "base/error.h"
#include "base/file.h"
#include "base/quantity.h"
#include "ear/channel.h"
#include "ear/hear.h"
#include "ear/recording_reader.h"
#include "ear/reference.h"
#include "music/pitch.h"
#include "steel/tuning.h"

namespace combwright::app {
namespace {

struct Options {
  std::string recording;
  std::string near;
  bool pair = false;
  std::string box;
  std::string comb;
  std::string shop;
  std::string temperature;
  bool json = false;
};

std::optional<double> near_hz(const std::string& text) {
  if (text.empty()) return {};
  if (const std::optional<int> midi = music::parse_note(text))
    return music::equal_tempered_hz(*midi);
  const ParsedQuantity parsed = parse_quantity(text, Dimension::frequency);
  if (!parsed.ok() || !(parsed.si > 0.0)) {
    throw Error({}, fmt::format("--near \"{}\" is neither a note such as \"F#5\" nor a pitch such "
                                "as \"440 Hz\"",
                                text));
  }
  return parsed.si;
}

Listened listened(const Options& options, const ear::Recording& recording) {
  return {.file = options.recording,
          .format = recording.format,
          .rate_hz = recording.rate_hz,
          .seconds = recording.seconds(),
          .channel = ear::best_channel(recording),
          .channels = recording.channels.size(),
          .temperature_c = temperature_option(options.temperature)};
}

Findings of_file(const ear::Recording& recording) {
  if (!recording.cut_short) return {};
  return {{Level::warning, "", "the file is cut short or damaged; what is there is used",
           "copy it from the recorder again"}};
}

int show_pitch(const Options& options) {
  const std::optional<double> near = near_hz(options.near);
  const ear::Recording recording = ear::read_recording(
      read_file(options.recording, ear::max_recording_bytes), options.recording);
  PitchAnswer answer{.listened = listened(options, recording), .pair = options.pair};
  const Progress progress("listening");
  ear::Heard heard = ear::hear(recording.channels[answer.listened.channel], recording.rate_hz,
                               {near, options.pair});
  for (ear::HeardPluck& pluck : heard.plucks)
    answer.plucks.push_back(
        ear::at_reference(std::move(pluck), steel::cents_per_k(), answer.listened.temperature_c));
  answer.surest = ear::surest(answer.plucks);
  const Findings file = of_file(recording);
  answer.findings = merged({&file, &heard.findings});
  print(options.json ? page_of(to_json(answer)) : pitch_text(answer));
  return status_of(answer.findings);
}

const steel::CombDesign& chosen(const std::vector<steel::CombDesign>& designs,
                                const std::string& name) {
  if (name.empty()) return designs.front();
  const auto found = std::find_if(designs.begin(), designs.end(),
                                  [&](const steel::CombDesign& d) { return d.name == name; });
  if (found == designs.end()) {
    std::string names;
    for (const steel::CombDesign& design : designs)
      names += (names.empty() ? "" : ", ") + design.name;
    throw Error({}, fmt::format("--which \"{}\" is no comb of the box; it has {}", name, names));
  }
  return *found;
}

int show_take(const Options& options) {
  if (options.pair || !options.near.empty())
    throw Error({}, "--comb hears every tooth by itself; leave out --pair and --near");
  const BoxInput input = load_box(options.box);
  const box::Shop shop = load_shop(options.shop);
  const ear::Recording recording = ear::read_recording(
      read_file(options.recording, ear::max_recording_bytes), options.recording);
  const Progress progress("listening");
  const std::vector<steel::CombDesign> designs = designed(input.box, shop);
  TakeAnswer answer{.listened = listened(options, recording), .box = input.box.name};
  answer.design = &chosen(designs, options.comb);
  answer.ranges = steel::pitch_ranges(*answer.design, input.box.scale.temperature_c);
  std::vector<ear::ExpectedTooth> expected;
  for (const steel::PitchRange& range : answer.ranges)
    expected.push_back(
        {std::min(range.as_cut_hz, range.target_hz), std::max(range.as_cut_hz, range.target_hz)});
  answer.take =
      ear::hear_take(recording.channels[answer.listened.channel], recording.rate_hz, expected);
  for (ear::TakenTooth& tooth : answer.take.teeth) {
    if (tooth.pluck)
      tooth.pluck = ear::at_reference(std::move(*tooth.pluck), steel::cents_per_k(),
                                      answer.listened.temperature_c);
  }
  const Findings file = of_file(recording);
  answer.take.findings = merged({&file, &answer.take.findings});
  print(options.json ? page_of(to_json(answer)) : take_text(answer));
  return status_of(answer.take.findings);
}

}  // namespace

void add_pitch(CLI::App& program, Run& run) {
  const auto options = std::make_shared<Options>();
  CLI::App& command =
      add_command(program, "pitch", "Hear the pitch of a plucked tooth, a pair or a whole comb",
                  "combwright pitch examples/pluck.wav --near A4 --temperature \"22.5 C\"");
  command.add_option("recording", options->recording, "recording of the pluck (WAV, FLAC, AIFF)")
      ->type_name("WAV")
      ->required();
  command.add_option("--near", options->near, "the pitch that the tooth should have, roughly")
      ->type_name("NOTE|HZ");
  command.add_flag("--pair", options->pair, "two teeth were plucked at once: hear both");
  command
      .add_option("--comb", options->box,
                  "every tooth of a comb of this box was plucked, in order: one row a tooth")
      ->type_name("BOX");
  CLI::Option* which =
      command.add_option("--which", options->comb, "its comb (default: the first)")
          ->type_name("NAME");
  which->needs("--comb");
  command.add_option("--shop", options->shop, "the workshop's own file (TOML)")->type_name("FILE");
  command
      .add_option("--temperature", options->temperature,
                  "of the comb; pitches are then given as at 20 C")
      ->type_name("C");
  add_json_flag(command, options->json);
  command.callback([&run, options] {
    run = [options] { return options->box.empty() ? show_pitch(*options) : show_take(*options); };
  });
}

}  // namespace combwright::app
