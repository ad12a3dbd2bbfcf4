// SPDX-License-Identifier: Apache-2.0
#include "arrange/crowd_search.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <functional>
#include <limits>
#include <optional>

#include "arrange/rules.h"

namespace combwright::arrange {
namespace {

constexpr double never = -std::numeric_limits<double>::infinity();
constexpr double least_gain = 1e-9;

class CrowdSearch {
 public:
  CrowdSearch(const Problem& problem, const Crowd& crowd, double floor, std::size_t most_nodes)
      : problem_(problem),
        crowd_(crowd),
        most_(static_cast<std::size_t>(problem.most_plucks)),
        nodes_left_(most_nodes),
        taken_(crowd.notes, -1),
        time_s_(crowd.notes, 0.0),
        passed_s_(crowd.uses.size(), never),
        best_{.use = taken_, .time_s = time_s_, .earned = floor} {
    for (const CrowdUse& use : crowd.uses) {
      first_moment_s_ = std::min(first_moment_s_, use.earliest_s);
      last_moment_s_ = std::max(last_moment_s_, use.latest_s);
    }
    std::vector<int> teeth;
    for (const CrowdUse& use : crowd.uses) {
      const auto known = std::find(teeth.begin(), teeth.end(), use.tooth);
      tooth_of_.push_back(static_cast<std::size_t>(known - teeth.begin()));
      if (known == teeth.end()) teeth.push_back(use.tooth);
    }
    tooth_free_s_.assign(teeth.size(), never);
  }

  CrowdAnswer run() {
    extend();
    return best_;
  }

 private:
  struct Candidate {
    std::size_t use;
    double time_s;
  };
  struct Pluck {
    double time_s;
    int tooth;
  };

  double last_s() const { return plucks_s_.empty() ? never : plucks_s_.back(); }

  double motor_free_s() const {
    return plucks_s_.size() < most_
               ? never
               : plucks_s_[plucks_s_.size() - most_] + problem_.pluck_window_s + clearance_s;
  }

  // The earliest moment for a use, given the plucks so far.
  double earliest_s(std::size_t u, double motor_free) const {
    const CrowdUse& use = crowd_.uses[u];
    double time = std::max({use.earliest_s, motor_free, tooth_free_s_[tooth_of_[u]]});
    if (problem_.neighbours.empty()) return time;
    for (double before = never; time > before;) {
      before = time;
      for (const Pluck& pluck : crowd_plucks_) time = clear_of_neighbour(use.tooth, time, pluck);
    }
    return time;
  }

  // The first moment from `time` on at which enough sheet is left beside a pluck.
  double clear_of_neighbour(int k, double time, const Pluck& pluck) const {
    if (std::abs(pluck.tooth - k) != 1) return time;
    const NeighbourLimit& limit =
        problem_.neighbours[static_cast<std::size_t>(std::min(pluck.tooth, k))];
    const double centre = pluck.time_s + (k > pluck.tooth ? limit.shift_s : -limit.shift_s);
    return std::abs(time - centre) < limit.reach_s ? centre + limit.reach_s + clearance_s : time;
  }

  // The next use in time that is still open, and the most that all open ones can earn together.
  std::optional<Candidate> next(double& open) {
    const double motor_free = motor_free_s();
    std::optional<Candidate> first;
    gains_.assign(crowd_.notes, 0.0);
    for (std::size_t u = 0; u < crowd_.uses.size(); ++u) {
      const CrowdUse& use = crowd_.uses[u];
      const auto note = static_cast<std::size_t>(use.note);
      if (taken_[note] >= 0) continue;
      const bool can_wait = use.latest_s > passed_s_[u] + same_time_s;
      if (!can_wait) continue;
      double time = earliest_s(u, motor_free);
      if (time > use.latest_s + same_time_s) continue;
      time = std::min(time, use.latest_s);
      gains_[note] = std::max(gains_[note], use.gain);
      const bool due = time > passed_s_[u] + same_time_s && time >= last_s() - same_time_s;
      if (due && (!first || time < first->time_s)) first = Candidate{u, time};
    }
    const std::size_t room = room_left();
    if (room < gains_.size()) {
      std::nth_element(gains_.begin(), gains_.begin() + static_cast<std::ptrdiff_t>(room),
                       gains_.end(), std::greater<>());
      gains_.resize(room);
    }
    open = 0.0;
    for (const double gain : gains_) open += gain;
    return first;
  }

