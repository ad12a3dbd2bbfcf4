// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>
#include <chrono>
#include <cstdio>
#include "steel/modes.h"
using namespace combwright::steel;
TEST(X, y) {
  Tooth t = plain_tooth(0.03, 0.002, 0.001, 0.001);
  for (auto th : {Theory::thin, Theory::thick}) for (double tip : {1.0, 0.4}) {
    t.theory = th;
    t.sections[0].tip_thickness_m = tip * 1e-3;
    for (const auto& m : modes(t, 5)) std::printf("%.10f M %.12f share %.12f mom %.8f f %.6f\n", m.frequency_hz, m.modal_mass_kg/ 471e-6, m.release_share, m.root_moment_n/(205e9*1.6666666666666666e-13/9e-4), m.root_force_n_m/(205e9*1.66666666666666e-13/27e-6));
    std::printf("k %.8f\n", tip_stiffness_n_m(t));
    for (int c : {1, 4}) {
    auto a = std::chrono::steady_clock::now();
    double s = 0;
    for (int i = 0; i < 2000; ++i) { t.sections[0].length_m = 0.03 + 1e-7 * i; s += modes(t, c)[0].frequency_hz; }
    std::printf("%d modes %.2f us\n", c, std::chrono::duration<double>(std::chrono::steady_clock::now() - a).count() / 2000 * 1e6);
    }
    t.sections[0].length_m = 0.03;
  }
}
