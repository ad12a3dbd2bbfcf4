// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "app/output.h"
#include "base/watch.h"
#include "box/box.h"
#include "box/shop.h"
#include "draw/shape.h"
#include "draw/stamp.h"
#include "steel/comb.h"

namespace combwright::app {

// The combs of a box with all that their files are made from.
struct CombJob {
  std::vector<steel::CombDesign> designs;
  draw::Drawing drawing;
};

// What their drawing is called.
std::string combs_title(const box::Box& box);

// The combs of a box for the lift that its star wheels give. Throws Cancelled if stopped.
std::vector<steel::CombDesign> designed(const box::Box& box, const box::Shop& shop,
                                        const Watch& watch = {});

// How a job comes by the combs of its box: designed(), or what was kept of it.
using CombsOf =
    std::function<std::vector<steel::CombDesign>(const box::Box&, const box::Shop&, const Watch&)>;

// Those combs with their drawing.
CombJob comb_job(const box::Box& box, const box::Shop& shop, const Watch& watch = {},
                 const CombsOf& combs_of = designed);

// Findings of a box file and of all its combs.
Findings comb_findings(const Findings& of_box, const CombJob& job);

// Faults and warnings of the combs. Their notes are cautions, which a disc's answer has anyhow.
Findings to_look_at(const std::vector<steel::CombDesign>& designs);

// The files for making the combs. Box and job are looked at when a file is made: they must outlive
// the list, and may be filled in after it.
std::vector<OutputFile> comb_files(const box::Box& box, const CombJob& job);

}  // namespace combwright::app
