// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <functional>
#include <memory>
#include <string>

#include "base/watch.h"
#include "workbench/message.h"

// HTTP on this computer for the page in its browser, and for nobody else.
namespace combwright::workbench {

// Beyond these a request is refused (413, 503) or dropped.
struct Limits {
  std::size_t body_bytes = std::size_t{64} << 20;
  std::size_t connections = 128;
  int computing = 2;  // answers being computed at once; others wait
  int wait_s = 30;    // for that
  int idle_s = 5;     // of a connection that is kept open
  int read_s = 10;    // for a request to arrive, and for an answer to be taken
};

// Called on many threads at once. What they throw becomes status 500.
struct Handlers {
  // Answers a request without a body, or with all of it. It may throw Cancelled if it was stopped.
  std::function<Reply(const Request&, const Watch&)> answer;
  // Whether a question is answered beside those being computed, however many they are: live sound
  // can't wait. Where it is missing none is.
  std::function<bool(const Request&)> at_once;
  // Takes the body of a PUT.
  std::function<std::unique_ptr<Intake>(const Request&)> upload;
};

class Server {
 public:
  Server(Handlers handlers, const Limits& limits);
  Server(const Server&) = delete;
  Server& operator=(const Server&) = delete;
  ~Server();

  // Takes a port of 127.0.0.1, any free one for 0, and gives its number. Throws Error (machine) if
  // it is taken.
  int bind(int port);

  // Serves until stop() is called from another thread, be it before; requests under way are
  // finished, those for lines stopped. Only requests whose Host is this server by a loopback name
  // are answered, and of those with an Origin only those of its own page: a page from elsewhere
  // that points the browser here gets 403.
  void run();
  void stop();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

// "http://127.0.0.1:PORT/"
std::string address(int port);

}  // namespace combwright::workbench
