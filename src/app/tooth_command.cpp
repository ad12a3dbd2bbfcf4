// SPDX-License-Identifier: Apache-2.0
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "app/answers.h"
#include "app/commands.h"
#include "app/console.h"
#include "app/option_quantity.h"
#include "app/report.h"
#include "app/temperature_option.h"
#include "base/error.h"
#include "base/quantity.h"
#include "disc/plan_json.h"
#include "music/pitch.h"
#include "steel/modes.h"
#include "steel/tooth.h"
#include "steel/tuning.h"

namespace combwright::app {
namespace {

constexpr double room_temperature_c = 20.0;

struct Options {
  std::string length;
  std::string width;
  std::string thickness;
  std::string tip_thickness;
  std::vector<std::string> leads;
  std::string lead_length;
  std::string root_stiffness;
  std::string modulus;
  std::string density;
  std::string theory = "thick";
  std::string temperature;
  bool json = false;
};

// The value of an option, or what stands in for it if it is not given.
double quantity(const std::string& name, const std::string& text, Dimension dimension,
                double otherwise) {
  return option_quantity(name, text, dimension).value_or(otherwise);
}

// "544 mg@27 mm"
steel::Lead lead(const steel::Tooth& tooth, const std::string& text, double length_m) {
  const std::size_t at = text.find('@');
  if (at == std::string::npos) {
    throw Error({}, fmt::format("--lead \"{}\" names no place; write MASS@POSITION such as "
                                "\"540 mg@27 mm\"",
                                text));
  }
  const auto part = [&text](const std::string& value, const char* what, Dimension dimension) {
    if (value.find_first_not_of(' ') == std::string::npos) {
      throw Error({}, fmt::format("--lead \"{}\" gives no {}; write MASS@POSITION such as "
                                  "\"540 mg@27 mm\"",
                                  text, what));
    }
    return quantity("--lead", value, dimension, 0.0);
  };
  const double mass = part(text.substr(0, at), "mass", Dimension::mass);
  const double place = part(text.substr(at + 1), "place", Dimension::length);
  return steel::lead_block(tooth, mass, place, length_m);
}

steel::Theory theory(const std::string& text) {
  if (text == "thin") return steel::Theory::thin;
  if (text == "thick") return steel::Theory::thick;
  throw Error({}, fmt::format("--theory {} is unknown; write thin or thick", text));
}

void refuse_impossible(const steel::Tooth& tooth) {
  const std::string problem = steel::problem(tooth);
  if (!problem.empty()) throw Error({}, problem);
}

steel::Tooth described(const Options& options) {
  const double thickness = quantity("--thickness", options.thickness, Dimension::length, 0.0);
  steel::Metal metal = steel::spring_steel;
  metal.modulus_pa = quantity("--modulus", options.modulus, Dimension::pressure, metal.modulus_pa);
  metal.density_kg_m3 =
      quantity("--density", options.density, Dimension::density, metal.density_kg_m3);
  steel::Tooth tooth = steel::plain_tooth(
      quantity("--length", options.length, Dimension::length, 0.0),
      quantity("--width", options.width, Dimension::length, 0.0), thickness,
      quantity("--tip-thickness", options.tip_thickness, Dimension::length, thickness), metal);
  tooth.theory = theory(options.theory);
  tooth.root.turning_n_m =
      quantity("--root-stiffness", options.root_stiffness, Dimension::torque, steel::rigid);
  refuse_impossible(tooth);
  const double lead_length = quantity("--lead-length", options.lead_length, Dimension::length, 0.0);
  if (lead_length != 0.0 && options.leads.empty())
    throw Error({}, "--lead-length is given without a lead; add --lead MASS@POSITION");
  if (lead_length < 0.0)
    throw Error({}, fmt::format("--lead-length \"{}\" is no length; give one of 0 or more",
                                options.lead_length));
  for (const std::string& text : options.leads)
    tooth.leads.push_back(lead(tooth, text, lead_length));
  refuse_impossible(tooth);
  return tooth;
}

struct Answer {
  std::vector<double> modes_hz;
  double tip_stiffness_n_m = 0.0;
  double steel_mass_kg = 0.0;
  steel::Sensitivity sensitivity;
  Findings findings;
};

Answer solved(const steel::Tooth& tooth) {
  Answer answer{.tip_stiffness_n_m = steel::tip_stiffness_n_m(tooth),
                .steel_mass_kg = steel::steel_mass_kg(tooth),
                .sensitivity = steel::sensitivity(tooth),
                .findings = steel::findings(tooth)};
  for (const steel::Mode& mode : steel::modes(tooth)) answer.modes_hz.push_back(mode.frequency_hz);
  return answer;
}

Json json(const Answer& answer) {
  return {{"modes_hz", answer.modes_hz},
          {"tip_stiffness_n_m", answer.tip_stiffness_n_m},
          {"cents_per_mg", answer.sensitivity.clip_cents_per_mg},
          {"cents_per_k", steel::cents_per_k()},
          {"file_root_cents_per_um", answer.sensitivity.file_root_cents_per_um},
          {"file_tip_cents_per_um", answer.sensitivity.file_tip_cents_per_um},
          {"steel_mass_kg", answer.steel_mass_kg},
          {"findings", disc::to_json(answer.findings)}};
}

// "F#5 +12.3 cents": the nearest note of equal temperament at A4 = 440 Hz.
std::string note_text(double frequency_hz) {
  const auto nearest = music::nearest_note(frequency_hz);
  if (!nearest) return "beyond all notes";
  return fmt::format("{} {:+.1f} cents", music::note_name(nearest->midi), nearest->offset_cents);
}

// How far down a block hangs is told, so that one that fouls what lies below is seen.
std::string root_text(const steel::Root& root) {
  if (root.turning_n_m == steel::rigid) return "rigid";
  return to_text(root.turning_n_m, Dimension::torque) + " turn it by one radian";
}

std::string lead_text(const steel::Lead& lead) {
  const std::string text = fmt::format("{} at {}", to_text(lead.mass_kg, Dimension::mass),
                                       to_text(lead.center_m, Dimension::length));
  if (lead.length_m == 0.0) return text + ", taken as a point";
  return fmt::format("{}, {} long, hangs {} down under the steel", text,
                     to_text(lead.length_m, Dimension::length),
                     to_text(lead.height_m, Dimension::length));
}

std::string table(const steel::Tooth& tooth, const Answer& answer) {
  Table modes({"Mode", "Frequency", "Times the first"});
  for (std::size_t i = 0; i < answer.modes_hz.size(); ++i) {
    modes.add({fmt::format("{}", i + 1), fmt::format("{:.2f} Hz", answer.modes_hz[i]),
               fmt::format("{:.3f}", answer.modes_hz[i] / answer.modes_hz[0])});
  }
  std::vector<std::pair<std::string, std::string>> rows{
      {"Pitch", note_text(answer.modes_hz[0])},
      {"Tip stiffness", to_text(answer.tip_stiffness_n_m, Dimension::stiffness)},
      {"Root", root_text(tooth.root)},
      {"Steel", to_text(answer.steel_mass_kg, Dimension::mass)}};
  for (const steel::Lead& lead : tooth.leads) rows.emplace_back("Lead", lead_text(lead));
  rows.insert(rows.end(),
              {{"Clipping",
                fmt::format("{:+.3f} cents for each mg {}", answer.sensitivity.clip_cents_per_mg,
                            tooth.leads.empty() ? "less at the tip" : "off the lead's tip end")},
               {"Filing the root", fmt::format("{:+.3f} cents for each um off the first tenth",
                                               answer.sensitivity.file_root_cents_per_um)},
               {"Filing the tip", fmt::format("{:+.3f} cents for each um off the last tenth",
                                              answer.sensitivity.file_tip_cents_per_um)},
               {"Warmth", fmt::format("{:+.3f} cents for each kelvin", steel::cents_per_k())}});
  return facts(rows) + "\n" + modes.text();
}

int show_tooth(const Options& options) {
  const double warmer =
      temperature_option(options.temperature).value_or(room_temperature_c) - room_temperature_c;
  const steel::Tooth tooth = described(options);
  const Answer answer = solved(steel::warmed(tooth, warmer));
  print(options.json ? page_of(json(answer))
                     : table(tooth, answer) + findings_text(answer.findings));
  return status_of(answer.findings);
}

}  // namespace

void add_tooth(CLI::App& program, Run& run) {
  const auto options = std::make_shared<Options>();
  CLI::App& command = add_command(
      program, "tooth", "The modes of one tooth, and what clipping and filing do to its pitch",
      "combwright tooth --length \"30 mm\" --width \"2 mm\" --thickness \"1 mm\" "
      "--lead \"540 mg@27 mm\" --lead-length \"6 mm\"");
  const auto add = [&command](const char* name, std::string& text, const char* help,
                              const char* type) {
    return command.add_option(name, text, help)->type_name(type);
  };
  add("--length", options->length, "from the root to the tip", "L")->required();
  add("--width", options->width, "of the tooth", "W")->required();
  add("--thickness", options->thickness, "at the root", "T")->required();
  add("--tip-thickness", options->tip_thickness,
      "at the tip; runs there linearly (default: as at the root)", "T2");
  command
      .add_option("--lead", options->leads,
                  "a lead and where its middle lies from the root; may be given more than once")
      ->type_name("MASS@POSITION")
      ->allow_extra_args(false);
  add("--lead-length", options->lead_length,
      "of each lead, along the tooth; its height follows (default: a point)", "LL");
  add("--root-stiffness", options->root_stiffness,
      "moment that turns the root by one radian (default: rigid)", "K");
  add("--modulus", options->modulus, "of the steel (default: 205 GPa)", "E");
  add("--density", options->density, "of the steel (default: 7850 kg/m3)", "R");
  add("--theory", options->theory,
      "thin: bending only; thick: shear and rotary inertia too (default)", "thin|thick");
  add("--temperature", options->temperature, "all other values are those at 20 C (default: 20 C)",
      "C");
  add_json_flag(command, options->json);
  command.callback([&run, options] { run = [options] { return show_tooth(*options); }; });
}

}  // namespace combwright::app
