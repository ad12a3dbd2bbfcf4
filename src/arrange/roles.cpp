// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cassert>
#include <cstddef>
#include <limits>

#include "arrange/rules.h"
#include "arrange/score.h"

namespace combwright::arrange {
namespace {

using music::Note;
using music::Tune;

// A line is found the same way on top and at the bottom: `sign` turns the pitch axis over.
class LineFinder {
 public:
  LineFinder(const Tune& tune, int sign) : tune_(tune), sign_(sign) {}

  // For each note, whether it belongs to the line.
  std::vector<bool> find(std::optional<int> asked = {}) const {
    const std::vector<bool> edge = edge_of(all_parts);
    const int leader = asked.value_or(leading_part(edge));
    std::vector<bool> line = edge_of(leader);
    const std::vector<double> sounding_until = silence_limits(leader);
    for (std::size_t i = 0; i < line.size(); ++i) {
      const Note& note = tune_.notes[i];
      const bool leader_rests = note.onset_s > sounding_until[i] + same_onset_s;
      if (note.part != leader && leader_rests && edge[i]) line[i] = true;
    }
    return line;
  }

 private:
  static constexpr int all_parts = -1;

  int height(const Note& note) const { return sign_ * note.midi; }

  // Notes that stand at the edge of what sounds in one part, or in all of them: nothing that
  // starts with them, or still sounds for half of its length, lies further out.
  std::vector<bool> edge_of(int part) const {
    const auto& notes = tune_.notes;
    std::vector<bool> edge(notes.size(), false);
    double held_until = -1.0;
    int held_height = std::numeric_limits<int>::min();
    for (std::size_t i = 0; i < notes.size();) {
      std::size_t end = i;
      std::size_t outermost = notes.size();
      for (; end < notes.size() && notes[end].onset_s <= notes[i].onset_s + same_onset_s; ++end) {
        if (part != all_parts && notes[end].part != part) continue;
        if (outermost == notes.size() || height(notes[end]) > height(notes[outermost]))
          outermost = end;
      }
      if (outermost < notes.size()) {
        const Note& note = notes[outermost];
        const bool covered = note.onset_s < held_until - same_onset_s && held_height > height(note);
        if (!covered) {
          edge[outermost] = true;
          held_height = height(note);
          held_until = note.onset_s + 0.5 * note.duration_s;
        }
      }
      i = end;
    }
    leave_strums(edge);
    return edge;
  }

  // Of a chord that is strummed towards the edge only the last note stands there.
  void leave_strums(std::vector<bool>& edge) const {
    constexpr double strum_s = 0.05;  // from one note to the next
    constexpr std::size_t most_strummed = 24;
    const auto& notes = tune_.notes;
    for (std::size_t i = 0; i < notes.size(); ++i) {
      const double still_sounds_s = notes[i].onset_s + 0.5 * notes[i].duration_s;
      for (std::size_t j = i + 1; edge[i] && j < std::min(notes.size(), i + most_strummed) &&
                                  notes[j].onset_s <= notes[i].onset_s + strum_s;
           ++j) {
        const bool one_chord = notes[j].part == notes[i].part && notes[j].onset_s < still_sounds_s;
        if (one_chord && height(notes[j]) > height(notes[i])) edge[i] = false;
      }
    }
  }

  // The part that has the greatest share of the edge, by sounding time.
  int leading_part(const std::vector<bool>& edge) const {
    std::vector<double> share(std::max<std::size_t>(tune_.parts.size(), 1), 0.0);
    for (std::size_t i = 0; i < edge.size(); ++i) {
      const auto part = static_cast<std::size_t>(tune_.notes[i].part);
      assert(part < share.size());
      if (edge[i]) share[part] += std::min(tune_.notes[i].duration_s, 2.0);
    }
    return static_cast<int>(std::max_element(share.begin(), share.end()) - share.begin());
  }

  // For each note, until when the leading part has been heard up to then. A rest shorter than a
  // second is a breath, not a rest.
  std::vector<double> silence_limits(int leader) const {
    constexpr double breath_s = 1.0;
    std::vector<double> limits(tune_.notes.size());
    double until = -breath_s;
    for (std::size_t i = 0; i < limits.size();) {
      std::size_t end = i;
      for (;
           end < limits.size() && tune_.notes[end].onset_s <= tune_.notes[i].onset_s + same_onset_s;
           ++end) {
        const Note& note = tune_.notes[end];
        if (note.part == leader) until = std::max(until, note.onset_s + note.duration_s + breath_s);
      }
      std::fill(limits.begin() + static_cast<std::ptrdiff_t>(i),
                limits.begin() + static_cast<std::ptrdiff_t>(end), until);
      i = end;
    }
    return limits;
  }

  const Tune& tune_;
  int sign_;
};

}  // namespace

std::vector<Role> roles(const Tune& tune, std::optional<int> melody_part) {
  const std::vector<bool> top = LineFinder(tune, +1).find(melody_part);
  const std::vector<bool> low = LineFinder(tune, -1).find();
  std::vector<Role> result(tune.notes.size(), Role::inner);
  for (std::size_t i = 0; i < result.size(); ++i) {
    if (low[i]) result[i] = Role::bass;
    if (top[i]) result[i] = Role::melody;
  }
  return result;
}

}  // namespace combwright::arrange
