// SPDX-License-Identifier: Apache-2.0
#include "program/program.h"

#include <csignal>
#include <exception>
#include <new>
#include <string>

#include <CLI/CLI.hpp>
#include <fmt/format.h>
#include <unistd.h>

#include "app/console.h"
#include "base/error.h"
#include "program/command_line.h"

namespace combwright::program {
namespace {

int complain(const std::string& line, app::Status status) {
  std::string text = line + "\n";
  // A name from a file or the command line can't break the line in two.
  for (std::size_t i = 0; i + 1 < text.size(); ++i)
    if (static_cast<unsigned char>(text[i]) < ' ' || text[i] == 0x7F) text[i] = ' ';
  [[maybe_unused]] const ssize_t unheard = ::write(STDERR_FILENO, text.data(), text.size());
  return status;
}

}  // namespace

int run(int argc, char** argv) {
  // A reader that goes away shows as EPIPE where we write.
  static_cast<void>(std::signal(SIGPIPE, SIG_IGN));
  try {
    return parse_command_line(argc, argv)();
  } catch (const Error& error) {
    return complain(error.what(), error.kind() == Error::Kind::machine ? app::machine_refused
                                                                       : app::wrong_request);
  } catch (const std::bad_alloc&) {
    return complain("not enough memory", app::machine_refused);
  } catch (const std::exception& error) {
    return complain(fmt::format("this machine refused: {}", error.what()), app::machine_refused);
  }
}

}  // namespace combwright::program
