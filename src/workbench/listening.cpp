// SPDX-License-Identifier: Apache-2.0
#include "workbench/listening.h"

#include <algorithm>

namespace combwright::workbench {

std::shared_ptr<Listening> Listenings::at(const std::string& name, std::int64_t part,
                                          double rate_hz) {
  constexpr std::size_t most = 8;
  const std::lock_guard lock(mutex_);
  const auto known =
      std::find_if(all_.begin(), all_.end(), [&](const Named& one) { return one.name == name; });
  if (known != all_.end()) {
    all_.splice(all_.begin(), all_, known);
    return all_.front().listening;
  }
  if (part != 0) return nullptr;
  all_.push_front({name, std::make_shared<Listening>(rate_hz)});
  if (all_.size() > most) all_.pop_back();
  return all_.front().listening;
}

void Listenings::drop(const std::string& name) {
  const std::lock_guard lock(mutex_);
  all_.remove_if([&](const Named& one) { return one.name == name; });
}

}  // namespace combwright::workbench
