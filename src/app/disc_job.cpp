// SPDX-License-Identifier: Apache-2.0
#include "app/disc_job.h"

#include <future>
#include <utility>

#include "action/survey.h"
#include "base/file.h"
#include "disc/layout.h"
#include "disc/shop_checks.h"
#include "draw/disc_drawing.h"

namespace combwright::app {
namespace {

DiscJob finished(disc::Plan plan, box::Shop shop) {
  DiscJob job;
  const Findings shop_findings = disc::check_shop(plan.box, shop);
  plan.disc.findings = merged({&plan.arrangement_findings, &plan.disc.findings, &shop_findings});
  job.plan = std::move(plan);
  job.shop = std::move(shop);
  job.plan_text = disc::write_plan(job.plan);
  job.drawing = draw::draw_disc(job.plan.box, job.plan.disc);
  job.stamp = {.date = job.plan.date, .checksum = sha256(job.plan_text)};
  return job;
}

}  // namespace

TuneInputs read_inputs(const TuneRequest& request) {
  const std::string date = today();
  return {load_box(request.box), load_tune(request.tune), load_shop(request.shop), request.options,
          date};
}

TuneJob tune_job(const TuneInputs& inputs, const std::vector<disc::PlanFile>& files, Combs combs,
                 const Watch& watch, const CombsOf& combs_of) {
  const box::Box& box = inputs.box.box;
  std::future<CombJob> job_of_combs;
  if (combs == Combs::designed) {
    job_of_combs =
        std::async(std::launch::async, [&] { return comb_job(box, inputs.shop, watch, combs_of); });
  }
  TuneJob job;
  job.arrangement = arrange::arrange(box, inputs.tune.tune, inputs.options, watch);
  watch.check();
  watch.say("laying out the disc");
  disc::Disc disc = disc::lay_out(box, job.arrangement, inputs.shop.punch);
  if (job_of_combs.valid()) job.combs = job_of_combs.get();
  watch.check();
  const Findings comb_findings = to_look_at(job.combs.designs);
  const action::Survey survey =
      action::survey(box, steel::tip_stiffness_n_m(job.combs.designs), disc.turn_time_s);
  Findings motor_findings;
  if (combs == Combs::designed) {
    watch.say("running the motor");
    job.motor = motor::predict(box, job.combs.designs, disc);
    motor_findings = job.motor->findings;
  }
  disc::Plan plan{.disc = std::move(disc),
                  .box = box,
                  .date = inputs.date,
                  .box_sha256 = inputs.box.sha256,
                  .tune_sha256 = inputs.tune.sha256,
                  .arrangement_findings =
                      merged({&inputs.box.findings, &inputs.tune.tune.findings, &comb_findings,
                              &survey.findings, &job.arrangement.findings, &motor_findings}),
                  .files = files};
  watch.check();
  job.arrangement.findings.clear();  // told by the disc from here on
  job.disc = finished(std::move(plan), inputs.shop);
  return job;
}

DiscJob plan_job(const std::string& plan_path, const std::string& shop_path, const Watch& watch) {
  const Bytes bytes = read_file(plan_path, disc::max_plan_bytes);
  disc::Plan plan = disc::read_plan(as_text(bytes), plan_path);
  box::Shop shop = load_shop(shop_path);
  watch.say("ordering and checking the hits");
  plan.disc = disc::finish(plan.box, std::move(plan.disc), shop.punch);
  return finished(std::move(plan), std::move(shop));
}

OutputFolder folder_of(const TuneInputs& inputs, const std::string& path, bool force) {
  return {path, inputs.box.box.name, inputs.tune.tune.title, force};
}

OutputFolder folder_of(const DiscJob& job, const std::string& path, bool force) {
  return {path, job.plan.disc.box_name, job.plan.disc.title, force};
}

}  // namespace combwright::app
