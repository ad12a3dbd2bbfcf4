// SPDX-License-Identifier: Apache-2.0
//
// Time of the modes of all teeth of a box with two combs of 76, beside the usual road: Hermite beam
// elements and Eigen's dense solver, on the same teeth in the same run. Both must agree on every
// mode before anything is timed.
//
//   bench_steel [FILE]    figures to FILE, build/bench/steel.json by default
//
// Times are medians of processor time. run.py adds a 3-D finite element program.
#include <algorithm>
#include <cmath>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <numbers>
#include <stdexcept>
#include <string>
#include <vector>

#include <Eigen/Eigenvalues>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "action/action.h"
#include "base/file.h"
#include "base/finding.h"
#include "box/box_reader.h"
#include "steel/comb.h"
#include "steel/modes.h"
#include "steel/tooth.h"

namespace {

using namespace combwright;
using Json = nlohmann::ordered_json;

constexpr int tracks = 76;
constexpr int combs = 2;
constexpr int mode_count = 4;
constexpr int repeats = 31;
constexpr int elements = 40;
// What 40 elements leave of the fourth mode.
constexpr double elements_error = 2e-5;

// From 70 mm down to 20 mm, ground thinner towards the tip; the longer half has leads at the tip.
std::vector<steel::Tooth> box_of_teeth(steel::Theory theory, double tip_thickness) {
  std::vector<steel::Tooth> teeth;
  for (int i = 0; i < combs * tracks; ++i) {
    const double share = static_cast<double>(i % tracks) / (tracks - 1);
    const double length = 0.07 * std::pow(2.0 / 7.0, share);
    steel::Tooth tooth = steel::plain_tooth(length, 0.0016, 0.001, tip_thickness);
    tooth.theory = theory;
    if (i % tracks < tracks / 2) {
      const double block = 0.12 * length;
      const double mass = (1.5 - share) * steel::steel_mass_kg(tooth);
      tooth.leads = {steel::lead_block(tooth, mass, length - 0.5 * block, block)};
    }
    teeth.push_back(tooth);
  }
  return teeth;
}

std::vector<double> ours(const steel::Tooth& tooth) {
  std::vector<double> hz;
  for (const steel::Mode& mode : steel::modes(tooth, mode_count)) hz.push_back(mode.frequency_hz);
  return hz;
}

// Bending stiffness, mass and rotary inertia for each length at a position.
struct Lengthwise {
  double bending;
  double mass;
  double rotary;
};

Lengthwise at(const steel::Tooth& tooth, double position_m) {
  const double b = steel::width_m(tooth, position_m);
  const double h = steel::thickness_m(tooth, position_m);
  Lengthwise found{tooth.steel.modulus_pa * b * h * h * h / 12.0, tooth.steel.density_kg_m3 * b * h,
                   0.0};
  for (const steel::Lead& lead : tooth.leads) {
    if (std::abs(position_m - lead.center_m) > 0.5 * lead.length_m) continue;
    const double c = lead.height_m;
    const double z = lead.offset_m;
    const double steel_part = tooth.steel.modulus_pa * b * h;
    const double lead_part = lead.modulus_pa * lead.width_m * c;
    found.bending +=
        lead_part * c * c / 12.0 + steel_part * lead_part / (steel_part + lead_part) * z * z;
    found.mass += lead.mass_kg / lead.length_m;
    found.rotary += lead.mass_kg / lead.length_m * (c * c / 12.0 + z * z);
  }
  return found;
}

// Cubic elements, nodes at the lead's inner end, four Gauss points each.
std::vector<double> by_elements(const steel::Tooth& tooth) {
  const double tip = steel::length_m(tooth);
  const double inner =
      tooth.leads.empty() ? 0.8 * tip : tooth.leads[0].center_m - 0.5 * tooth.leads[0].length_m;
  Eigen::MatrixXd k = Eigen::MatrixXd::Zero(2 * elements + 2, 2 * elements + 2);
  Eigen::MatrixXd m = k;
  constexpr int inner_elements = elements * 4 / 5;
  const auto node = [&](int i) {
    return i <= inner_elements
               ? inner * i / inner_elements
               : inner + (tip - inner) * (i - inner_elements) / (elements - inner_elements);
  };
  for (int e = 0; e < elements; ++e) {
    const double from = node(e);
    const double a = node(e + 1) - from;
    for (const auto& [t, weight] : {std::pair{-0.861136311594053, 0.347854845137454},
                                    {-0.339981043584856, 0.652145154862546},
                                    {0.339981043584856, 0.652145154862546},
                                    {0.861136311594053, 0.347854845137454}}) {
      const double s = 0.5 * (1.0 + t);
      const Lengthwise p = at(tooth, from + s * a);
      const Eigen::Vector4d w(1 - 3 * s * s + 2 * s * s * s, a * s * (1 - s) * (1 - s),
                              s * s * (3 - 2 * s), a * s * s * (s - 1));
      const Eigen::Vector4d slope(6 * s * (s - 1) / a, 1 - 4 * s + 3 * s * s, 6 * s * (1 - s) / a,
                                  3 * s * s - 2 * s);
      const Eigen::Vector4d curve((12 * s - 6) / (a * a), (6 * s - 4) / a, (6 - 12 * s) / (a * a),
                                  (6 * s - 2) / a);
      const double share = 0.5 * weight * a;
      k.block<4, 4>(2 * e, 2 * e) += share * p.bending * curve * curve.transpose();
      m.block<4, 4>(2 * e, 2 * e) +=
          share * (p.mass * w * w.transpose() + p.rotary * slope * slope.transpose());
    }
  }
  const Eigen::Index free = 2 * elements;
  const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd> solver(
      k.bottomRightCorner(free, free), m.bottomRightCorner(free, free), Eigen::EigenvaluesOnly);
  std::vector<double> hz;
  for (int i = 0; i < mode_count; ++i)
    hz.push_back(std::sqrt(solver.eigenvalues()[i]) / (2.0 * std::numbers::pi));
  return hz;
}

void check(const std::vector<steel::Tooth>& teeth) {
  for (const steel::Tooth& tooth : teeth) {
    const std::vector<double> a = ours(tooth);
    const std::vector<double> b = by_elements(tooth);
    for (std::size_t i = 0; i < a.size(); ++i) {
      if (!(std::abs(a[i] / b[i] - 1.0) < elements_error))
        throw std::runtime_error(
            fmt::format("mode {}: {} Hz, by elements {} Hz", i + 1, a[i], b[i]));
    }
  }
}

// Processor seconds of some runs. What the machine does beside only adds.
struct CpuTime {
  double median_s = 0.0;
  double least_s = 0.0;
};

template <class Work>
CpuTime cpu_time(int runs, const Work& work) {
  std::vector<double> seconds;
  for (int i = 0; i < runs; ++i) {
    const std::clock_t start = std::clock();
    work();
    seconds.push_back(static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC);
  }
  std::sort(seconds.begin(), seconds.end());
  return {seconds[seconds.size() / 2], seconds.front()};
}

Json row(const std::string& figure, const std::string& reach, const std::string& measured,
         double tooth_s = 0.0) {
  fmt::print("{:44} {:9} {}\n", figure, reach, measured);
  Json row{{"figure", figure}, {"reach", reach}, {"measured", measured}};
  if (tooth_s > 0.0) row["tooth_s"] = tooth_s;
  return row;
}

CpuTime modes_time(const std::vector<steel::Tooth>& teeth) {
  return cpu_time(repeats, [&] {
    for (const steel::Tooth& tooth : teeth) ours(tooth);
  });
}

// The larger example box with its combs designed, which must come out sound.
struct Designed {
  std::vector<steel::Tooth> teeth;  // in tune, of all combs
  double cpu_s = 0.0;               // of all threads, for the whole design
};

Designed designed() {
  const std::string path = COMBWRIGHT_SOURCE_DIR "/examples/larkspur.toml";
  const box::Box box = box::read_box(as_text(read_file(path)), path).box;
  const std::vector<std::vector<double>> lift_m = action::lifts_m(box);
  Designed result;
  for (const steel::CombDesign& design : steel::design_combs(box, {}, lift_m)) {
    if (has_fault(design.findings)) throw std::runtime_error("the example comb is not sound");
    for (const steel::CombTooth& tooth : design.teeth) result.teeth.push_back(tooth.in_tune);
  }
  result.cpu_s = cpu_time(3, [&] { steel::design_combs(box, {}, lift_m); }).median_s;
  return result;
}

Json measured() {
  using steel::Theory;
  const auto ground = box_of_teeth(Theory::thin, 0.0008);
  check(ground);
  check(box_of_teeth(Theory::thin, 0.001));
  const auto milliseconds = [](const CpuTime& time) {
    return fmt::format("{:.2f} ms; least {:.2f} ms", 1e3 * time.median_s, 1e3 * time.least_s);
  };
  const CpuTime even = modes_time(box_of_teeth(Theory::thin, 0.001));
  const CpuTime ground_time = modes_time(ground);
  const CpuTime elements_time = cpu_time(1, [&] {
    for (const steel::Tooth& tooth : ground) by_elements(tooth);
  });
  const auto thick = box_of_teeth(Theory::thick, 0.0008);
  const CpuTime thick_time = modes_time(thick);
  const CpuTime first_time = cpu_time(repeats, [&] {
    for (const steel::Tooth& tooth : thick) steel::first_mode_hz(tooth);
  });
  const Designed larkspur = designed();
  const CpuTime larkspur_time = modes_time(larkspur.teeth);
  return {row("both combs of the larger example box, designed", "<= 1 s",
              fmt::format("{:.0f} ms", 1e3 * larkspur.cpu_s)),
          row("4 modes of its 2 x 76 teeth, thick", "<= 3 ms", milliseconds(larkspur_time),
              larkspur_time.median_s / static_cast<double>(larkspur.teeth.size())),
          row("4 modes of 2 x 76 even teeth, thin", "<= 3 ms", milliseconds(even)),
          row("4 modes of 2 x 76 ground teeth, thin", "<= 3 ms", milliseconds(ground_time)),
          row("4 modes of 2 x 76 ground teeth, thick", "<= 3 ms", milliseconds(thick_time)),
          row("first mode of 2 x 76 ground teeth, thick", "", milliseconds(first_time)),
          row("modes, times faster than 40 beam elements", "",
              fmt::format("{:.0f} x", elements_time.median_s / ground_time.median_s))};
}

}  // namespace

int main(int count, char** arguments) {
  try {
    const std::filesystem::path file = count > 1 ? arguments[1] : "build/bench/steel.json";
    const Json results = measured();
    if (file.has_parent_path()) std::filesystem::create_directories(file.parent_path());
    std::ofstream(file) << results.dump(2) << '\n';
  } catch (const std::exception& error) {
    fmt::print(stderr, "{}\n", error.what());
    return 1;
  }
}
