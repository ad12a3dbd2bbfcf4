// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "app/inputs.h"
#include "app/json.h"
#include "app/sound_input.h"
#include "base/finding.h"
#include "draw/certificate.h"
#include "ear/hear.h"
#include "records/records.h"
#include "tuner/tune.h"
#include "tuner/whose.h"

// A tooth at the bench: what the records know of it, what to do next, and what is heard of it now.
namespace combwright::app {

// Which tooth, and where its readings are kept.
struct BenchTooth {
  const BoxInput& input;
  tuner::ToothOf of;
  const std::string& db;
};

// The comb's teeth as its certificate would have them, read or not.
draw::Certificate bench_comb(const BoxInput& input, std::size_t comb, const box::Shop& shop,
                             const std::string& db);

// Everything of one tooth by the records alone.
struct ToothState {
  draw::Certificate comb;
  std::vector<records::FiledReading> log;  // in the order of filing, those struck too
  std::vector<tuner::Reading> readings;    // those that count
  std::int64_t last = 0;                   // number of the last of them; 0 without any
  std::optional<double> pair_hz;           // of the pair's other tooth at 20 C, once it is in tune
  std::optional<tuner::Tuning> tuning;     // nothing before the first reading
  std::vector<std::string> cautions;
};
ToothState tooth_state(const BenchTooth& tooth);

// The pitch to listen near: of the last reading, else between as cut and in tune.
double near_hz(const BenchTooth& tooth);

// What was done to the tooth before it is heard, and who hears it: texts as on the command line.
struct BenchTexts {
  std::string clipped;
  std::string filed_root;
  std::string filed_tip;
  std::string temperature;
  std::string who;
  std::string remark;
};
std::vector<records::Work> work_of(const BenchTexts& texts);

enum class Verdict { filed, known, doubtful, elsewhere, nothing };

// What a stretch of sound gave. It is filed, and on the disk, if it is sure and of the tooth.
struct BenchHearing {
  Verdict verdict = Verdict::nothing;
  std::optional<ear::HeardPluck> pluck;
  std::vector<int> tracks;  // that it could be of, if it is elsewhere
  std::int64_t number = 0;  // of its reading, if it is filed or known
  Findings findings;
};

// `heard` is what hear() made of the samples near near_hz().
BenchHearing file_heard(const BenchTooth& tooth, const SoundInput& sound, ear::Heard heard,
                        const BenchTexts& texts);

// A recording as a whole, likewise.
BenchHearing file_sound(const BenchTooth& tooth, const SoundInput& sound, const BenchTexts& texts);

Json to_json(const BenchTooth& tooth, const ToothState& state);
Json to_json(const BenchHearing& hearing);

// The comb: every tooth with how far it has come.
Json bench_json(const draw::Certificate& comb);

}  // namespace combwright::app
