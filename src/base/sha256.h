// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <string>
#include <string_view>

namespace combwright {

// The sum of sha256() in base/file.h over bytes that come in parts.
class Sha256 {
 public:
  Sha256();
  ~Sha256();
  Sha256(const Sha256&) = delete;
  Sha256& operator=(const Sha256&) = delete;

  void add(std::string_view bytes);

  // Of all bytes so far; nothing can be added after it.
  std::string hex();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace combwright
