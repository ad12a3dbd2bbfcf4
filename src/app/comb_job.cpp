// SPDX-License-Identifier: Apache-2.0
#include "app/comb_job.h"

#include <algorithm>
#include <iterator>

#include <fmt/format.h>

#include "action/action.h"
#include "draw/comb_drawing.h"
#include "draw/comb_tables.h"
#include "draw/dxf.h"
#include "draw/svg.h"

namespace combwright::app {

std::string combs_title(const box::Box& box) {
  return fmt::format("combs of {}", box.name);
}

std::vector<steel::CombDesign> designed(const box::Box& box, const box::Shop& shop,
                                        const Watch& watch) {
  return steel::design_combs(box, shop, action::lifts_m(box), watch);
}

CombJob comb_job(const box::Box& box, const box::Shop& shop, const Watch& watch,
                 const CombsOf& combs_of) {
  CombJob job;
  job.designs = combs_of(box, shop, watch);
  job.drawing = draw::comb_drawing(box, job.designs, combs_title(box));
  return job;
}

Findings comb_findings(const Findings& of_box, const CombJob& job) {
  std::vector<const Findings*> stages{&of_box};
  for (const steel::CombDesign& design : job.designs) stages.push_back(&design.findings);
  return merged(stages);
}

Findings to_look_at(const std::vector<steel::CombDesign>& designs) {
  Findings found;
  for (const steel::CombDesign& design : designs) {
    std::copy_if(design.findings.begin(), design.findings.end(), std::back_inserter(found),
                 [](const Finding& finding) { return finding.level != Level::note; });
  }
  return found;
}

std::vector<OutputFile> comb_files(const box::Box& box, const CombJob& job) {
  return {
      {"comb.dxf", "the combs at true size for CAD and CAM, R12, millimetres",
       [&job] { return draw::write_dxf(job.drawing); }},
      {"comb.svg", "the combs at true size, for screens",
       [&job] { return draw::write_svg(job.drawing); }},
      {"teeth.csv", "every tooth: length, thickness, weight, pitch as cut and in tune",
       [&job] { return draw::write_teeth_table(job.designs); }},
      {"saw.csv", "every cut of the saw",
       [&box, &job] { return draw::write_saw_table(box, job.designs); }},
      {"weights.csv", "the tuning weights to cut, by bar and length",
       [&job] { return draw::write_weight_table(job.designs); }},
  };
}

}  // namespace combwright::app
