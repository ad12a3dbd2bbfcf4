// SPDX-License-Identifier: Apache-2.0
#include "workbench/server.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <chrono>
#include <condition_variable>
#include <exception>
#include <mutex>
#include <string_view>
#include <utility>

#include <fmt/format.h>
#include <httplib.h>

#include "base/error.h"

namespace combwright::workbench {
namespace {

constexpr const char* loopback = "127.0.0.1";

// The page comes from here whole; nothing is loaded from or sent to anywhere else, and no other
// page may frame it.
constexpr const char* content_policy =
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; "
    "font-src 'self'; connect-src 'self'; media-src 'self' blob:; worker-src 'self'; "
    "frame-ancestors 'none'; base-uri 'none'; form-action 'none'";

bool is_read_only(const std::string& method) {
  return method == "GET" || method == "HEAD";
}

// So many at once; the others wait their turn for a while.
class Turns {
 public:
  explicit Turns(int free) : free_(free) {}

  bool take(std::chrono::seconds patience) {
    std::unique_lock lock(guard_);
    if (!given_back_.wait_for(lock, patience, [&] { return free_ > 0; })) return false;
    --free_;
    return true;
  }

  void give_back() {
    {
      const std::lock_guard lock(guard_);
      ++free_;
    }
    given_back_.notify_one();
  }

 private:
  std::mutex guard_;
  std::condition_variable given_back_;
  int free_;
};

std::string problem(std::string_view what) {
  return fmt::format("{{\"error\":\"{}\"}}\n", what);
}

void refuse(httplib::Response& response, int status, std::string_view what) {
  response.status = status;
  response.set_header("Cache-Control", "no-store");
  response.set_content(problem(what), "application/json");
}

// Takes bursts of connections that the library's own short queue would drop.
class Listener : public httplib::Server {
 public:
  void lengthen_queue() {
    constexpr int connections = 512;
    ::listen(svr_sock_, connections);
  }

  // Only then may it be stopped, and once.
  bool serves() const { return is_running() && svr_sock_ != INVALID_SOCKET; }
};

}  // namespace

struct Server::State {
  State(Handler answer, const Limits& asked)
      : handler(std::move(answer)), limits(asked), turns(asked.computing) {}

  Handler handler;
  Limits limits;
  Turns turns;
  Listener http;
  std::mutex ending;
  std::condition_variable ended_changed;
  bool ended = false;
  std::array<std::string, 3> hosts;  // by which this server may be called

  bool is_own_host(const std::string& host) const {
    return std::find(hosts.begin(), hosts.end(), host) != hosts.end();
  }

  bool is_own_page(const std::string& origin) const {
    constexpr std::string_view scheme = "http://";
    return origin.starts_with(scheme) && is_own_host(origin.substr(scheme.size()));
  }

  // Before anything is read of the body.
  httplib::Server::HandlerResponse guard(const httplib::Request& request,
                                         httplib::Response& response) const {
    using Response = httplib::Server::HandlerResponse;
    if (!is_own_host(request.get_header_value("Host"))) {
      refuse(response, 403, "this server is called by a name that is not its own");
      return Response::Handled;
    }
    const std::string origin = request.get_header_value("Origin");
    const std::string site = request.get_header_value("Sec-Fetch-Site");
    const bool foreign = site == "cross-site" || site == "same-site";
    if ((!origin.empty() && !is_own_page(origin)) || (foreign && !is_read_only(request.method))) {
      refuse(response, 403, "another page may not use this server");
      return Response::Handled;
    }
    return Response::Unhandled;
  }

  void answer(const httplib::Request& request, httplib::Response& response) {
    if (!turns.take(std::chrono::seconds(limits.wait_s))) {
      response.set_header("Retry-After", "1");
      refuse(response, 503, "too much is being computed at once; try again");
      return;
    }
    Reply reply;
    try {
      reply = handler({.method = request.method,
                       .path = request.path,
                       .body = request.body,
                       .if_match = request.get_header_value("If-Match"),
                       .accept_encoding = request.get_header_value("Accept-Encoding")});
    } catch (const std::exception&) {
      turns.give_back();
      throw;
    }
    turns.give_back();
    response.status = reply.status;
    if (!reply.version.empty()) response.set_header("ETag", '"' + reply.version + '"');
    if (!reply.encoding.empty()) response.set_header("Content-Encoding", reply.encoding);
    response.set_header("Cache-Control",
                        reply.kept_for_ever ? "public, max-age=31536000, immutable" : "no-store");
    response.set_content(reply.body, reply.type);
  }
};

Server::Server(Handler handler, const Limits& limits)
    : state_(std::make_unique<State>(std::move(handler), limits)) {
  httplib::Server& http = state_->http;
  State& state = *state_;
  http.new_task_queue = [&state] { return new httplib::ThreadPool(state.limits.connections); };
  http.set_payload_max_length(limits.body_bytes);
  http.set_keep_alive_timeout(limits.idle_s);
  http.set_keep_alive_max_count(10'000);
  http.set_read_timeout(limits.read_s);
  http.set_write_timeout(limits.read_s);
  http.set_tcp_nodelay(true);
  // Two servers on one port would share its connections.
  http.set_socket_options([](int socket) {
    const int yes = 1;
    ::setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
  });
  http.set_default_headers({{"Content-Security-Policy", content_policy},
                            {"X-Content-Type-Options", "nosniff"},
                            {"Referrer-Policy", "no-referrer"},
                            {"Cross-Origin-Resource-Policy", "same-origin"},
                            {"Cross-Origin-Opener-Policy", "same-origin"}});
  http.set_pre_routing_handler(
      [&state](const auto& request, auto& response) { return state.guard(request, response); });
  const auto answer = [&state](const httplib::Request& request, httplib::Response& response) {
    state.answer(request, response);
  };
  http.Get("/.*", answer);
  http.Post("/.*", answer);
  http.Put("/.*", answer);
  http.set_error_handler([](const httplib::Request&, httplib::Response& response) {
    if (response.body.empty()) refuse(response, response.status, "not here");
  });
  http.set_exception_handler(
      [](const httplib::Request&, httplib::Response& response, const std::exception_ptr&) {
        refuse(response, 500, "this machine refused");
      });
}

Server::~Server() = default;

int Server::bind(int port) {
  Listener& http = state_->http;
  const int bound =
      port == 0 ? http.bind_to_any_port(loopback) : (http.bind_to_port(loopback, port) ? port : -1);
  if (bound <= 0) {
    throw Error({},
                fmt::format("port {} of this computer is taken; name another with --port", port),
                Error::Kind::machine);
  }
  http.lengthen_queue();
  state_->hosts = {fmt::format("127.0.0.1:{}", bound), fmt::format("localhost:{}", bound),
                   fmt::format("[::1]:{}", bound)};
  return bound;
}

void Server::run() {
  state_->http.listen_after_bind();
  {
    const std::lock_guard lock(state_->ending);
    state_->ended = true;
  }
  state_->ended_changed.notify_all();
}

void Server::stop() {
  // The library forgets a stop that comes before it serves.
  std::unique_lock lock(state_->ending);
  do {
    if (state_->http.serves()) state_->http.stop();
  } while (!state_->ended_changed.wait_for(lock, std::chrono::milliseconds(20),
                                           [&] { return state_->ended; }));
}

std::string address(int port) {
  return fmt::format("http://{}:{}/", loopback, port);
}

}  // namespace combwright::workbench
