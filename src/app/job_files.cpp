// SPDX-License-Identifier: Apache-2.0
#include "app/job_files.h"

#include <filesystem>
#include <utility>

#include <fmt/format.h>

#include "app/arrangement_midi.h"
#include "app/report.h"
#include "base/file.h"
#include "draw/drawing_pdf.h"
#include "draw/dxf.h"
#include "draw/pack_pdf.h"
#include "draw/projection_table.h"
#include "draw/punch_program.h"
#include "draw/setup.h"
#include "draw/svg.h"
#include "draw/track_table.h"
#include "sound/preview.h"
#include "sound/wav.h"

namespace combwright::app {
namespace {

constexpr std::string_view sums_purpose = "SHA-256 sums of the files: sha256sum --check SHA256SUMS";

std::string preview_wav(const DiscJob& job) {
  const Bytes bytes = sound::wav(sound::preview(job.box, job.disc), job.disc.title);
  return std::string(as_text(bytes));
}

// Name and purpose of every file, the list of sums last.
std::vector<std::pair<std::string, std::string>> purposes(const std::vector<OutputFile>& files) {
  std::vector<std::pair<std::string, std::string>> list;
  list.reserve(files.size() + 1);
  for (const OutputFile& file : files) list.emplace_back(file.name, file.purpose);
  list.emplace_back(sums_name, sums_purpose);
  return list;
}

std::string readme(const TuneJob& job) {
  const disc::Disc& disc = job.disc.disc;
  std::string text = facts({{"Tune", disc.title},
                            {"Box", disc.box_name},
                            {"Date", job.disc.stamp.date},
                            {"Plan", job.disc.stamp.plan_checksum}});
  text += fmt::format("\n{}{}\nCAUTION\n", facts(purposes(pack_files(job))),
                      findings_text(job.disc.findings));
  for (const std::string& caution : draw::punch_cautions(job.disc.box, job.disc.shop))
    text += caution + "\n";
  for (const std::string& caution : draw::workshop_cautions()) text += caution + "\n";
  return text;
}

}  // namespace

std::vector<OutputFile> disc_files(const DiscJob& job) {
  return {
      {"disc-tiled.pdf", "the disc at true scale on sheets of the shop's paper, to glue together",
       [&job] { return draw::write_tiled_pdf(job.drawing, job.shop.paper, job.stamp); }},
      {"disc.pdf", "the disc at true scale on one large sheet",
       [&job] { return draw::write_drawing_pdf(job.drawing, job.stamp); }},
      {"disc.svg", "the disc at true scale, for screens and laser cutters",
       [&job] { return draw::write_svg(job.drawing); }},
      {"disc.dxf", "the disc for CAD and CAM, R12, millimetres",
       [&job] { return draw::write_dxf(job.drawing); }},
      {"punch.ngc", "the program of the punch, RS-274",
       [&job] { return draw::write_punch_program(job.box, job.shop, job.disc, job.stamp); }},
      {"projections.csv", "every hit in the order of the punch",
       [&job] { return draw::write_projection_table(job.disc); }},
      {"plan.json", "the plan: combwright disc --from plan.json makes the files again",
       [&job] { return job.plan_text; }},
  };
}

std::vector<OutputFile> pack_files(const TuneJob& job) {
  std::vector<OutputFile> files = {
      {"preview.wav", "the sound of one turn, a first preview",
       [&job] { return preview_wav(job.disc); }},
      {"pack.pdf", "the sheets for the bench: picture, score, set-up, findings, cautions",
       [&job] {
         return draw::write_pack_pdf(job.disc.box, job.disc.shop, job.arrangement, job.disc.disc,
                                     job.disc.stamp);
       }},
  };
  std::vector<OutputFile> disc = disc_files(job.disc);
  files.insert(files.end(), std::make_move_iterator(disc.begin()),
               std::make_move_iterator(disc.end()));
  files.push_back({"tracks.csv", "what each track has to play",
                   [&job] { return draw::write_track_table(job.arrangement); }});
  files.push_back({"arrangement.mid", "what the disc plays, for any MIDI player",
                   [&job] { return arrangement_midi(job.arrangement); }});
  files.push_back(
      {"README.txt", "this list, findings and cautions", [&job] { return readme(job); }});
  return files;
}

std::vector<std::string> names_of(const std::vector<OutputFile>& files) {
  std::vector<std::string> names;
  names.reserve(files.size());
  for (const OutputFile& file : files) names.push_back(file.name);
  return names;
}

Json files_json(const std::vector<OutputFile>& files, const std::string& folder) {
  Json list = Json::array();
  for (const auto& [name, purpose] : purposes(files)) {
    list.push_back({{"name", name},
                    {"path", (std::filesystem::path(folder) / name).string()},
                    {"for", purpose}});
  }
  return list;
}

std::string files_text(const std::vector<OutputFile>& files, const std::string& folder) {
  return fmt::format("\nWritten to {}:\n{}", folder, facts(purposes(files)));
}

}  // namespace combwright::app
