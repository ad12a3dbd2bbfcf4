// SPDX-License-Identifier: Apache-2.0
#include "draw/certificate.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "draw/cautions.h"
#include "draw/words.h"
#include "records/planned.h"

namespace combwright::draw {
namespace {

// The box file may have been changed since.
void bring_to_plan(records::FiledReading& filed, const records::PlannedComb& plan) {
  filed.in_tune_c = plan.in_tune_c;
  for (const records::PlannedTooth& tooth : plan.teeth)
    if (tooth.track == filed.tooth.track) filed.tooth = tooth;
}

template <typename Wanted>
std::vector<int> tracks_where(const Certificate& certificate, const Wanted& wanted) {
  std::vector<int> tracks;
  for (const records::ToothSummary& tooth : certificate.teeth)
    if (wanted(tooth)) tracks.push_back(tooth.tooth.track);
  return tracks;
}

}  // namespace

Certificate certificate(const box::Box& box, std::size_t comb, const records::FiledComb& filed,
                        const box::Shop& shop) {
  records::FiledComb planned = filed;
  planned.plan = records::planned_comb(box, comb, filed.plan.box_sha256);
  Certificate made{.box = box.name,
                   .comb = box.combs[comb].name,
                   .pitch = pitch_words(box, comb),
                   .in_tune_c = planned.plan.in_tune_c,
                   .tolerance_cents = shop.tolerance.pitch_cents,
                   .teeth = {},
                   .people = {},
                   .first_at = "",
                   .last_at = "",
                   .cautions = certificate_cautions(box)};
  for (records::FiledReading& reading : planned.readings) {
    bring_to_plan(reading, planned.plan);
    const std::string& who = reading.reading.who;
    if (!who.empty() && std::find(made.people.begin(), made.people.end(), who) == made.people.end())
      made.people.push_back(who);
    const std::string& at = reading.reading.at;
    if (made.first_at.empty() || at < made.first_at) made.first_at = at;
    made.last_at = std::max(made.last_at, at);
  }
  made.teeth = records::summary(planned);
  return made;
}

std::vector<int> tracks_not_read(const Certificate& certificate) {
  return tracks_where(certificate,
                      [](const records::ToothSummary& tooth) { return !tooth.final_cents; });
}

std::vector<int> tracks_out_of_tolerance(const Certificate& certificate) {
  return tracks_where(certificate, [&](const records::ToothSummary& tooth) {
    return tooth.final_cents && std::abs(*tooth.final_cents) > certificate.tolerance_cents;
  });
}

std::string track_ranges(const std::vector<int>& tracks) {
  std::string words = tracks.size() == 1 ? "track " : "tracks ";
  for (std::size_t first = 0; first < tracks.size();) {
    std::size_t last = first;
    while (last + 1 < tracks.size() && tracks[last + 1] == tracks[last] + 1) ++last;
    if (first > 0) words += ", ";
    words += fmt::format("{}", tracks[first]);
    if (last > first) words += fmt::format("{}{}", last > first + 1 ? " to " : ", ", tracks[last]);
    first = last + 1;
  }
  return words;
}

}  // namespace combwright::draw
