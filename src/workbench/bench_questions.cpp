// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstdint>
#include <memory>
#include <mutex>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "app/bench_job.h"
#include "app/comb_place.h"
#include "app/temperature_option.h"
#include "base/error.h"
#include "base/file.h"
#include "ear/level.h"
#include "ear/recording_reader.h"
#include "records/database.h"
#include "records/filing.h"
#include "workbench/base64.h"
#include "workbench/listening.h"
#include "workbench/questions.h"

namespace combwright::workbench {
namespace {

using app::Json;

// A box of the folder with its combs as designed.
struct DesignedBox {
  app::BoxInput input;
  box::Shop shop;
  std::vector<steel::CombDesign> designs;
};

// The tooth that a question is about: `box`, `shop`, `comb` and `track`.
struct Chosen {
  std::unique_ptr<const DesignedBox> box;
  app::BenchTooth tooth;
};

// Which files and names the question gives.
struct Choice {
  std::string box;
  std::string shop;
  std::string comb;
  int track = 0;

  std::string key() const { return fmt::format("{}\n{}\n{}\n{}", box, shop, comb, track); }
};

Choice choice_of(const Desk& desk, Question& question) {
  Choice choice;
  choice.box = desk.path_of(question.text("box"));
  if (const std::string shop = question.text("shop"); !shop.empty())
    choice.shop = desk.path_of(shop);
  choice.comb = question.text("comb");
  choice.track = static_cast<int>(question.whole("track", 1, 10'000).value_or(0));
  return choice;
}

Chosen chosen(const Desk& desk, const Choice& choice, const Watch& watch) {
  app::BoxInput input = app::load_box(choice.box);
  box::Shop shop = app::load_shop(choice.shop);
  std::vector<steel::CombDesign> designs = desk.combs_of()(input.box, shop, watch);
  auto box = std::make_unique<const DesignedBox>(
      DesignedBox{std::move(input), std::move(shop), std::move(designs)});
  const int count = box->input.box.tracks.count;
  if (choice.track < 1 || choice.track > count)
    throw Error({}, fmt::format("track is {}; the box has 1 to {}", choice.track, count));
  const std::size_t comb = app::comb_place(box->input.box, choice.comb);
  const DesignedBox& of = *box;
  return {std::move(box),
          {of.input,
           {of.input.box, of.shop, of.designs, comb, static_cast<std::size_t>(choice.track - 1)},
           desk.records()}};
}

app::BenchTexts texts_of(Question& question) {
  app::BenchTexts texts{question.text("clipped"),   question.text("filed_root"),
                        question.text("filed_tip"), question.text("temperature"),
                        question.text("who"),       question.text("remark")};
  // Said before anything is heard, so that no pluck is lost to a slip of the keyboard.
  app::work_of(texts);
  app::temperature_option(texts.temperature);
  return texts;
}

Json tooth_json(const Chosen& at) {
  return app::to_json(at.tooth, app::tooth_state(at.tooth));
}

Reply tooth(const Desk& desk, Question& question) {
  const Choice choice = choice_of(desk, question);
  question.end();
  return json_reply(tooth_json(chosen(desk, choice, question.watch())));
}

Reply bench_comb(const Desk& desk, Question& question) {
  const app::BoxInput input = app::load_box(desk.path_of(question.text("box")));
  const box::Shop shop = shop_of(desk, question);
  std::string name = question.text("comb");
  question.end();
  if (name.empty()) name = input.box.combs.front().name;
  Json json = app::bench_json(
      app::bench_comb(input, app::comb_place(input.box, name), shop, desk.records()));
  json["combs"] = Json::array();
  for (const box::Comb& each : input.box.combs) json["combs"].push_back(each.name);
  json["findings"] = Json::array();
  return json_reply(json);
}

// Samples as they come from the page: 32 bit floating point, least byte first.
std::vector<double> samples_of(const std::string& bytes) {
  constexpr std::size_t size = 4;
  if (bytes.empty() || bytes.size() % size != 0)
    throw Error({}, "samples must be numbers of 32 bits in floating point");
  std::vector<double> samples;
  samples.reserve(bytes.size() / size);
  for (std::size_t i = 0; i < bytes.size(); i += size) {
    std::uint32_t bits = 0;
    for (std::size_t k = 0; k < size; ++k)
      bits |= static_cast<std::uint32_t>(static_cast<unsigned char>(bytes[i + k])) << (8U * k);
    const auto sample = std::bit_cast<float>(bits);
    if (!std::isfinite(sample) || std::abs(sample) > ear::max_sample)
      throw Error({}, fmt::format("sample {} is no number that a microphone gives", i / size));
    samples.push_back(static_cast<double>(sample));
  }
  return samples;
}

// What the records keep of a stretch of live sound.
app::SoundInput live_sound(const ear::PluckSound& pluck, double rate_hz,
                           const std::string& temperature) {
  std::string bytes;
  for (const double sample : pluck.samples) {
    const auto bits = std::bit_cast<std::uint32_t>(static_cast<float>(sample));
    for (unsigned k = 0; k < 4; ++k) bytes.push_back(static_cast<char>(bits >> (8U * k) & 0xFFU));
  }
  return {.listened = {.file = "microphone",
                       .sha256 = sha256(bytes),
                       .format = "32 bit float",
                       .rate_hz = rate_hz,
                       .seconds = static_cast<double>(pluck.samples.size()) / rate_hz,
                       .channel = 0,
                       .channels = 1,
                       .temperature_c = app::temperature_option(temperature)},
          .samples = pluck.samples,
          .findings = {}};
}

const char* word(ear::Loudness loudness) {
  switch (loudness) {
    case ear::Loudness::no_signal:
      return "no_signal";
    case ear::Loudness::quiet:
      return "quiet";
    case ear::Loudness::good:
      return "good";
    case ear::Loudness::high:
      return "high";
    case ear::Loudness::clipped:
      break;
  }
  return "clipped";
}

Json level_json(const std::vector<double>& samples) {
  const ear::SoundLevel level = ear::level_of(samples);
  return {{"peak_dbfs", app::finite_or_null(20.0 * std::log10(level.peak))},
          {"is", word(level.loudness)}};
}

// One part of the sound, all of it at once.
struct Part {
  std::string name;
  std::int64_t number = 0;
  double rate_hz = 0.0;
  std::vector<double> samples;
};

Part part_of(Question& question) {
  constexpr std::size_t longest_name = 64;
  constexpr double longest_s = 2.0;
  Part part;
  part.name = question.text("session");
  part.number = question.whole("part", 0, any_number).value_or(0);
  part.rate_hz = static_cast<double>(question.whole("rate_hz", 0, any_number).value_or(0));
  part.samples = samples_of(from_base64(question.text("samples")));
  if (part.name.empty() || part.name.size() > longest_name)
    throw Error({}, fmt::format("session must be a name of 1 to {} bytes", longest_name));
  if (part.rate_hz < ear::Listener::least_rate_hz || part.rate_hz > ear::Listener::most_rate_hz)
    throw Error({}, fmt::format("rate_hz must be from {:.0f} to {:.0f}",
                                ear::Listener::least_rate_hz, ear::Listener::most_rate_hz));
  if (static_cast<double>(part.samples.size()) > longest_s * part.rate_hz)
    throw Error({}, fmt::format("a part has at most {:.0f} s of sound", longest_s));
  return part;
}

Reply out_of_turn(std::int64_t expected) {
  Json json = problem_json(fmt::format("part {} of the sound was due; begin anew", expected));
  json["expected"] = expected;
  return json_reply(json, 409);
}

Reply answer_part(const Desk& desk, const Choice& choice, const app::BenchTexts& texts,
                  const Part& part, Listening& listening, const Watch& watch) {
  if (listening.tooth != choice.key()) {
    listening.near_hz = app::near_hz(chosen(desk, choice, watch).tooth);
    listening.tooth = choice.key();
  }
  const std::vector<ear::PluckSound> plucks =
      listening.listener.take(part.samples, listening.near_hz);
  Json heard = Json::array();
  Json state = nullptr;
  if (!plucks.empty()) {
    const Chosen at = chosen(desk, choice, watch);
    for (const ear::PluckSound& pluck : plucks) {
      const app::SoundInput sound = live_sound(pluck, listening.rate_hz, texts.temperature);
      // What was done before it belongs to the first that is filed.
      const bool told = std::any_of(heard.begin(), heard.end(),
                                    [](const Json& one) { return one["is"] == "filed"; });
      app::BenchTexts here = texts;
      if (told) here.clipped = here.filed_root = here.filed_tip = "";
      heard.push_back(app::to_json(app::file_heard(at.tooth, sound, pluck.heard, here)));
      heard.back()["listened_s"] = sound.listened.seconds;
    }
    state = tooth_json(at);
    listening.near_hz = app::near_hz(at.tooth);
  }
  return json_reply({{"next_part", listening.next_part + 1},
                     {"level", level_json(part.samples)},
                     {"ringing_s", app::or_null(listening.listener.ringing_s())},
                     {"heard", std::move(heard)},
                     {"tooth", std::move(state)}});
}

Reply listen(const Desk& desk, Question& question) {
  const Choice choice = choice_of(desk, question);
  const app::BenchTexts texts = texts_of(question);
  const Part part = part_of(question);
  question.end();
  const std::shared_ptr<Listening> listening =
      desk.listenings().at(part.name, part.number, part.rate_hz);
  if (!listening) return out_of_turn(0);
  const std::lock_guard lock(listening->mutex);
  if (part.number + 1 == listening->next_part) return listening->last;
  if (part.number != listening->next_part || part.rate_hz != listening->rate_hz)
    return out_of_turn(listening->next_part);
  try {
    listening->last = answer_part(desk, choice, texts, part, *listening, question.watch());
  } catch (...) {
    // Whether it was heard cannot be told a second time.
    desk.listenings().drop(part.name);
    throw;
  }
  ++listening->next_part;
  return listening->last;
}

Reply recording(const Desk& desk, Question& question) {
  const Choice choice = choice_of(desk, question);
  const app::BenchTexts texts = texts_of(question);
  const std::string name = question.text("recording");
  const std::string bytes = from_base64(question.text("bytes"));
  question.end();
  if (name.empty()) throw Error({}, "recording must say what the file is called");
  const app::SoundInput sound =
      app::sound_input(Bytes(bytes.begin(), bytes.end()), name, texts.temperature);
  const Chosen at = chosen(desk, choice, question.watch());
  Json heard = app::to_json(app::file_sound(at.tooth, sound, texts));
  heard["listened_s"] = sound.listened.seconds;
  return json_reply({{"heard", Json::array({std::move(heard)})}, {"tooth", tooth_json(at)}});
}

Reply correct(const Desk& desk, Question& question) {
  const Choice choice = choice_of(desk, question);
  const std::int64_t number = question.whole("reading", 1, any_number).value_or(0);
  const app::BenchTexts texts = texts_of(question);
  question.end();
  const Chosen at = chosen(desk, choice, question.watch());
  if (number != app::tooth_state(at.tooth).last) {
    throw Error(
        {}, fmt::format("reading {} is not the last of its tooth; only that one can be corrected",
                        number));
  }
  records::Database database(desk.records(), records::Access::change);
  const std::int64_t corrected = records::correct_work(
      database, number, app::work_of(texts),
      texts.remark.empty() ? "what was done before it was told wrongly" : texts.remark);
  return json_reply({{"number", corrected}, {"tooth", tooth_json(at)}});
}

}  // namespace

std::span<const NamedAsk> bench_questions() {
  static constexpr std::array questions{
      NamedAsk{"bench/tooth", tooth}, NamedAsk{"bench/comb", bench_comb},
      NamedAsk{"bench/listen", listen, true}, NamedAsk{"bench/file", recording},
      NamedAsk{"bench/correct", correct}};
  return questions;
}

}  // namespace combwright::workbench
