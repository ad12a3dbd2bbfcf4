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
#include "app/comb_place.h"
#include "app/commands.h"
#include "app/console.h"
#include "app/heard_reading.h"
#include "app/inputs.h"
#include "app/pitch_answers.h"
#include "app/sound_input.h"
#include "base/error.h"
#include "base/quantity.h"
#include "ear/hear.h"
#include "ear/reference.h"
#include "music/pitch.h"
#include "records/database.h"
#include "records/filing.h"
#include "records/planned.h"
#include "steel/tuning.h"

namespace combwright::app {
namespace {

struct Options {
  std::string recording;
  std::string near;
  bool pair = false;
  std::string box;
  std::string which;
  std::string shop;
  std::string temperature;
  std::string db;
  std::string who;
  std::string remark;
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

int show_pitch(const Options& options) {
  if (!options.db.empty())
    throw Error({}, "--db goes with --comb BOX; a single tooth's reading is kept by `clip`");
  const std::optional<double> near = near_hz(options.near);
  const SoundInput sound = load_sound(options.recording, options.temperature);
  PitchAnswer answer{.listened = sound.listened, .pair = options.pair};
  ear::Heard heard = [&] {
    const Progress progress("listening");
    return ear::hear(sound.samples, sound.listened.rate_hz, {near, options.pair});
  }();
  for (ear::HeardPluck& pluck : heard.plucks)
    answer.plucks.push_back(
        ear::at_reference(std::move(pluck), steel::cents_per_k(), answer.listened.temperature_c));
  answer.surest = ear::surest(answer.plucks);
  answer.findings = merged({&sound.findings, &heard.findings});
  print(options.json ? page_of(to_json(answer)) : pitch_text(answer));
  return status_of(answer.findings);
}

// The plucks that are sure, all or none. A tooth's earlier readings stay.
std::size_t file_take(const Options& options, const BoxInput& input, std::size_t comb,
                      const TakeAnswer& answer, Findings& findings) {
  const Reader reader{options.who, now(), options.remark};
  std::vector<records::ToothReading> readings;
  for (std::size_t t = 0; t < answer.take.teeth.size(); ++t) {
    const std::optional<ear::HeardPluck>& pluck = answer.take.teeth[t].pluck;
    if (pluck && pluck->sure)
      readings.push_back({answer.design->teeth[t].track,
                          to_reading(*pluck, answer.listened, "a take of the whole comb", reader),
                          {}});
  }
  if (readings.empty()) return 0;
  records::Database database(options.db, records::Access::begin);
  const auto entered = records::file_readings(
      database, records::planned_comb(input.box, comb, input.sha256), readings);
  const auto news = static_cast<std::size_t>(std::count_if(
      entered.begin(), entered.end(), [](const records::Entered& one) { return !one.known; }));
  if (news < entered.size()) {
    findings.push_back({Level::note, options.recording,
                        fmt::format("{} of its {} readings are in the records already",
                                    entered.size() - news, entered.size()),
                        "they are not filed anew"});
  }
  return news;
}

int show_take(const Options& options) {
  if (options.pair || !options.near.empty())
    throw Error({}, "--comb hears every tooth by itself; leave out --pair and --near");
  const BoxInput input = load_box(options.box);
  const box::Shop shop = load_shop(options.shop);
  const std::size_t comb = options.which.empty() ? 0 : comb_place(input.box, options.which);
  SoundInput sound = load_sound(options.recording, options.temperature);
  TakeAnswer answer{.listened = sound.listened, .box = input.box.name};
  std::vector<steel::CombDesign> designs;
  {
    const Progress progress("listening");
    designs = designed(input.box, shop);
    answer.design = &designs[comb];
    answer.ranges = steel::pitch_ranges(*answer.design, input.box.scale.temperature_c);
    std::vector<ear::ExpectedTooth> expected;
    for (const steel::PitchRange& range : answer.ranges)
      expected.push_back(
          {std::min(range.as_cut_hz, range.target_hz), std::max(range.as_cut_hz, range.target_hz)});
    answer.take = ear::hear_take(sound.samples, sound.listened.rate_hz, expected);
  }
  Findings known;
  if (!options.db.empty() && !has_fault(answer.take.findings))
    answer.filed = file_take(options, input, comb, answer, known);
  for (ear::TakenTooth& tooth : answer.take.teeth)
    if (tooth.pluck)
      tooth.pluck = ear::at_reference(std::move(*tooth.pluck), steel::cents_per_k(),
                                      answer.listened.temperature_c);
  answer.take.findings = merged({&sound.findings, &known, &answer.take.findings});
  print(options.json ? page_of(to_json(answer)) : take_text(answer));
  return status_of(answer.take.findings);
}

}  // namespace

void add_pitch(CLI::App& program, Run& run) {
  const auto options = std::make_shared<Options>();
  CLI::App& command = add_command(
      program, "pitch", "Hear the pitch of a plucked tooth, a pair or a whole comb",
      "combwright pitch examples/recordings/tooth.flac --near A4 --temperature \"22.5 C\"");
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
      command.add_option("--which", options->which, "its comb (default: the first)")
          ->type_name("NAME");
  which->needs("--comb");
  command.add_option("--shop", options->shop, "the workshop's own file (TOML)")
      ->type_name("FILE")
      ->needs("--comb");
  command
      .add_option("--temperature", options->temperature,
                  "of the comb; pitches are then given as at 20 C")
      ->type_name("C");
  command
      .add_option("--db", options->db, "with --comb: file the readings in the workshop's records")
      ->type_name("FILE");
  command.add_option("--who", options->who, "who measures")->type_name("NAME")->needs("--db");
  command.add_option("--remark", options->remark, "to go into the records")
      ->type_name("WORDS")
      ->needs("--db");
  add_json_flag(command, options->json);
  command.callback([&run, options] {
    run = [options] { return options->box.empty() ? show_pitch(*options) : show_take(*options); };
  });
}

}  // namespace combwright::app
