// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "app/inputs.h"
#include "app/output.h"
#include "arrange/arrange.h"
#include "box/box.h"
#include "box/shop.h"
#include "disc/disc.h"
#include "disc/plan.h"
#include "draw/shape.h"
#include "draw/stamp.h"

namespace combwright::app {

// A disc with all that its files are made from.
struct DiscJob {
  box::Box box;
  box::Shop shop;
  disc::Disc disc;
  disc::Plan plan;
  std::string plan_text;
  draw::Drawing drawing;
  draw::PackStamp stamp;
  Findings findings;  // of every stage, each once
};

// A tune's disc, and how the tune was fitted to it.
struct TuneJob {
  arrange::Arrangement arrangement;
  DiscJob disc;
};

// What the job is made from, as named on the command line or the page.
struct TuneRequest {
  std::string box;
  std::string tune;
  std::string shop;  // empty: the defaults
  arrange::Options options;
};

// Reads the files, arranges the tune and lays out the disc; its plan names `files` as made with it
// and bears today's date. Throws Error as the readers and the arranger do.
TuneJob tune_job(const TuneRequest& request, const std::vector<std::string>& files);

// The disc of a plan. Throws Error as the reader of plans does.
DiscJob plan_job(const std::string& plan_path, const std::string& shop_path);

}  // namespace combwright::app
