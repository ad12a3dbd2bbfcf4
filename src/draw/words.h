// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "box/box.h"
#include "steel/comb_lists.h"

namespace combwright::draw {

// "+3 semitones, up a minor third", "-1 semitone", "not transposed".
std::string transposition_words(int semitones);

// Against the written tempo: "as written", "8 % faster".
std::string tempo_words(double tempo_factor);

// "1 note", "12 notes".
std::string counted(std::size_t count, const std::string& noun);

// "152.4 mm wide, 103 mm deep, 3 mm thick, 4 screw holes of 4.5 mm".
std::string plate_words(const box::Comb& comb, const steel::Plate& plate);

// "4 min 12 s", "42 s": for times of work.
std::string duration_words(double seconds);

}  // namespace combwright::draw
