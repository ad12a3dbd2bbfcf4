// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "arrange/arrangement.h"
#include "box/box.h"
#include "steel/comb.h"
#include "steel/comb_lists.h"

namespace combwright::draw {

// "+3 semitones, up a minor third", "-1 semitone", "not transposed".
std::string transposition_words(int semitones);

// Against the written tempo: "as written", "8 % faster".
std::string tempo_words(double tempo_factor);

// "1 note", "12 notes".
std::string counted(std::size_t count, const std::string& noun);

// A length in millimetres without its unit, with so many decimals: "12.30".
std::string in_mm(double length_m, int decimals);

// What became of a note, for people: "kept", "moved", "an octave or two away", "left out".
std::string_view fate_words(arrange::Fate fate);

// "152.4 mm wide, 103 mm deep, 3 mm thick; 4 screw holes of 4.5 mm, 7.5 mm from the back edge and
// 38.1 mm apart, the outer ones 19.05 mm from the sides".
std::string plate_words(const box::Comb& comb, const steel::Plate& plate);

// The scale that one of the box's combs is tuned to, and how it lies apart from it: "A4 440 Hz,
// equal temperament, at 20 C"; "...; this comb 4 cents above, its A4 at 441.02 Hz; beats with comb
// front: 0.15 Hz at C2, 3.05 Hz at E6".
std::string pitch_words(const box::Box& box, std::size_t comb);

// The teeth that weights are for, by track: "3, 7"; with several combs "front 3, 7; back 4".
std::string tracks_words(const steel::LeadCut& cut, const std::vector<steel::CombDesign>& designs);

// "4 min 12 s", "42 s": for times of work.
std::string duration_words(double seconds);

}  // namespace combwright::draw