  // How many more plucks of the crowd the motor can drive until the crowd's last moment.
  std::size_t room_left() const {
    const auto others = crowd_.others_s.begin() + static_cast<std::ptrdiff_t>(next_other_);
    const auto first = std::lower_bound(others, crowd_.others_s.end(), first_moment_s_);
    const auto others_to_come = static_cast<std::size_t>(
        std::upper_bound(first, crowd_.others_s.end(), last_moment_s_) - first);
    const std::size_t room = motor_room();
    return room - std::min(room, others_to_come);
  }

  std::size_t motor_room() const {
    const double window = problem_.pluck_window_s;
    for (std::size_t back = std::min(most_, plucks_s_.size()); back > 0; --back)
      if (last_moment_s_ - plucks_s_[plucks_s_.size() - back] <= window) return most_ - back;
    const double start = std::max(first_moment_s_, last_s());
    const double windows = std::floor(std::max(0.0, last_moment_s_ - start) / window) + 1.0;
    return windows < static_cast<double>(crowd_.notes) ? most_ * static_cast<std::size_t>(windows)
                                                       : most_ * crowd_.notes;
  }

  void extend() {
    const bool complete = next_other_ == crowd_.others_s.size();
    if (complete && earned_ > best_.earned + least_gain) {
      best_.earned = earned_;
      best_.use = taken_;
      best_.time_s = time_s_;
    }
    double open = 0.0;
    const std::optional<Candidate> candidate = next(open);
    if (earned_ + open <= best_.earned + least_gain) return;
    if (nodes_left_ == 0) return;
    --nodes_left_;
    ++best_.nodes;
    if (!complete && (!candidate || crowd_.others_s[next_other_] <= candidate->time_s)) {
      make_way_for_other();
    } else if (candidate) {
      take(*candidate);
      pass(*candidate);
    }
  }

  void make_way_for_other() {
    const double time = crowd_.others_s[next_other_];
    if (time <= motor_free_s() - clearance_s + same_time_s) return;
    plucks_s_.push_back(time);
    ++next_other_;
    extend();
    --next_other_;
    plucks_s_.pop_back();
  }

  void take(const Candidate& candidate) {
    const CrowdUse& use = crowd_.uses[candidate.use];
    const auto note = static_cast<std::size_t>(use.note);
    taken_[note] = static_cast<int>(candidate.use);
    time_s_[note] = candidate.time_s;
    earned_ += use.gain;
    plucks_s_.push_back(candidate.time_s);
    crowd_plucks_.push_back({candidate.time_s, use.tooth});
    double& tooth_free_s = tooth_free_s_[tooth_of_[candidate.use]];
    const double was_free_s = tooth_free_s;
    tooth_free_s =
        candidate.time_s + problem_.teeth[static_cast<std::size_t>(use.tooth)].interval_s;
    extend();
    tooth_free_s = was_free_s;
    crowd_plucks_.pop_back();
    plucks_s_.pop_back();
    earned_ -= use.gain;
    taken_[note] = -1;
  }

  // Only a pluck that others put off can still come.
  void pass(const Candidate& candidate) {
    const double before = passed_s_[candidate.use];
    passed_s_[candidate.use] = candidate.time_s;
    extend();
    passed_s_[candidate.use] = before;
  }

  const Problem& problem_;
  const Crowd& crowd_;
  const std::size_t most_;
  std::size_t nodes_left_;
  double first_moment_s_ = -never;  // of the crowd's plucks
  double last_moment_s_ = never;
  std::vector<std::size_t> tooth_of_;  // by use: index into tooth_free_s_
  std::vector<double> tooth_free_s_;
  std::vector<int> taken_;        // by note: use
  std::vector<double> time_s_;    // by note
  std::vector<double> passed_s_;  // by use: left out at this moment
  std::vector<double> plucks_s_;  // of the crowd and others, in order of time
  std::vector<Pluck> crowd_plucks_;
  std::size_t next_other_ = 0;
  double earned_ = 0.0;
  std::vector<double> gains_;  // by note: scratch
  CrowdAnswer best_;
};

}  // namespace

CrowdAnswer search_crowd(const Problem& problem, const Crowd& crowd, double floor,
                         std::size_t most_nodes) {
  assert(problem.most_plucks > 0);
  return CrowdSearch(problem, crowd, floor, most_nodes).run();
}

}  // namespace combwright::arrange
