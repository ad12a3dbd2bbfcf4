// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "app/log_answers.h"
#include "app/report.h"
#include "base/quantity.h"
#include "draw/plain_text.h"
#include "draw/words.h"
#include "music/pitch.h"
#include "records/offset.h"

namespace combwright::app {
namespace {

constexpr std::size_t name_letters = 24;
constexpr std::size_t remark_letters = 60;

// "0.35 mm clipped, root filed 0.02 mm"
std::string work_words(const std::vector<records::Work>& work) {
  std::string words;
  for (const records::Work& one : work) {
    const std::string length = to_text(one.length_m, Dimension::length);
    if (!words.empty()) words += ", ";
    switch (one.kind) {
      case records::WorkKind::clip:
        words += "clipped " + length;
        break;
      case records::WorkKind::file_root:
        words += "root filed " + length;
        break;
      case records::WorkKind::file_tip:
        words += "tip filed " + length;
        break;
    }
  }
  return words;
}

std::string cents_words(const records::FiledReading& filed) {
  return fmt::format("{:+.2f}", records::offset_cents(filed));
}

std::string remark_of(const records::FiledReading& filed) {
  std::string remark = draw::label(filed.reading.remark, remark_letters);
  if (filed.struck.empty()) return remark;
  return fmt::format("STRUCK{}: {}{}{}", filed.work_struck ? " with its work" : "",
                     draw::label(filed.struck, remark_letters), remark.empty() ? "" : "; ", remark);
}

std::string combs_text(const std::vector<records::FiledComb>& combs) {
  Table rows({"Box", "Comb", "Teeth", "Box file", "Scrapped"});
  for (const records::FiledComb& comb : combs) {
    std::string scrapped = draw::label(comb.scrapped_at);
    if (!comb.scrapped_why.empty())
      scrapped += ": " + draw::label(comb.scrapped_why, remark_letters);
    rows.add({draw::label(comb.plan.box, name_letters), draw::label(comb.plan.comb, name_letters),
              fmt::format("{}", comb.plan.teeth.size()), comb.plan.box_sha256.substr(0, 12),
              scrapped});
  }
  return rows.text();
}

std::string readings_text(const std::vector<records::FiledReading>& readings) {
  Table rows({"No.", "When", "Box", "Comb", "Track", "Note", "Hz", "Cents", "Temp.", "Done before",
              "Who", "Remark"});
  for (const records::FiledReading& filed : readings) {
    const records::Reading& reading = filed.reading;
    rows.add({fmt::format("{}", filed.number), draw::label(reading.at),
              draw::label(filed.box, name_letters), draw::label(filed.comb, name_letters),
              fmt::format("{}", filed.tooth.track), music::note_name(filed.tooth.midi),
              fmt::format("{:.3f}", reading.frequency_hz), cents_words(filed),
              reading.temperature_c ? fmt::format("{:.1f} C", *reading.temperature_c) : "",
              work_words(filed.work), draw::label(reading.who, name_letters), remark_of(filed)});
  }
  return rows.text();
}

std::string tests_text(const std::vector<records::FiledTest>& tests) {
  Table rows({"Test", "When", "Box", "Who", "What came out"});
  for (const records::FiledTest& filed : tests) {
    rows.add({fmt::format("{}", filed.number), draw::label(filed.test.at),
              draw::label(filed.test.box, name_letters), draw::label(filed.test.who, name_letters),
              draw::label(filed.test.remark, records::longest_text)});
  }
  return rows.text();
}

std::string tracks_or_none(const std::vector<int>& tracks) {
  return tracks.empty() ? "none" : draw::track_ranges(tracks);
}

}  // namespace

std::string list_text(const RecordsList& list) {
  std::string text =
      list.combs.empty() ? "No comb is asked for that the records have.\n" : combs_text(list.combs);
  if (!list.readings.empty()) text += "\n" + readings_text(list.readings);
  if (!list.tests.empty()) text += "\n" + tests_text(list.tests);
  return text;
}

std::string reading_text(const records::FiledReading& filed) {
  return facts(
      {{"Reading", fmt::format("{}, filed", filed.number)},
       {"Tooth", fmt::format("box {}, {}, track {}, {}", draw::label(filed.box),
                             box::comb_words(draw::label(filed.comb)), filed.tooth.track,
                             music::note_name(filed.tooth.midi))},
       {"Pitch", fmt::format("{:.3f} Hz, {} cents from {:.3f} Hz at {}", filed.reading.frequency_hz,
                             cents_words(filed), filed.tooth.target_hz,
                             to_text(filed.in_tune_c, Dimension::temperature))},
       {"Done before", filed.work.empty() ? "nothing" : work_words(filed.work)}});
}

std::string counts_text(const records::Counts& counts) {
  const auto number = [](std::int64_t count) { return fmt::format("{}", count); };
  return facts({{"Boxes", number(counts.boxes)},
                {"Combs", number(counts.combs)},
                {"Teeth", number(counts.teeth)},
                {"Recordings", number(counts.recordings)},
                {"Readings", number(counts.readings)},
                {"Clips and filings", number(counts.work)},
                {"Tests", number(counts.tests)}});
}

std::string certificate_text(const draw::Certificate& certificate) {
  Table rows({"Track", "Note", "Target", "As cut", "Final", "Decay", "Clipped", "Readings"});
  const auto or_nothing = [](const std::optional<double>& value, const char* form) {
    return value ? fmt::format(fmt::runtime(form), *value) : "";
  };
  for (const records::ToothSummary& tooth : certificate.teeth) {
    if (in_a_new_ten(tooth.tooth.track)) rows.begin_group();
    rows.add({fmt::format("{}", tooth.tooth.track), music::note_name(tooth.tooth.midi),
              fmt::format("{:.2f}", tooth.tooth.target_hz),
              or_nothing(tooth.as_cut_cents, "{:+.1f}"), or_nothing(tooth.final_cents, "{:+.2f}"),
              or_nothing(tooth.decay_s, "{:.2f}"),
              tooth.clipped_length_m > 0.0 ? draw::in_mm(tooth.clipped_length_m, 2) : "",
              fmt::format("{}", tooth.readings)});
  }
  return facts({{"Box", draw::label(certificate.box)},
                {"Comb", draw::label(certificate.comb)},
                {"Not read", tracks_or_none(draw::tracks_not_read(certificate))},
                {"Out of tolerance",
                 fmt::format("{} ({:.3g} cents)",
                             tracks_or_none(draw::tracks_out_of_tolerance(certificate)),
                             certificate.tolerance_cents)}}) +
         "\n" + rows.text() +
         fmt::format(
             "\nTarget in Hz, as cut and final in cents from it at {}, decay in s, clipped "
             "in mm.\n",
             to_text(certificate.in_tune_c, Dimension::temperature));
}

}  // namespace combwright::app
