// SPDX-License-Identifier: Apache-2.0
#include "music/musicxml_unroll.h"

#include <algorithm>
#include <map>
#include <optional>

#include <fmt/format.h>

#include "base/error.h"

namespace combwright::music::musicxml {
namespace {

// What the endings around a bar ask for.
struct Group {
  bool inside = false;
  bool last_ending = false;   // the bar stands in the group's last ending
  bool repeats_next = false;  // another ending begins right after the bar
  int endings = 0;
  std::vector<int> passes;  // that the endings provide for, in order
};

bool share(const std::vector<int>& a, const std::vector<int>& b) {
  return std::find_first_of(a.begin(), a.end(), b.begin(), b.end()) != a.end();
}

// The groups of bars from `first` to before `end`, all of which stand in endings. Without a repeat
// sign, drawn or implied, the endings mean nothing and the bars are played straight.
void find_group(const std::vector<WrittenBar>& bars, std::size_t first, std::size_t end,
                std::vector<Group>& groups) {
  Group group;
  std::size_t last_start = first;
  bool repeats = false;
  for (std::size_t i = first; i < end; ++i) {
    const std::vector<int>& numbers = bars[i].endings;
    if (i == first || bars[i].ending_start) {
      ++group.endings;
      last_start = i;
      group.passes.insert(group.passes.end(), numbers.begin(), numbers.end());
    }
    groups[i].repeats_next =
        i + 1 < end && bars[i + 1].ending_start && !share(numbers, bars[i + 1].endings);
    repeats = repeats || groups[i].repeats_next || bars[i].repeat_plays > 0;
  }
  std::sort(group.passes.begin(), group.passes.end());
  if (group.endings == 1) group.passes.push_back(group.passes.back() + 1);
  for (std::size_t i = first; i < end; ++i) {
    const bool repeats_next = groups[i].repeats_next;
    groups[i] = group;
    groups[i].inside = repeats;
    groups[i].last_ending = i >= last_start;
    groups[i].repeats_next = repeats_next;
  }
}

// Groups are runs of neighbouring bars that stand in endings.
std::vector<Group> find_groups(const std::vector<WrittenBar>& bars) {
  std::vector<Group> groups(bars.size());
  for (std::size_t first = 0; first < bars.size();) {
    std::size_t end = first;
    while (end < bars.size() && !bars[end].endings.empty()) ++end;
    if (end > first) find_group(bars, first, end, groups);
    first = std::max(end, first + 1);
  }
  return groups;
}

// The bars that carry a kind of sign, in order, with the signs' labels.
class Targets {
 public:
  void add(const std::string& label, std::size_t bar) {
    all_.push_back(bar);
    if (!label.empty()) labelled_[label].push_back(bar);
  }

  // The last with the label up to `at`, or else after it; if none has the label, the last up to
  // `at`.
  std::optional<std::size_t> up_to(const std::string& label, std::size_t at) const {
    const auto found = labelled_.find(label);
    const std::vector<std::size_t>& bars = found != labelled_.end() ? found->second : all_;
    const auto next = std::upper_bound(bars.begin(), bars.end(), at);
    if (next != bars.begin()) return *std::prev(next);
    return found != labelled_.end() ? std::optional(bars.front()) : std::nullopt;
  }

  // The first after `at`, with the label if any there has it.
  std::optional<std::size_t> after(const std::string& label, std::size_t at) const {
    const auto found = labelled_.find(label);
    if (found != labelled_.end())
      if (const auto bar = first_after(found->second, at)) return bar;
    return first_after(all_, at);
  }

 private:
  static std::optional<std::size_t> first_after(const std::vector<std::size_t>& bars,
                                                std::size_t at) {
    const auto next = std::upper_bound(bars.begin(), bars.end(), at);
    return next != bars.end() ? std::optional(*next) : std::nullopt;
  }

  std::vector<std::size_t> all_;
  std::map<std::string, std::vector<std::size_t>> labelled_;
};

class Player {
 public:
  Player(const std::vector<WrittenBar>& bars, const std::string& name, Findings& findings)
      : bars_(bars),
        name_(name),
        findings_(findings),
        groups_(find_groups(bars)),
        jump_taken_(bars.size()) {
    for (std::size_t i = 0; i < bars.size(); ++i) {
      for (const std::string& label : bars[i].sounded.segnos) segnos_.add(label, i);
      for (const std::string& label : bars[i].sounded.codas) codas_.add(label, i);
    }
  }

