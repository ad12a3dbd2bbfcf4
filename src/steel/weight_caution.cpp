// SPDX-License-Identifier: Apache-2.0
#include "steel/weight_caution.h"

namespace combwright::steel {

std::optional<Finding> weight_caution(box::WeightMetal metal) {
  switch (metal) {
    case box::WeightMetal::lead:
      return Finding{Level::note, "weights", "tuning weights contain lead",
                     "do not eat or drink at the bench, clip and never sand, never melt lead "
                     "indoors, collect the clippings, wash your hands; local rules come first"};
    case box::WeightMetal::tungsten:
      return Finding{
          Level::note, "weights", "tuning weights of tungsten are ground to length",
          "grind wet, keep the dust out of the air and the eyes; local rules come first"};
    case box::WeightMetal::tin_bismuth:
      break;
  }
  return std::nullopt;
}

}  // namespace combwright::steel
