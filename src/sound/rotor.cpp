// SPDX-License-Identifier: Apache-2.0
// Highway compiles this file once for every kind of processor.
#undef HWY_TARGET_INCLUDE
#define HWY_TARGET_INCLUDE "sound/rotor.cpp"
#include "sound/rotor.h"

#include <algorithm>

#include <hwy/foreach_target.h>
#include <hwy/highway.h>

HWY_BEFORE_NAMESPACE();
namespace combwright::sound::HWY_NAMESPACE {

namespace hn = hwy::HWY_NAMESPACE;

// Multiply and add stay apart: a fused one would round differently on processors that have it.
void add_voice(const Rotor& rotor, float state_re, float state_im, float* HWY_RESTRICT out) {
  const hn::CappedTag<float, lane_count / 2> d;
  const std::size_t width = hn::Lanes(d);
  const auto step_re = hn::Set(d, rotor.step_re);
  const auto step_im = hn::Set(d, rotor.step_im);
  const auto start_re = hn::Set(d, state_re);
  const auto start_im = hn::Set(d, state_im);
  const auto turned_re = [](auto re, auto im, auto by_re, auto by_im) {
    return hn::Sub(hn::Mul(re, by_re), hn::Mul(im, by_im));
  };
  const auto turned_im = [](auto re, auto im, auto by_re, auto by_im) {
    return hn::Add(hn::Mul(re, by_im), hn::Mul(im, by_re));
  };
  // Two vectors at a time: each waits for its own last step, so the pair hides half the waiting.
  for (std::size_t lane = 0; lane < lane_count; lane += 2 * width) {
    const auto first_re = hn::LoadU(d, rotor.lane_re.data() + lane);
    const auto first_im = hn::LoadU(d, rotor.lane_im.data() + lane);
    const auto second_re = hn::LoadU(d, rotor.lane_re.data() + lane + width);
    const auto second_im = hn::LoadU(d, rotor.lane_im.data() + lane + width);
    auto a_re = turned_re(start_re, start_im, first_re, first_im);
    auto a_im = turned_im(start_re, start_im, first_re, first_im);
    auto b_re = turned_re(start_re, start_im, second_re, second_im);
    auto b_im = turned_im(start_re, start_im, second_re, second_im);
    for (float* at = out + lane; at < out + run_length; at += lane_count) {
      hn::StoreU(hn::Add(hn::LoadU(d, at), a_im), d, at);
      hn::StoreU(hn::Add(hn::LoadU(d, at + width), b_im), d, at + width);
      const auto a_next = turned_re(a_re, a_im, step_re, step_im);
      a_im = turned_im(a_re, a_im, step_re, step_im);
      a_re = a_next;
      const auto b_next = turned_re(b_re, b_im, step_re, step_im);
      b_im = turned_im(b_re, b_im, step_re, step_im);
      b_re = b_next;
    }
  }
}

}  // namespace combwright::sound::HWY_NAMESPACE
HWY_AFTER_NAMESPACE();

#if HWY_ONCE
namespace combwright::sound {

HWY_EXPORT(add_voice);

Rotor make_rotor(std::complex<double> rate_per_sample) {
  const auto after = [&](std::size_t samples) {
    return std::exp(rate_per_sample * static_cast<double>(samples));
  };
  Rotor rotor;
  for (std::size_t lane = 0; lane < lane_count; ++lane) {
    const auto turn = after(lane);
    rotor.lane_re[lane] = static_cast<float>(turn.real());
    rotor.lane_im[lane] = static_cast<float>(turn.imag());
  }
  rotor.step_re = static_cast<float>(after(lane_count).real());
  rotor.step_im = static_cast<float>(after(lane_count).imag());
  rotor.run = after(run_length);
  return rotor;
}

void next_run(std::span<Voice> voices, std::span<float, run_length> out) {
  std::fill(out.begin(), out.end(), 0.0F);
  const auto add = HWY_DYNAMIC_DISPATCH(add_voice);
  for (auto& voice : voices) {
    add(*voice.rotor, static_cast<float>(voice.state.real()),
        static_cast<float>(voice.state.imag()), out.data());
    voice.state *= voice.rotor->run;
  }
}

}  // namespace combwright::sound
#endif