  std::vector<std::size_t> play() {
    std::size_t at = 0;
    while (at < bars_.size()) {
      enter(at);
      if (!is_played(at)) {
        ++at;
        continue;
      }
      const auto coda = bars_[at].sounded.to_coda_at_start ? to_coda(at) : std::nullopt;
      if (coda) {
        at = *coda;
        continue;
      }
      if (played_.size() >= max_bars) {
        throw Error({name_}, fmt::format("more than {} bars with all repeats; fewer repeats would "
                                         "do",
                                         max_bars));
      }
      played_.push_back(at);
      if (jumped_ && bars_[at].sounded.fine) break;
      at = next(at);
    }
    return played_;
  }

 private:
  // A new section begins at a repeat-start sign and after a group of endings.
  void enter(std::size_t at) {
    const bool after_group = at > 0 && groups_[at - 1].inside && !groups_[at].inside;
    if ((bars_[at].repeat_start || after_group) && at != section_) {
      section_ = at;
      pass_ = 1;
    }
  }

  bool is_played(std::size_t at) const {
    const Group& group = groups_[at];
    if (!group.inside) return true;
    if (jumped_) return group.last_ending && (group.endings > 1 || bars_[at].repeat_plays == 0);
    const std::vector<int>& numbers = bars_[at].endings;
    return std::find(numbers.begin(), numbers.end(), pass_) != numbers.end();
  }

  std::size_t next(std::size_t at) {
    const Group& group = groups_[at];
    const bool repeats = bars_[at].repeat_plays > 0 || (group.inside && group.repeats_next);
    if (repeats && !jumped_) {
      const int next_pass = pass_after(at);
      if (next_pass > 0) {
        pass_ = next_pass;
        return section_;
      }
      if (!group.inside) {
        section_ = at + 1;
        pass_ = 1;
      }
    }
    if (const auto jump = jump_from(at)) return *jump;
    if (!bars_[at].sounded.to_coda_at_start)
      if (const auto coda = to_coda(at)) return *coda;
    return at + 1;
  }

  // The pass that a repeat sign after this bar leads to: the next that the endings provide for, or
  // the next of those it asks for; 0 if there is none.
  int pass_after(std::size_t at) const {
    const Group& group = groups_[at];
    if (group.inside) {
      const auto next = std::upper_bound(group.passes.begin(), group.passes.end(), pass_);
      if (next != group.passes.end()) return *next;
    }
    return pass_ < bars_[at].repeat_plays ? pass_ + 1 : 0;
  }

  std::optional<std::size_t> jump_from(std::size_t at) {
    const Signs& signs = bars_[at].sounded;
    if ((!signs.da_capo && !signs.dal_segno) || jump_taken_[at]) return std::nullopt;
    jump_taken_[at] = true;
    const std::optional<std::size_t> target =
        signs.dal_segno ? segnos_.up_to(*signs.dal_segno, at) : std::optional<std::size_t>(0);
    if (target)
      jumped_ = true;
    else
      miss(at, "a dal segno has no segno to go to");
    return target;
  }

  std::optional<std::size_t> to_coda(std::size_t at) {
    const std::optional<std::string>& label = bars_[at].sounded.to_coda;
    if (!jumped_ || !label) return std::nullopt;
    const std::optional<std::size_t> target = codas_.after(*label, at);
    if (!target) miss(at, "a jump to the coda has no coda after it");
    return target;
  }

  void miss(std::size_t at, const std::string& what) {
    if (!missed_)
      findings_.push_back({Level::warning, fmt::format("bar {}", bars_[at].number), what,
                           "add the sign, or check the order of the bars by ear"});
    missed_ = true;
  }

  const std::vector<WrittenBar>& bars_;
  const std::string& name_;
  Findings& findings_;
  std::vector<Group> groups_;
  Targets segnos_;
  Targets codas_;
  std::vector<bool> jump_taken_;
  std::vector<std::size_t> played_;
  std::size_t section_ = 0;
  int pass_ = 1;
  bool jumped_ = false;
  bool missed_ = false;
};

}  // namespace

std::vector<std::size_t> unroll(const std::vector<WrittenBar>& bars, const std::string& name,
                                Findings& findings) {
  return Player(bars, name, findings).play();
}

}  // namespace combwright::music::musicxml
