// SPDX-License-Identifier: Apache-2.0
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "app/pitch_answers.h"
#include "app/report.h"
#include "base/quantity.h"
#include "base/reference.h"
#include "ear/reference.h"
#include "music/pitch.h"
#include "steel/tuning.h"

namespace combwright::app {
namespace {

std::string spread_text(const ear::OwnMode& own, const Listened& listened) {
  return fmt::format("{:.2f}", ear::pitch_spread_cents(own, steel::cents_per_k(),
                                                       listened.temperature_c.has_value()));
}

std::string pitch_words(double hz) {
  const auto note = music::nearest_note(hz);
  if (!note) return fmt::format("{:.2f} Hz", hz);
  return fmt::format("{} {:+.2f} cents, {:.3f} Hz", music::note_name(note->midi),
                     note->offset_cents, hz);
}

std::string listened_words(const Listened& listened) {
  std::string words =
      fmt::format("{}, {:.0f} Hz, {:.1f} s", listened.format, listened.rate_hz, listened.seconds);
  if (listened.channels > 1)
    words += fmt::format(", channel {} of {}", listened.channel + 1, listened.channels);
  return words;
}

std::string temperature_words(const Listened& listened) {
  if (!listened.temperature_c)
    return fmt::format("not given, taken as 20 C give or take {:.0f} K",
                       unread_temperature_spread_k);
  return fmt::format("{:.1f} C, pitches as at 20 C", *listened.temperature_c);
}

std::string partials_text(const ear::HeardPluck& pluck) {
  if (pluck.partials.empty()) return "";
  Table rows({"Higher mode", "Times the first", "Decay", "Level"});
  for (const ear::Partial& partial : pluck.partials) {
    rows.add({fmt::format("{:.1f} Hz", partial.frequency_hz),
              fmt::format("{:.3f}", partial.frequency_hz / pluck.own[0].frequency_hz),
              to_text(partial.decay_s, Dimension::time),
              fmt::format("{:+.1f} dB", partial.level_db)});
  }
  return "\n" + rows.text();
}

std::string others_text(const PitchAnswer& answer) {
  if (answer.plucks.size() < 2) return "";
  Table rows({"Pluck at", "Hz", "Note", "Cents", "Known to", "Decay", ""});
  for (std::size_t p = 0; p < answer.plucks.size(); ++p) {
    const ear::HeardPluck& pluck = answer.plucks[p];
    const ear::OwnMode& own = pluck.own[0];
    const auto note = music::nearest_note(own.frequency_hz);
    rows.add({fmt::format("{:.2f} s", pluck.onset_s), fmt::format("{:.3f}", own.frequency_hz),
              note ? music::note_name(note->midi) : "",
              note ? fmt::format("{:+.2f}", note->offset_cents) : "",
              spread_text(own, answer.listened), to_text(own.decay_s, Dimension::time),
              p == answer.surest ? "this one"
              : pluck.sure       ? ""
                                 : "doubtful"});
  }
  return "\n" + rows.text();
}

std::string tooth_words(const TakeAnswer& answer, std::size_t t) {
  const steel::CombTooth& tooth = answer.design->teeth[t];
  return fmt::format("track {}, {}", tooth.track, music::note_name(tooth.midi));
}

}  // namespace

Findings all_findings(const PitchAnswer& answer) {
  Findings findings = answer.findings;
  if (answer.surest) {
    const Findings& own = answer.plucks[*answer.surest].findings;
    findings.insert(findings.end(), own.begin(), own.end());
  }
  return gravest_first(std::move(findings));
}

Findings all_findings(const TakeAnswer& answer) {
  Findings findings = answer.take.findings;
  for (std::size_t t = 0; t < answer.take.teeth.size(); ++t) {
    const std::optional<ear::HeardPluck>& pluck = answer.take.teeth[t].pluck;
    if (!pluck) {
      findings.push_back({Level::warning, tooth_words(answer, t), "no pluck is heard for it",
                          "pluck it again, alone"});
      continue;
    }
    for (Finding finding : pluck->findings) {
      finding.where = tooth_words(answer, t);
      findings.push_back(std::move(finding));
    }
  }
  if (!answer.take.extra.empty()) {
    findings.push_back(
        {Level::warning, "",
         fmt::format("{} pluck{} belong{} to no tooth, the first at {:.2f} s",
                     answer.take.extra.size(), answer.take.extra.size() == 1 ? "" : "s",
                     answer.take.extra.size() == 1 ? "s" : "", answer.take.extra.front().onset_s),
         "pluck every tooth once, in order"});
  }
  return gravest_first(std::move(findings));
}

std::string pitch_text(const PitchAnswer& answer) {
  std::vector<std::pair<std::string, std::string>> rows{{"Recording", answer.listened.file},
                                                        {"Sound", listened_words(answer.listened)}};
  std::string tables;
  if (answer.surest) {
    const ear::HeardPluck& pluck = answer.plucks[*answer.surest];
    const bool two = pluck.own.size() == 2;
    for (const ear::OwnMode& own : pluck.own) {
      const bool first = &own == &pluck.own.front();
      rows.emplace_back(!two    ? "Pitch"
                        : first ? "Stronger"
                                : "Weaker",
                        pitch_words(own.frequency_hz));
      rows.emplace_back("Known to",
                        fmt::format("{} cents, by the sound alone {:.2g} cents",
                                    spread_text(own, answer.listened),
                                    music::cents(1.0 + own.stderr_hz / own.frequency_hz)));
      rows.emplace_back("Decay",
                        fmt::format("to 1/e in {}", to_text(own.decay_s, Dimension::time)));
    }
    if (two) {
      const double beat = std::abs(pluck.own[0].frequency_hz - pluck.own[1].frequency_hz);
      rows.emplace_back(
          "Beat",
          fmt::format(
              "{:.3f} Hz, once in {}, {:.2f} cents", beat, to_text(1.0 / beat, Dimension::time),
              std::abs(music::cents(pluck.own[0].frequency_hz / pluck.own[1].frequency_hz))));
    }
    rows.emplace_back("Plucked at", fmt::format("{:.3f} s", pluck.onset_s));
    tables = partials_text(pluck) + others_text(answer);
  }
  rows.emplace_back("Temperature", temperature_words(answer.listened));
  return facts(rows) + findings_text(all_findings(answer)) + tables;
}

std::string take_text(const TakeAnswer& answer) {
  std::size_t heard = 0;
  std::size_t doubtful = 0;
  for (const ear::TakenTooth& tooth : answer.take.teeth) {
    heard += tooth.pluck && tooth.pluck->sure ? 1 : 0;
    doubtful += tooth.pluck && !tooth.pluck->sure ? 1 : 0;
  }
  const std::size_t all = answer.take.teeth.size();
  Table rows({"Track", "Note", "Target", "Hz", "Cents", "Known to", "Decay", "At", ""});
  for (std::size_t t = 0; t < all; ++t) {
    const steel::CombTooth& tooth = answer.design->teeth[t];
    const std::optional<ear::HeardPluck>& pluck = answer.take.teeth[t].pluck;
    if (in_a_new_ten(tooth.track)) rows.begin_group();
    std::vector<std::string> row{fmt::format("{}", tooth.track), music::note_name(tooth.midi),
                                 fmt::format("{:.2f}", answer.ranges[t].target_hz)};
    if (pluck) {
      const ear::OwnMode& own = pluck->own[0];
      row.insert(
          row.end(),
          {fmt::format("{:.2f}", own.frequency_hz),
           fmt::format("{:+.2f}", music::cents(own.frequency_hz / answer.ranges[t].target_hz)),
           spread_text(own, answer.listened), to_text(own.decay_s, Dimension::time),
           fmt::format("{:.2f} s", pluck->onset_s), pluck->sure ? "" : "doubtful"});
    } else {
      row.insert(row.end(), {"", "", "", "", "", "missing"});
    }
    rows.add(std::move(row));
  }
  std::vector<std::pair<std::string, std::string>> lines{
      {"Recording", answer.listened.file},
      {"Sound", listened_words(answer.listened)},
      {"Box", answer.box},
      {"Comb", answer.design->name},
      {"Teeth", fmt::format("{} of {} heard, {} doubtful, {} missing{}", heard, all, doubtful,
                            all - heard - doubtful,
                            answer.take.backwards ? "; plucked from the last to the first" : "")},
      {"Temperature", temperature_words(answer.listened)}};
  if (answer.filed) lines.emplace_back("Filed", fmt::format("{} readings", *answer.filed));
  return facts(lines) + findings_text(all_findings(answer)) + "\n" + rows.text();
}

}  // namespace combwright::app
