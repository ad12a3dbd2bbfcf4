// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/comb_job.h"
#include "app/inputs.h"
#include "app/output.h"
#include "arrange/arrange.h"
#include "base/watch.h"
#include "box/shop.h"
#include "disc/plan.h"
#include "draw/shape.h"
#include "draw/stamp.h"
#include "motor/motor.h"

namespace combwright::app {

// A disc with all that its files are made from. The findings of every stage stand in the plan's
// disc, each once, so that the answer, the papers and the plan say the same.
struct DiscJob {
  disc::Plan plan;
  box::Shop shop;
  std::string plan_text;
  draw::Drawing drawing;
  draw::Stamp stamp;
};

// A tune's disc, and how the tune was fitted to it.
struct TuneJob {
  arrange::Arrangement arrangement;
  CombJob combs;
  std::optional<motor::Prediction> motor;  // a wind with this tune, where the combs are designed
  DiscJob disc;
};

// What the job is made from, as named on the command line or the page.
struct TuneRequest {
  std::string box;
  std::string tune;
  std::string shop;  // empty: the defaults
  arrange::Options options;
};

// The same, read.
struct TuneInputs {
  BoxInput box;
  TuneInput tune;
  box::Shop shop;
  arrange::Options options;
  std::string date;  // today's
};

// Reads the files. Throws Error as the readers do.
TuneInputs read_inputs(const TuneRequest& request);

// Whether a tune's job has the combs too: they are not needed to cut a disc, and take their time.
enum class Combs { left_out, designed };

// Arranges the tune and lays out the disc; its plan names `files` as made with it. Throws Error as
// the arranger does, Cancelled if stopped.
TuneJob tune_job(const TuneInputs& inputs, const std::vector<disc::PlanFile>& files, Combs combs,
                 const Watch& watch = {}, const CombsOf& combs_of = designed);

// The disc of a plan, ordered and checked anew: of the plan's text only what is cut is taken, and
// the findings of the stages before the disc. Throws Error as the reader of plans does.
DiscJob plan_job(const std::string& plan_path, const std::string& shop_path,
                 const Watch& watch = {});

// The folder for a job's files.
OutputFolder folder_of(const TuneInputs& inputs, const std::string& path, bool force);
OutputFolder folder_of(const DiscJob& job, const std::string& path, bool force);

}  // namespace combwright::app
