// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

namespace combwright::draw {

// "+3 semitones, up a minor third", "-1 semitone", "not transposed".
std::string transposition_words(int semitones);

// Against the written tempo: "as written", "8 % faster".
std::string tempo_words(double tempo_factor);

// "1 note", "12 notes".
std::string counted(std::size_t count, const std::string& noun);

// "4 min 12 s", "42 s": for times of work.
std::string duration_words(double seconds);

}  // namespace combwright::draw
