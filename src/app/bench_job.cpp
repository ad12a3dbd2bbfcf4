// SPDX-License-Identifier: Apache-2.0
#include "app/bench_job.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "app/heard_reading.h"
#include "app/work_option.h"
#include "base/file.h"
#include "base/reference.h"
#include "draw/cautions.h"
#include "records/database.h"
#include "records/filing.h"
#include "records/listing.h"
#include "records/offset.h"
#include "records/planned.h"
#include "records/standing.h"
#include "steel/pitch_range.h"

namespace combwright::app {
namespace {

using records::Access;
using records::Database;

std::optional<Database> records_if_any(const std::string& db) {
  if (!is_there(db)) return std::nullopt;
  return Database(db, Access::look);
}

std::optional<records::FiledComb> filed_comb(const std::optional<Database>& database,
                                             const BoxInput& input, std::size_t comb) {
  if (!database) return std::nullopt;
  return records::find_comb(*database, input.box.name, input.box.combs[comb].name);
}

draw::Certificate certificate(const BoxInput& input, std::size_t comb, const box::Shop& shop,
                              std::optional<records::FiledComb> filed) {
  if (!filed) {
    filed.emplace();
    filed->plan = records::planned_comb(input.box, comb, input.sha256);
  }
  return draw::certificate(input.box, comb, *filed, shop);
}

int track_of(const BenchTooth& tooth) {
  return tooth.of.designs[tooth.of.comb].teeth[tooth.of.tooth].track;
}

// The last reading of the same track of the box's other comb, if it is in tune.
std::optional<double> pair_hz(const BenchTooth& tooth, const std::optional<Database>& database) {
  if (tooth.of.designs.size() != 2) return std::nullopt;
  const std::size_t other = 1 - tooth.of.comb;
  const std::optional<records::FiledComb> filed = filed_comb(database, tooth.input, other);
  if (!filed) return std::nullopt;
  const draw::Certificate comb = certificate(tooth.input, other, tooth.of.shop, filed);
  const auto summary = std::find_if(
      comb.teeth.begin(), comb.teeth.end(),
      [&](const records::ToothSummary& one) { return one.tooth.track == track_of(tooth); });
  if (summary == comb.teeth.end() ||
      standing(*summary, comb.tolerance_cents) != records::Standing::in_tune)
    return std::nullopt;
  std::optional<double> last_hz;
  for (const records::FiledReading& reading : filed->readings)
    if (reading.tooth.track == track_of(tooth))
      last_hz = records::frequency_hz_at(reading.reading, reference_c);
  return last_hz;
}

std::vector<records::FiledReading> history(const BenchTooth& tooth,
                                           const std::optional<Database>& database) {
  if (!database) return {};
  return records::tooth_history(*database, tooth.input.box.name,
                                tooth.of.designs[tooth.of.comb].name, track_of(tooth));
}

std::optional<double> last_hz(const std::vector<records::FiledReading>& history) {
  if (history.empty()) return std::nullopt;
  return records::frequency_hz_at(history.back().reading, reference_c);
}

std::optional<double> last_hz(const BenchTooth& tooth) {
  return last_hz(history(tooth, records_if_any(tooth.db)));
}

// Where the tooth should sound: as it did last, or between as cut and in tune.
double near_hz(const BenchTooth& tooth, std::optional<double> last) {
  if (last) return *last;
  const steel::PitchRange range = steel::pitch_ranges(
      tooth.of.designs[tooth.of.comb], tooth.of.box.scale.temperature_c)[tooth.of.tooth];
  return std::sqrt(range.as_cut_hz * range.target_hz);
}

}  // namespace

draw::Certificate bench_comb(const BoxInput& input, std::size_t comb, const box::Shop& shop,
                             const std::string& db) {
  return certificate(input, comb, shop, filed_comb(records_if_any(db), input, comb));
}

ToothState tooth_state(const BenchTooth& tooth) {
  const tuner::ToothOf& of = tooth.of;
  const std::optional<Database> database = records_if_any(tooth.db);
  const std::optional<records::FiledComb> filed = filed_comb(database, tooth.input, of.comb);
  ToothState state{.comb = certificate(tooth.input, of.comb, of.shop, filed),
                   .log = {},
                   .readings = {},
                   .last = 0,
                   .pair_hz = pair_hz(tooth, database),
                   .tuning = {},
                   .cautions = draw::tuning_cautions(of.box, of.designs[of.comb].teeth[of.tooth])};
  if (filed) {
    records::Filter filter;
    filter.comb_number = filed->number;
    filter.track = track_of(tooth);
    state.log = records::list_readings(*database, filter);
  }
  for (const records::FiledReading& one : history(tooth, database)) {
    state.readings.push_back(to_tuner(one.reading, one.work));
    state.last = one.number;
  }
  if (!state.readings.empty()) {
    tuner::Request request;
    request.pair_hz = state.pair_hz;
    state.tuning = tuner::tune(of, state.readings, request);
  }
  return state;
}

double near_hz(const BenchTooth& tooth) {
  return near_hz(tooth, last_hz(tooth));
}

std::vector<records::Work> work_of(const BenchTexts& texts) {
  std::vector<records::Work> work;
  add_work(work, "clipped", texts.clipped, records::WorkKind::clip);
  add_work(work, "filed_root", texts.filed_root, records::WorkKind::file_root);
  add_work(work, "filed_tip", texts.filed_tip, records::WorkKind::file_tip);
  return work;
}

BenchHearing file_heard(const BenchTooth& tooth, const SoundInput& sound, ear::Heard heard,
                        const BenchTexts& texts) {
  const std::vector<records::Work> work = work_of(texts);
  const std::optional<double> last = last_hz(tooth);
  std::string settings = fmt::format("near {:.1f} Hz", near_hz(tooth, last));
  if (heard.plucks.empty()) {
    // Another tooth than the one that was listened for.
    heard = ear::hear(sound.samples, sound.listened.rate_hz, {});
    settings.clear();
  }
  BenchHearing hearing;
  hearing.findings = merged({&sound.findings, &heard.findings});
  const std::optional<std::size_t> best = ear::surest(heard.plucks);
  if (!best) return hearing;
  const ear::HeardPluck& pluck = hearing.pluck.emplace(heard.plucks[*best]);
  hearing.findings = merged({&hearing.findings, &pluck.findings});
  const records::Reading reading =
      to_reading(pluck, sound.listened, settings, {texts.who, now(), texts.remark});
  tuner::Whose whose =
      tuner::whose(tooth.of.designs[tooth.of.comb], tooth.of.box.scale.temperature_c,
                   tooth.of.tooth, last, records::frequency_hz_at(reading, reference_c));
  hearing.verdict = Verdict::elsewhere;
  hearing.tracks = std::move(whose.tracks);
  if (!whose.of_tooth) {
    if (heard.plucks.size() > 1) {
      hearing.findings.push_back(
          {Level::note, "the recording",
           fmt::format("it holds {} plucks; here it is heard for one tooth", heard.plucks.size()),
           "record this tooth alone; a whole comb is read by the command pitch"});
    }
    return hearing;
  }
  hearing.verdict = Verdict::doubtful;
  if (!pluck.sure) return hearing;
  const records::PlannedComb plan =
      records::planned_comb(tooth.input.box, tooth.of.comb, tooth.input.sha256);
  const records::ToothReading filed{track_of(tooth), reading, work};
  records::check_reading(plan, filed);
  Database database(tooth.db, Access::begin);
  const records::Entered entered = records::file_readings(database, plan, {filed}).front();
  hearing.verdict = entered.known ? Verdict::known : Verdict::filed;
  hearing.number = entered.number;
  return hearing;
}

BenchHearing file_sound(const BenchTooth& tooth, const SoundInput& sound, const BenchTexts& texts) {
  return file_heard(tooth, sound,
                    ear::hear(sound.samples, sound.listened.rate_hz, {near_hz(tooth)}), texts);
}

}  // namespace combwright::app
