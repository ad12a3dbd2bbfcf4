// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "box/box.h"
#include "box/shop.h"
#include "draw/stamp.h"
#include "records/offset.h"
#include "records/records.h"

// What the records say of one comb, as a paper that goes with it.
namespace combwright::draw {

struct Certificate {
  std::string box;
  std::string comb;
  std::string pitch;  // in words
  double in_tune_c = 20.0;
  double tolerance_cents = 0.0;
  std::vector<records::ToothSummary> teeth;  // every tooth of the comb, in order of track
  std::vector<std::string> people;           // who read, each once
  std::string first_at;                      // of the first and the last reading; empty without any
  std::string last_at;
  std::vector<std::string> cautions;
};

// The comb of the box with this place, and what the records have of it; targets and notes are those
// of the box.
Certificate certificate(const box::Box& box, std::size_t comb, const records::FiledComb& filed,
                        const box::Shop& shop);

std::vector<int> tracks_not_read(const Certificate& certificate);
std::vector<int> tracks_out_of_tolerance(const Certificate& certificate);

// In words: "track 3", "tracks 3, 5 to 9".
std::string track_ranges(const std::vector<int>& tracks);

// The paper: facts, a plot of cents over the comb, a line to sign on, every tooth, the caution. On
// the shop's paper; the same input gives the same bytes. Throws Error if the paper is smaller than
// A5.
std::string write_certificate_pdf(const Certificate& certificate, const box::Shop& shop,
                                  const Stamp& stamp);

}  // namespace combwright::draw
