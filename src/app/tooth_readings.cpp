// SPDX-License-Identifier: Apache-2.0
#include "app/tooth_readings.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <iterator>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "app/heard_reading.h"
#include "app/sound_input.h"
#include "app/work_option.h"
#include "base/error.h"
#include "base/file.h"
#include "ear/hear.h"
#include "records/database.h"
#include "records/filing.h"
#include "records/listing.h"
#include "records/planned.h"
#include "steel/pitch_range.h"
#include "tuner/reading_reader.h"

namespace combwright::app {
namespace {

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

std::string work_options(const std::vector<records::Work>& work) {
  std::string words;
  for (const records::Work& one : work) {
    const char* option = one.kind == records::WorkKind::clip        ? "--clipped"
                         : one.kind == records::WorkKind::file_root ? "--filed-root"
                                                                    : "--filed-tip";
    words += fmt::format("{}{} \"{}\"", words.empty() ? "" : " ", option,
                         to_text(one.length_m, Dimension::length));
  }
  return words;
}

// A recording is one reading, however often it is named, and what was done since then belongs to
// another.
void drop_known(std::vector<HeardNow>& heard, const std::vector<records::FiledReading>& history,
                Findings& findings) {
  std::vector<HeardNow> fresh;
  for (HeardNow& one : heard) {
    const records::Recording& recording = *one.reading.recording;
    const auto same = [&](const records::Reading& other) {
      return other.recording && other.recording->sha256 == recording.sha256;
    };
    const auto known =
        std::find_if(history.begin(), history.end(),
                     [&](const records::FiledReading& filed) { return same(filed.reading); });
    const bool named = std::any_of(fresh.begin(), fresh.end(),
                                   [&](const HeardNow& other) { return same(other.reading); });
    if (known == history.end() && !named) {
      fresh.push_back(std::move(one));
      continue;
    }
    const std::string what =
        named ? "is named twice"
              : fmt::format("is in the records already, as reading {}", known->number);
    if (!one.work.empty()) {
      throw Error({.file = recording.file},
                  fmt::format("{}; give {} with the next recording, not with this one", what,
                              work_options(one.work)));
    }
    findings.push_back({Level::note, recording.file, what, "it counts once"});
  }
  heard = std::move(fresh);
}

// Files those that are sure; their numbers.
std::vector<std::int64_t> file_all(records::Database& database, const records::PlannedComb& comb,
                                   int track, const std::vector<HeardNow>& sure,
                                   Findings& findings) {
  std::vector<records::ToothReading> readings;
  for (const HeardNow& heard : sure) readings.push_back({track, heard.reading, heard.work});
  const auto entered = records::file_readings(database, comb, readings);
  std::vector<std::int64_t> numbers;
  for (std::size_t i = 0; i < entered.size(); ++i) {
    if (!entered[i].known) {
      numbers.push_back(entered[i].number);
      continue;
    }
    findings.push_back(
        {Level::warning, sure[i].reading.recording->file,
         fmt::format("another program has just filed it, as reading {}", entered[i].number),
         "it is not filed anew; ask again"});
  }
  return numbers;
}

// Takes out what is doubtful. What was done before such a recording goes with the next one that is
// sure; if none follows, it has to be told again.
bool drop_doubtful(std::vector<HeardNow>& heard, Findings& findings) {
  std::vector<HeardNow> sure;
  std::vector<records::Work> pending;
  bool doubtful = false;
  for (HeardNow& one : heard) {
    pending.insert(pending.end(), one.work.begin(), one.work.end());
    doubtful = !one.sure;
    if (doubtful) continue;
    one.work = std::exchange(pending, {});
    sure.push_back(std::move(one));
  }
  if (doubtful) {
    const std::string again =
        pending.empty() ? "" : fmt::format(", and give {} again with it", work_options(pending));
    findings.push_back({Level::fault, heard.back().reading.recording->file,
                        "is doubtful; it does not count and is not filed",
                        "pluck and record it again" + again});
  }
  heard = std::move(sure);
  return doubtful;
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
  if (!sources.db.empty() &&
      (sources.recordings.empty() || std::filesystem::exists(std::filesystem::path(sources.db)))) {
    const records::Database database(sources.db, records::Access::look);
    history = records::tooth_history(database, input.box.name, design.name, track);
    for (const records::FiledReading& filed : history)
      found.readings.push_back(to_tuner(filed.reading, filed.work));
  }
  const steel::PitchRange range = steel::pitch_ranges(design, input.box.scale.temperature_c)[tooth];
  const double near_hz = found.readings.empty() ? std::sqrt(range.as_cut_hz * range.target_hz)
                                                : found.readings.back().frequency_hz;
  std::vector<HeardNow> heard = hear_all(sources, near_hz, found.findings);
  drop_known(heard, history, found.findings);
  std::optional<tuner::Reading> last;
  if (!heard.empty()) last = to_tuner(heard.back().reading, heard.back().work);
  found.doubtful = drop_doubtful(heard, found.findings);
  for (const HeardNow& now_heard : heard)
    found.readings.push_back(to_tuner(now_heard.reading, now_heard.work));
  if (found.readings.empty() && found.doubtful) {
    // Nothing else is known of the tooth: shown as it was heard, but nothing is to be done by it.
    found.readings.push_back(*last);
  }
  if (!sources.db.empty() && !heard.empty()) {
    // Made only now, so that nothing is left behind by what cannot be heard.
    const records::PlannedComb plan = records::planned_comb(input.box, comb, input.sha256);
    for (const HeardNow& one : heard) records::check_reading(plan, {track, one.reading, one.work});
    records::Database database(sources.db, records::Access::begin);
    found.filed = file_all(database, plan, track, heard, found.findings);
  }
  if (found.readings.empty())
    throw Error({},
                "no reading of the tooth is given; name a recording of its pluck, a file of "
                "readings with --readings, or the records with --db");
  return found;
}

}  // namespace combwright::app
