// SPDX-License-Identifier: Apache-2.0
#include "app/pack_answer.h"

#include "app/job_files.h"
#include "disc/plan_json.h"

namespace combwright::app {

Json pack_json(const TuneJob& job, const std::vector<OutputFile>& files,
               const std::string& folder) {
  const arrange::Arrangement& arrangement = job.arrangement;
  const disc::Disc& disc = job.disc.plan.disc;
  return {{"box", disc.box_name},
          {"title", disc.title},
          {"date", job.disc.stamp.date},
          {"transpose_semitones", arrangement.transpose_semitones},
          {"tempo_factor", arrangement.tempo_factor},
          {"first_bar", arrangement.first_bar},
          {"last_bar", arrangement.last_bar},
          {"fidelity", arrangement.fidelity},
          {"fidelity_bound", arrangement.fidelity_bound},
          {"turn_time_s", disc.turn_time_s},
          {"plucks", disc.projections.size()},
          {"tour", {{"length_s", disc.tour.length_s}, {"bound_s", disc.tour.bound_s}}},
          {"files", files_json(files, folder)},
          {"findings", disc::to_json(disc.findings)},
          {"cautions", cautions(job)}};
}

}  // namespace combwright::app
