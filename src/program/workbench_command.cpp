// SPDX-License-Identifier: Apache-2.0
#include "program/workbench_command.h"

#include <atomic>
#include <csignal>
#include <memory>
#include <optional>
#include <string>
#include <thread>

#include <fmt/format.h>
#include <sys/wait.h>

#include "app/console.h"
#include "base/error.h"
#include "program/browser.h"
#include "workbench/api.h"
#include "workbench/server.h"
#include "workbench/upload.h"

namespace combwright::program {
namespace {

struct Options {
  int port = 0;
  std::string db;
  bool open = false;
};

void say_no_browser() {
  app::note("The browser was not opened, or ended with an error; open the address by hand.\n");
}

// Stops a server when this process is told to end, and tells when the browser fails. The signals
// are held back from all threads that are made after it and before its own destruction.
class StopOnSignal {
 public:
  explicit StopOnSignal(workbench::Server& server) {
    ::sigemptyset(&signals_);
    for (const int signal : {SIGINT, SIGTERM, SIGCHLD}) ::sigaddset(&signals_, signal);
    ::pthread_sigmask(SIG_BLOCK, &signals_, nullptr);
    waiter_ = std::thread([this, &server] {
      int signal = 0;
      while (::sigwait(&signals_, &signal) == 0 && signal == SIGCHLD) look_at_browser();
      server.stop();
    });
  }
  StopOnSignal(const StopOnSignal&) = delete;
  StopOnSignal& operator=(const StopOnSignal&) = delete;
  ~StopOnSignal() {
    // Where the server ended by itself nobody else wakes the waiter, which takes the signal.
    // NOLINTNEXTLINE(bugprone-bad-signal-to-kill-thread,cert-pos44-c)
    ::pthread_kill(waiter_.native_handle(), SIGTERM);
    waiter_.join();
  }

  // Here, where the end of the browser is waited for.
  void open(const std::string& address) {
    const std::optional<pid_t> browser = open_browser(address);
    if (!browser) return say_no_browser();
    browser_ = *browser;
    look_at_browser();  // it may have ended before its number was known
  }

 private:
  // At the browser alone: one that could not be started is waited for where that was tried.
  void look_at_browser() {
    const pid_t browser = browser_;
    int status = 0;
    if (browser > 0 && ::waitpid(browser, &status, WNOHANG) > 0 && status != 0) say_no_browser();
  }

  ::sigset_t signals_{};
  std::atomic<pid_t> browser_ = 0;
  std::thread waiter_;
};

// The same for a folder whenever it can be: what the browser keeps for the page goes by its port.
int own_port(workbench::Server& server, const workbench::Desk& desk) {
  constexpr int first = 49152;  // of those for private use (RFC 6335)
  constexpr int count = 16384;
  try {
    return server.bind(first +
                       static_cast<int>(std::stoul(desk.id().substr(0, 6), nullptr, 16) % count));
  } catch (const Error&) {
    return server.bind(0);  // taken
  }
}

int serve(const Options& options) {
  const workbench::Desk desk(".", options.db);
  // Named records that are no good are told before anybody measures a tooth for them.
  if (!options.db.empty()) desk.check_records();
  workbench::Server server(
      {.answer = [&desk](const workbench::Request& request,
                         const Watch& watch) { return workbench::answer(desk, request, watch); },
       .at_once = workbench::is_at_once,
       .upload =
           [&desk](const workbench::Request& request) { return workbench::upload(desk, request); }},
      {});
  const int port = options.port != 0 ? server.bind(options.port) : own_port(server, desk);
  StopOnSignal stop(server);
  app::print(
      fmt::format("Workbench of this folder: {}\nEnd it with Ctrl-C.\n", workbench::address(port)));
  if (options.open) stop.open(workbench::address(port));
  server.run();
  return app::done;
}

}  // namespace

void add_workbench(CLI::App& program, app::Run& run) {
  const auto options = std::make_shared<Options>();
  CLI::App& command =
      app::add_command(program, "workbench", "Serve this folder's boxes and tunes on this computer",
                       "combwright workbench --open");
  command
      .add_option("--port", options->port,
                  "of 127.0.0.1; the same for a folder each time if not given")
      ->type_name("P")
      ->check(CLI::Range(1, 65535));
  command
      .add_option("--db", options->db,
                  "the file of the records; records.db of this folder if not given")
      ->type_name("FILE");
  command.add_flag("--open", options->open, "open it in the browser of this desktop");
  command.callback([&run, options] { run = [options] { return serve(*options); }; });
}

}  // namespace combwright::program
