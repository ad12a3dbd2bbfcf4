// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "ear/hear.h"

namespace combwright::ear {

// A stretch of live sound with one pluck, from a little before it.
struct PluckSound {
  std::vector<double> samples;
  double begin_s = 0.0;  // of the first sample, since listening began
  double onset_s = 0.0;  // likewise, where something began to sound
  Heard heard;           // what hear() makes of it; a knock has no plucks
};

// Listens to sound as it comes. A pluck is handed out as soon as its pitch is known well, at
// least_listen_s after it at the earliest; or when it has died away or was held, when the next
// thing begins, and at the latest most_listen_s after it. What is kept, and the time that one block
// takes, is bounded. How the sound is cut into blocks changes nothing.
class Listener {
 public:
  static constexpr double least_rate_hz = 8000.0;
  static constexpr double most_rate_hz = 96000.0;
  static constexpr double least_listen_s = 0.7;
  static constexpr double most_listen_s = 2.5;
  // Known to this by sound alone, as well as the recorder's clock is right, a pitch is known well.
  static constexpr double good_cents = 0.05;

  // The rate lies between the bounds above.
  explicit Listener(double rate_hz);

  // The next samples, full scale 1; what was plucked and has now been heard. `near_hz` as in
  // Listening.
  std::vector<PluckSound> take(std::span<const double> block, std::optional<double> near_hz);

  // How long the pluck that is being listened to has rung; nothing while there is none.
  std::optional<double> ringing_s() const;

 private:
  double seconds(std::size_t samples) const;
  std::size_t end() const { return base_ + samples_.size(); }
  std::span<const double> between(std::size_t first, std::size_t last) const;
  std::vector<std::size_t> onsets_from(std::size_t first) const;
  double level(std::size_t first, std::size_t last) const;
  void forget();
  void look_for_onset();
  std::size_t pluck_begin() const;
  bool died(std::size_t step) const;
  std::optional<PluckSound> follow(std::optional<double> near_hz);

  double rate_hz_;
  std::size_t base_ = 0;               // number of the first sample that is kept
  std::vector<double> samples_;        // up to the last whole step
  std::vector<double> coming_;         // of a step that is not whole
  std::optional<std::size_t> onset_;   // of the pluck under way
  std::optional<std::size_t> before_;  // onset of what came before it
  std::size_t heed_from_ = 0;          // no onset before this is looked at
  double next_try_s_ = 0.0;            // after the onset
};

}  // namespace combwright::ear
