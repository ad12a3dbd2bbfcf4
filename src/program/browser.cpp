// SPDX-License-Identifier: Apache-2.0
#include "program/browser.h"

#include <csignal>
#include <cstdlib>
#include <sstream>
#include <string_view>

#include <fcntl.h>
#include <spawn.h>
#include <unistd.h>

namespace combwright::program {
namespace {

std::vector<std::string> call(const std::string& words, const std::string& address) {
  constexpr std::string_view place = "%s";
  std::vector<std::string> arguments;
  std::istringstream stream(words);
  bool placed = false;
  for (std::string word; stream >> word;) {
    if (const std::size_t at = word.find(place); at != std::string::npos) {
      word.replace(at, place.size(), address);
      placed = true;
    }
    arguments.push_back(word);
  }
  if (!arguments.empty() && !placed) arguments.push_back(address);
  return arguments;
}

std::optional<pid_t> start(const std::vector<std::string>& call) {
  std::vector<char*> arguments;
  for (const std::string& word : call) arguments.push_back(const_cast<char*>(word.c_str()));
  arguments.push_back(nullptr);
  posix_spawn_file_actions_t files;
  ::posix_spawn_file_actions_init(&files);
  ::posix_spawn_file_actions_addopen(&files, STDIN_FILENO, "/dev/null", O_RDWR, 0);
  for (const int out : {STDOUT_FILENO, STDERR_FILENO})
    ::posix_spawn_file_actions_adddup2(&files, STDIN_FILENO, out);
  posix_spawnattr_t attributes;
  ::posix_spawnattr_init(&attributes);
  sigset_t none;
  sigset_t usual;
  ::sigemptyset(&none);
  ::sigemptyset(&usual);
  ::sigaddset(&usual, SIGPIPE);
  ::posix_spawnattr_setsigmask(&attributes, &none);
  ::posix_spawnattr_setsigdefault(&attributes, &usual);
  ::posix_spawnattr_setflags(&attributes,
                             POSIX_SPAWN_SETSIGMASK | POSIX_SPAWN_SETSIGDEF | POSIX_SPAWN_SETSID);
  pid_t process = 0;
  const int problem =
      ::posix_spawnp(&process, arguments[0], &files, &attributes, arguments.data(), environ);
  ::posix_spawnattr_destroy(&attributes);
  ::posix_spawn_file_actions_destroy(&files);
  return problem == 0 ? std::optional(process) : std::nullopt;
}

}  // namespace

std::vector<std::vector<std::string>> browser_calls(const std::string& named,
                                                    const std::string& address) {
  std::vector<std::vector<std::string>> calls;
  std::istringstream stream(named + ":xdg-open");
  for (std::string words; std::getline(stream, words, ':');)
    if (std::vector<std::string> arguments = call(words, address); !arguments.empty())
      calls.push_back(std::move(arguments));
  return calls;
}

std::optional<pid_t> open_browser(const std::string& address) {
  const char* const named = std::getenv("BROWSER");
  for (const std::vector<std::string>& arguments : browser_calls(named ? named : "", address))
    if (const auto process = start(arguments)) return process;
  return std::nullopt;
}

}  // namespace combwright::program
