// SPDX-License-Identifier: Apache-2.0
#include "draw/readings_table.h"

#include <iterator>
#include <optional>
#include <string_view>

#include <fmt/format.h>

#include "draw/csv_text.h"
#include "music/pitch.h"
#include "records/offset.h"

namespace combwright::draw {
namespace {

// The shortest that reads back as the same number.
std::string number(const std::optional<double>& value) {
  return value ? fmt::format("{}", *value) : "";
}

std::string done(const std::vector<records::Work>& work, records::WorkKind kind) {
  const double length_m = records::taken_m(work, kind);
  return length_m > 0.0 ? fmt::format("{}", length_m) : "";
}

std::string recording_cells(const std::optional<records::Recording>& recording) {
  if (!recording) return ",,,,";
  return fmt::format("{},{},{},{},{}", csv_text(recording->file), recording->sha256,
                     recording->rate_hz, recording->channels, csv_text(recording->settings));
}

}  // namespace

std::string write_readings_table(const std::vector<records::FiledReading>& readings) {
  using records::WorkKind;
  std::string out =
      "number,box_name,box,comb,comb_number,track,note,target_hz,frequency_hz,stderr_hz,"
      "offset_cents,decay_s,temperature_c,clipped_m,filed_root_m,filed_tip_m,who,at,remark,struck,"
      "recording,recording_sha256,rate_hz,channels,settings\r\n";
  for (const records::FiledReading& filed : readings) {
    const records::Reading& reading = filed.reading;
    fmt::format_to(std::back_inserter(out),
                   "{},{},{},{},{},{},{},{},{},{},{:.4f},{},{},{},{},{},{},{},{},{},{}\r\n",
                   filed.number, csv_text(filed.box), filed.box_sha256, csv_text(filed.comb),
                   filed.comb_number, filed.tooth.track, music::note_name(filed.tooth.midi),
                   filed.tooth.target_hz, reading.frequency_hz, reading.stderr_hz,
                   records::offset_cents(filed), number(reading.decay_s),
                   number(reading.temperature_c), done(filed.work, WorkKind::clip),
                   done(filed.work, WorkKind::file_root), done(filed.work, WorkKind::file_tip),
                   csv_text(reading.who), reading.at, csv_text(reading.remark),
                   csv_text(filed.struck), recording_cells(reading.recording));
  }
  return out;
}

}  // namespace combwright::draw
