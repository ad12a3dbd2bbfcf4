// SPDX-License-Identifier: Apache-2.0
#include "app/job_files.h"

#include <filesystem>
#include <utility>

#include <fmt/format.h>

#include "app/arrangement_midi.h"
#include "app/report.h"
#include "base/file.h"
#include "disc/plan_json.h"
#include "draw/cautions.h"
#include "draw/drawing_pdf.h"
#include "draw/dxf.h"
#include "draw/pack_pdf.h"
#include "draw/projection_table.h"
#include "draw/punch_program.h"
#include "draw/svg.h"
#include "draw/track_table.h"
#include "draw/train_drawing.h"
#include "sound/preview.h"
#include "sound/wav.h"

namespace combwright::app {
namespace {

constexpr std::string_view sums_purpose = "SHA-256 sums of the files: sha256sum --check SHA256SUMS";

std::string preview_wav(const TuneJob& job) {
  const disc::Plan& plan = job.disc.plan;
  const sound::Preview preview = sound::preview(plan.box, job.combs.designs, plan.disc);
  return std::string(as_text(sound::wav(preview, plan.disc.title)));
}

std::string files_table(const std::vector<disc::PlanFile>& files) {
  std::vector<std::pair<std::string, std::string>> pairs;
  pairs.reserve(files.size());
  for (const disc::PlanFile& file : files) pairs.emplace_back(file.path, file.purpose);
  return facts(pairs);
}

std::string readme(const TuneJob& tune_job) {
  const DiscJob& job = tune_job.disc;
  const disc::Disc& disc = job.plan.disc;
  return facts({{"Tune", disc.title},
                {"Box", disc.box_name},
                {"Date", job.stamp.date},
                {"Plan", job.stamp.checksum}}) +
         "\n" + files_table(job.plan.files) + findings_text(disc.findings) +
         cautions_text(cautions(tune_job));
}

}  // namespace

std::vector<OutputFile> disc_files(const DiscJob& job) {
  return {
      {"disc-tiled.pdf",
       "the disc at true scale on the shop's paper: one sheet, or several to glue together",
       [&job] { return draw::write_tiled_pdf(job.drawing, job.shop.paper, job.stamp); }},
      {"disc.pdf", "the disc at true scale on one large sheet",
       [&job] { return draw::write_drawing_pdf(job.drawing, job.stamp); }},
      {"disc.svg",
       "the disc at true scale, for screens and for marking; do not cut the projections out",
       [&job] { return draw::write_svg(job.drawing); }},
      {"disc.dxf", "the disc for CAD and CAM, R12, millimetres",
       [&job] { return draw::write_dxf(job.drawing); }},
      {"punch.ngc", "the program of the punch, RS-274",
       [&job] {
         return draw::write_punch_program(job.plan.box, job.shop, job.plan.disc, job.stamp);
       }},
      {"projections.csv", "every hit in the order of the punch",
       [&job] { return draw::write_projection_table(job.plan.disc); }},
      {"plan.json", "the plan: combwright disc --from plan.json makes the files again",
       [&job] { return job.plan_text; }},
  };
}

std::vector<OutputFile> pack_files(const TuneJob& job) {
  std::vector<OutputFile> files = {
      {"preview.wav", "the sound of one turn, a first preview",
       [&job] { return preview_wav(job); }},
      {"pack.pdf",
       "the sheets for the bench: picture, score, set-up, findings, cautions, motor, combs",
       [&job] {
         return draw::write_pack_pdf(job.disc.plan.box, job.disc.shop, job.combs.designs,
                                     job.motor ? &*job.motor : nullptr, job.arrangement,
                                     job.disc.plan.disc, job.disc.stamp);
       }},
  };
  std::vector<OutputFile> disc = disc_files(job.disc);
  files.insert(files.end(), std::make_move_iterator(disc.begin()),
               std::make_move_iterator(disc.end()));
  std::vector<OutputFile> combs = comb_files(job.disc.plan.box, job.combs);
  files.insert(files.end(), std::make_move_iterator(combs.begin()),
               std::make_move_iterator(combs.end()));
  files.push_back({"train.dxf", "the train's wheels and axes at true size, R12, millimetres",
                   [&job] { return draw::write_dxf(draw::train_drawing(job.disc.plan.box)); }});
  files.push_back({"train.svg", "the same for screens",
                   [&job] { return draw::write_svg(draw::train_drawing(job.disc.plan.box)); }});
  files.push_back({"tracks.csv", "what each track has to play, and how to set its damper",
                   [&job] { return draw::write_track_table(job.disc.plan.box, job.arrangement); }});
  files.push_back({"arrangement.mid", "what the disc plays, for any MIDI player",
                   [&job] { return arrangement_midi(job.arrangement); }});
  files.push_back(
      {"README.txt", "this list, findings and cautions", [&job] { return readme(job); }});
  return files;
}

std::vector<disc::PlanFile> list_of(const std::vector<OutputFile>& files) {
  std::vector<disc::PlanFile> list;
  list.reserve(files.size() + 1);
  for (const OutputFile& file : files) list.push_back({file.name, file.purpose});
  list.push_back({std::string(sums_name), std::string(sums_purpose)});
  return list;
}

Json files_json(const std::vector<OutputFile>& files, const std::string& folder) {
  std::vector<disc::PlanFile> list = list_of(files);
  for (disc::PlanFile& file : list)
    file.path = (std::filesystem::path(folder) / file.path).string();
  return disc::to_json(list);
}

std::string files_text(const std::vector<OutputFile>& files, const std::string& folder) {
  return fmt::format("\nWritten to {}:\n{}", folder, files_table(list_of(files)));
}

std::vector<std::string> cautions(const DiscJob& job) {
  return draw::disc_cautions(job.plan.box, job.shop);
}

std::vector<std::string> cautions(const TuneJob& job) {
  return draw::pack_cautions(job.disc.plan.box, job.disc.shop, job.combs.designs);
}

std::string cautions_text(const std::vector<std::string>& cautions) {
  return fmt::format("\nCAUTION\n{}\n", fmt::join(cautions, "\n"));
}

}  // namespace combwright::app
