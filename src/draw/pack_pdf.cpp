// SPDX-License-Identifier: Apache-2.0
#include "draw/pack_pdf.h"

#include "draw/motor_sheet.h"
#include "draw/pack_document.h"

namespace combwright::draw {
namespace {

void add_all(PackDocument& document, const PackInput& input, const motor::Prediction* motor) {
  add_cover(document, input);
  add_roll(document, input);
  add_left_out(document, input);
  add_findings(document, input);
  add_tracks(document, input);
  add_setup(document, input);
  add_setting(document, input);
  if (motor != nullptr) add_motor(document, input.box, *motor);
  add_combs(document, input.box, input.combs);
}

}  // namespace

std::string write_pack_pdf(const box::Box& box, const box::Shop& shop,
                           const std::vector<steel::CombDesign>& combs,
                           const motor::Prediction* motor, const arrange::Arrangement& arrangement,
                           const disc::Disc& disc, const Stamp& stamp) {
  const PackInput input{box, shop, arrangement, disc, combs, stamp};
  const PageHeading heading{box.name, arrangement.title, stamp};
  // "Page n of m" needs m, and page 1 that of the findings, before the first page is written, so
  // the pack is laid out twice.
  PackDocument counting(heading, shop.paper, {});
  add_all(counting, input, motor);
  PackDocument document(heading, shop.paper, counting.page_numbers());
  add_all(document, input, motor);
  return document.finish();
}

}  // namespace combwright::draw
