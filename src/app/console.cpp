// SPDX-License-Identifier: Apache-2.0
#include "app/console.h"

#include <cerrno>
#include <chrono>
#include <utility>

#include <fmt/format.h>
#include <unistd.h>

#include "base/file.h"

namespace combwright::app {
namespace {

void write_to(int descriptor, std::string_view text) {
  while (!text.empty()) {
    const ssize_t written = ::write(descriptor, text.data(), text.size());
    if (written < 0) {
      if (errno == EINTR) continue;
      if (errno == EPIPE) return;
      throw Error({}, fmt::format("could not write the answer: {}", last_reason().message()),
                  Error::Kind::machine);
    }
    text.remove_prefix(static_cast<std::size_t>(written));
  }
}

// To a terminal that may have gone: nobody is left to be told.
void say(std::string_view text) {
  [[maybe_unused]] const ssize_t unheard = ::write(STDERR_FILENO, text.data(), text.size());
}

}  // namespace

void print(std::string_view text) {
  write_to(STDOUT_FILENO, text);
}

void note(std::string_view text) {
  say(text);
}

Status status_of(const Findings& findings) {
  return has_fault(findings) ? fault_stands : done;
}

Progress::Progress(std::string doing) : doing_(std::move(doing)) {
  if (::isatty(STDERR_FILENO) == 1) shower_ = std::thread([this] { show(); });
}

Progress::~Progress() {
  {
    const std::lock_guard lock(guard_);
    ended_ = true;
  }
  changed_.notify_one();
  if (shower_.joinable()) shower_.join();
}

void Progress::set(std::string doing) {
  {
    const std::lock_guard lock(guard_);
    doing_ = std::move(doing);
  }
  changed_.notify_one();
}

Watch Progress::watch() {
  return {.told = [this](const std::string& doing) { set(doing); }};
}

void Progress::show() {
  constexpr auto patience = std::chrono::milliseconds(500);
  constexpr std::string_view wipe = "\r\x1b[K";
  std::unique_lock lock(guard_);
  if (changed_.wait_for(lock, patience, [this] { return ended_; })) return;
  while (!ended_) {
    if (!doing_.empty()) say(fmt::format("{}{} ...", wipe, doing_));
    changed_.wait(lock);
  }
  say(wipe);
}

}  // namespace combwright::app
