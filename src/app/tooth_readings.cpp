// SPDX-License-Identifier: Apache-2.0
#include "app/tooth_readings.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "app/heard_reading.h"
#include "app/option_quantity.h"
#include "app/sound_input.h"
#include "base/error.h"
#include "base/file.h"
#include "ear/hear.h"
#include "records/database.h"
#include "records/filing.h"
#include "records/listing.h"
#include "records/moment.h"
#include "records/planned.h"
#include "steel/pitch_range.h"
#include "tuner/reading_reader.h"

namespace combwright::app {
namespace {

void add_work(std::vector<records::Work>& work, const char* option, const std::string& text,
              records::WorkKind kind) {
  constexpr double longest_m = 0.1;
  const std::optional<double> length_m = option_quantity(option, text, Dimension::length);
  if (!length_m || *length_m == 0.0) return;
  if (!(*length_m > 0.0 && *length_m < longest_m))
    throw Error({}, fmt::format("{} \"{}\" cannot be; give a length from 0 mm to below 100 mm",
                                option, text));
  work.push_back({kind, *length_m});
}

// What was done before each recording.
std::vector<std::vector<records::Work>> work_before(const ReadingSources& sources) {
  const std::size_t count = sources.recordings.size();
  std::vector<std::vector<records::Work>> work(count);
  if (count == 0) {
    if (!sources.clipped.empty() || !sources.filed_root.empty() || !sources.filed_tip.empty())
      throw Error({}, "--clipped, --filed-root and --filed-tip go with a recording; name it");
    return work;
  }
  const std::size_t cuts = sources.clipped.size();
  if (cuts != 0 && cuts != count && cuts + 1 != count)
    throw Error({}, fmt::format("--clipped is given {} times for {} recordings; give one before "
                                "each, or one between each two",
                                cuts, count));
  for (std::size_t i = 0; i < cuts; ++i)
    add_work(work[i + count - cuts], "--clipped", sources.clipped[i], records::WorkKind::clip);
  add_work(work[0], "--filed-root", sources.filed_root, records::WorkKind::file_root);
  add_work(work[0], "--filed-tip", sources.filed_tip, records::WorkKind::file_tip);
  return work;
}

// A reading of one recording.
struct HeardNow {
  records::Reading reading;
  std::vector<records::Work> work;
  bool sure = false;
};

// The tooth near that pitch, or if there is none, whichever was plucked: the tuner tells a wrong
// tooth.
HeardNow hear_now(const std::string& path, const ReadingSources& sources, double near_hz,
                  const Reader& reader, Findings& findings) {
  const SoundInput sound = load_sound(path, sources.temperature);
  const double rate_hz = sound.listened.rate_hz;
  ear::Heard heard = ear::hear(sound.samples, rate_hz, {near_hz, false});
  std::string settings = fmt::format("near {:.1f} Hz", near_hz);
  if (heard.plucks.empty()) {
    heard = ear::hear(sound.samples, rate_hz, {});
    settings.clear();
  }
  const std::optional<std::size_t> best = ear::surest(heard.plucks);
  if (!best) throw Error({.file = path}, to_text(heard.findings.front()));
  const ear::HeardPluck& pluck = heard.plucks[*best];
  for (Finding finding : merged({&sound.findings, &heard.findings, &pluck.findings})) {
    finding.where = path;
    findings.push_back(std::move(finding));
  }
  return {to_reading(pluck, sound.listened, settings, reader), {}, pluck.sure};
}

std::vector<HeardNow> hear_all(const ReadingSources& sources, double near_hz, Findings& findings) {
  std::vector<std::vector<records::Work>> work = work_before(sources);
  const Reader reader{sources.who, now(), sources.remark};
  std::vector<HeardNow> all;
  for (std::size_t i = 0; i < sources.recordings.size(); ++i) {
    all.push_back(hear_now(sources.recordings[i], sources, near_hz, reader, findings));
    all.back().work = std::move(work[i]);
  }
  return all;
}

// A recording that is in the records already is one reading, however often it is named.
void drop_known(std::vector<HeardNow>& heard, const std::vector<records::FiledReading>& history,
                Findings& findings) {
  std::erase_if(heard, [&](const HeardNow& one) {
    const records::Recording& recording = *one.reading.recording;
    const auto known =
        std::find_if(history.begin(), history.end(), [&](const records::FiledReading& filed) {
          return filed.reading.recording && filed.reading.recording->sha256 == recording.sha256;
        });
    if (known == history.end()) return false;
    findings.push_back({Level::note, recording.file,
                        fmt::format("is in the records already, as reading {}", known->number),
                        "nothing is filed anew"});
    return true;
  });
}

// Files those that are sure. Work before a doubtful one is told with the next that is filed.
void file_all(records::Database& database, const records::PlannedComb& comb, int track,
              const std::vector<HeardNow>& all, Findings& findings) {
  std::vector<records::ToothReading> sure;
  std::vector<records::Work> work;
  for (const HeardNow& heard : all) {
    work.insert(work.end(), heard.work.begin(), heard.work.end());
    if (!heard.sure) continue;
    sure.push_back({track, heard.reading, std::exchange(work, {})});
  }
  if (!sure.empty()) records::file_readings(database, comb, sure);
  if (sure.size() < all.size())
    findings.push_back({Level::warning, "", "what is doubtful is not in the records",
                        "pluck and record it again"});
}

}  // namespace

ToothReadings tooth_readings(const ReadingSources& sources, const BoxInput& input,
                             const steel::CombDesign& design, std::size_t comb, std::size_t tooth) {
  const int track = design.teeth[tooth].track;
  ToothReadings found;
  if (!sources.file.empty()) {
    const Bytes bytes = read_file(sources.file, tuner::most_readings_bytes);
    found.readings = tuner::read_readings(as_text(bytes), sources.file);
  }
  std::vector<records::FiledReading> history;
  std::optional<records::Database> database;
  if (!sources.db.empty()) {
    database.emplace(sources.db,
                     sources.recordings.empty() ? records::Access::look : records::Access::begin);
    history = records::tooth_history(*database, input.box.name, design.name, track);
    for (const records::FiledReading& filed : history)
      found.readings.push_back(to_tuner(filed.reading, filed.work));
  }
  const steel::PitchRange range = steel::pitch_ranges(design, input.box.scale.temperature_c)[tooth];
  const double near_hz = found.readings.empty() ? std::sqrt(range.as_cut_hz * range.target_hz)
                                                : found.readings.back().frequency_hz;
  std::vector<HeardNow> heard = hear_all(sources, near_hz, found.findings);
  drop_known(heard, history, found.findings);
  for (const HeardNow& now_heard : heard)
    found.readings.push_back(to_tuner(now_heard.reading, now_heard.work));
  if (database && !heard.empty())
    file_all(*database, records::planned_comb(input.box, comb, input.sha256), track, heard,
             found.findings);
  if (found.readings.empty())
    throw Error({},
                "no reading of the tooth is given; name a recording of its pluck, a file of "
                "readings with --readings, or the records with --db");
  return found;
}

}  // namespace combwright::app
