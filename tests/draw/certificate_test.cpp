// SPDX-License-Identifier: Apache-2.0
#include "draw/certificate.h"

#include <cmath>
#include <random>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/error.h"
#include "base/file.h"
#include "box/box_reader.h"
#include "draw/certificate_plot.h"
#include "records/planned.h"

namespace combwright::draw {
namespace {

using records::WorkKind;
using testing::DoubleNear;
using testing::ElementsAre;
using testing::Optional;
using testing::StartsWith;

box::Box bramble() {
  const std::string path = COMBWRIGHT_SOURCE_DIR "/examples/bramble.toml";
  return box::read_box(as_text(read_file(path)), path, {}).box;
}

records::FiledComb comb_with(const box::Box& box) {
  records::FiledComb comb;
  comb.plan = records::planned_comb(box, 0, std::string(64, 'a'));
  return comb;
}

void read_tooth(records::FiledComb& comb, int track, double cents, std::optional<double> at_c,
                std::vector<records::Work> work = {}) {
  records::FiledReading filed;
  filed.tooth = comb.plan.teeth.at(static_cast<std::size_t>(track - 1));
  filed.in_tune_c = comb.plan.in_tune_c;
  filed.work = std::move(work);
  filed.reading.frequency_hz = filed.tooth.target_hz * std::exp2(cents / 1200.0);
  filed.reading.temperature_c = at_c;
  filed.reading.at = "2024-05-17";
  comb.readings.push_back(filed);
}

TEST(Certificate, TellsFirstAndLastReadingOfEachTooth) {
  const box::Box box = bramble();
  records::FiledComb comb = comb_with(box);
  read_tooth(comb, 2, -80.0, std::nullopt);
  read_tooth(comb, 2, -9.0, std::nullopt, {{WorkKind::clip, 3e-4}});
  read_tooth(comb, 2, -1.0, std::nullopt, {{WorkKind::clip, 1e-4}, {WorkKind::file_root, 1e-5}});
  read_tooth(comb, 4, 3.0, std::nullopt, {{WorkKind::clip, 3e-4}});
  const Certificate made = certificate(box, 0, comb, {});
  ASSERT_EQ(made.teeth.size(), 30U);
  EXPECT_THAT(made.teeth[1].as_cut_cents, Optional(DoubleNear(-80.0, 1e-9)));
  EXPECT_THAT(made.teeth[1].final_cents, Optional(DoubleNear(-1.0, 1e-9)));
  EXPECT_DOUBLE_EQ(made.teeth[1].clipped_length_m, 4e-4);
  EXPECT_TRUE(made.teeth[1].filed);
  // Clipped before it was ever read: nobody knows how it was cut.
  EXPECT_EQ(made.teeth[3].as_cut_cents, std::nullopt);
  EXPECT_EQ(made.teeth[0].final_cents, std::nullopt);
  EXPECT_EQ(tracks_not_read(made).size(), 28U);
  EXPECT_THAT(tracks_out_of_tolerance(made), ElementsAre(4));
}

// A steel tuning fork falls by 1.12e-4 of its pitch for each kelvin (R. Koenig, 1880; from memory),
// 0.97 cents for five.
TEST(Certificate, BringsReadingsToTheTemperatureOfTheScale) {
  const box::Box box = bramble();
  records::FiledComb comb = comb_with(box);
  read_tooth(comb, 1, 0.0, box.scale.temperature_c + 5.0);
  EXPECT_THAT(certificate(box, 0, comb, {}).teeth[0].final_cents, Optional(DoubleNear(0.97, 0.1)));
}

TEST(Certificate, HoldsReadingsAgainstTheTargetsOfTheBoxFile) {
  box::Box box = bramble();
  records::FiledComb comb = comb_with(box);
  read_tooth(comb, 1, 0.0, std::nullopt);
  box.scale.a4_hz *= std::exp2(10.0 / 1200.0);
  EXPECT_THAT(certificate(box, 0, comb, {}).teeth[0].final_cents,
              Optional(DoubleNear(-10.0, 1e-9)));
}

TEST(Certificate, SaysTracksInWords) {
  EXPECT_EQ(track_ranges({4}), "track 4");
  EXPECT_EQ(track_ranges({1, 2, 4, 6, 7, 8}), "tracks 1, 2, 4, 6 to 8");
}

TEST(Certificate, IsTheSameBytesForTheSameInput) {
  const box::Box box = bramble();
  records::FiledComb comb = comb_with(box);
  read_tooth(comb, 1, -1.0, 21.0);
  const Certificate made = certificate(box, 0, comb, {});
  const Stamp stamp{"2024-05-17", std::string(64, 'a'), "box file"};
  const std::string pdf = write_certificate_pdf(made, {}, stamp);
  EXPECT_THAT(pdf, StartsWith("%PDF-"));
  EXPECT_TRUE(pdf == write_certificate_pdf(made, {}, stamp));
}

TEST(Certificate, HasAnAxisThatHoldsEveryValue) {
  std::mt19937 random(20240517);
  std::uniform_real_distribution<double> exponent(-3.0, 3.0);
  for (int i = 0; i < 1000; ++i) {
    CentsPlot plot;
    for (int k = 0; k < 5; ++k)
      plot.cents.push_back((k % 2 == 0 ? -1.0 : 1.0) * std::pow(10.0, exponent(random)));
    if (i % 2 == 0) plot.tolerance = 2.0;
    const PlotAxis axis = cents_axis(plot);
    for (const auto& cents : plot.cents) {
      EXPECT_LE(axis.low, *cents);
      EXPECT_GE(axis.high, *cents);
    }
    EXPECT_LE((axis.high - axis.low) / axis.step, 8.0 + 1e-6);
    const double digit = axis.step / std::pow(10.0, std::floor(std::log10(axis.step) + 1e-9));
    EXPECT_THAT(
        digit, testing::AnyOf(DoubleNear(1.0, 1e-6), DoubleNear(2.0, 1e-6), DoubleNear(5.0, 1e-6)));
  }
}

}  // namespace
}  // namespace combwright::draw
