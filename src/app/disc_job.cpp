// SPDX-License-Identifier: Apache-2.0
#include "app/disc_job.h"

#include <utility>

#include "app/answers.h"
#include "app/console.h"
#include "base/file.h"
#include "disc/checks.h"
#include "disc/layout.h"
#include "disc/shop_checks.h"
#include "draw/disc_drawing.h"

namespace combwright::app {
namespace {

DiscJob finished(box::Box box, box::Shop shop, disc::Plan plan, Findings findings) {
  DiscJob job;
  job.box = std::move(box);
  job.shop = std::move(shop);
  job.disc = plan.disc;
  job.plan = std::move(plan);
  job.plan_text = disc::write_plan(job.plan);
  job.drawing = draw::draw_disc(job.box, job.disc);
  job.stamp = {.date = job.plan.date, .plan_checksum = sha256(job.plan_text)};
  const Findings shop_findings = disc::check_shop(job.box, job.shop);
  job.findings = merged({&findings, &shop_findings});
  return job;
}

}  // namespace

TuneJob tune_job(const TuneRequest& request, const std::vector<std::string>& files) {
  const std::string date = today();
  const BoxInput box = load_box(request.box);
  const TuneInput tune = load_tune(request.tune);
  box::Shop shop = load_shop(request.shop);
  Progress progress("arranging " + tune.tune.title);
  TuneJob job;
  job.arrangement = arrange::arrange(box.box, tune.tune, request.options);
  progress.set("laying out the disc");
  const disc::Disc disc = disc::lay_out(box.box, job.arrangement, shop.punch);
  disc::Plan plan{.disc = disc,
                  .box = box.box,
                  .date = date,
                  .box_sha256 = box.sha256,
                  .tune_sha256 = tune.sha256,
                  .files = files};
  job.disc = finished(
      box.box, std::move(shop), std::move(plan),
      merged({&box.findings, &tune.tune.findings, &job.arrangement.findings, &disc.findings}));
  return job;
}

DiscJob plan_job(const std::string& plan_path, const std::string& shop_path) {
  const Bytes bytes = read_file(plan_path, disc::max_plan_bytes);
  disc::Plan plan = disc::read_plan(as_text(bytes), plan_path);
  box::Box box = plan.box;
  // A plan may have been changed by hand since it was checked.
  Findings faults;
  if (!has_fault(plan.disc.findings))
    for (const Finding& finding : disc::check_disc(plan.box, plan.disc))
      if (finding.level == Level::fault) faults.push_back(finding);
  Findings findings = merged({&faults, &plan.disc.findings});
  return finished(std::move(box), load_shop(shop_path), std::move(plan), std::move(findings));
}

}  // namespace combwright::app
