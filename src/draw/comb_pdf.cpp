// SPDX-License-Identifier: Apache-2.0
#include "draw/comb_pdf.h"

#include "draw/pack_document.h"

namespace combwright::draw {

std::string write_comb_pdf(const box::Box& box, const box::Shop& shop,
                           const std::vector<steel::CombDesign>& designs, const Stamp& stamp) {
  const PageHeading heading{box.name, "combs", stamp};
  PackDocument counting(heading, shop.paper, {});
  add_combs(counting, box, designs);
  PackDocument document(heading, shop.paper, counting.page_numbers());
  add_combs(document, box, designs);
  return document.finish();
}

}  // namespace combwright::draw
