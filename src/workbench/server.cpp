// SPDX-License-Identifier: Apache-2.0
#include "workbench/server.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <chrono>
#include <condition_variable>
#include <cstdint>
#include <exception>
#include <mutex>
#include <string_view>
#include <utility>

#include <fmt/format.h>
#include <httplib.h>

#include "base/error.h"
#include "workbench/body.h"
#include "workbench/lines.h"
#include "workbench/replies.h"
#include "workbench/turns.h"

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

constexpr std::string_view no_method = "look with GET, ask with POST, write a file with PUT";
constexpr std::string_view too_much = "too much is being computed at once; try again";

// That the browser keeps a file under its name (RFC 6266, with the letters of RFC 8187).
std::string disposition(std::string_view name) {
  std::string text = "attachment; filename*=UTF-8''";
  for (const char c : name) {
    const auto byte = static_cast<std::uint8_t>(c);
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                       c == '.' || c == '-' || c == '_';
    text += plain ? std::string(1, c) : fmt::format("%{:02X}", byte);
  }
  return text;
}

void refuse(httplib::Response& response, int status, std::string_view what) {
  response.status = status;
  response.set_header("Cache-Control", "no-store");
  response.set_content(problem(status, what).body, "application/json");
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
  State(Handlers given, const Limits& asked)
      : handlers(std::move(given)), limits(asked), turns(asked.computing) {}

  Handlers handlers;
  Limits limits;
  Turns turns;
  Listener http;
  std::atomic<bool> ending = false;
  std::mutex ended_guard;
  std::condition_variable ended_changed;
  bool ended = false;
  std::array<std::string, 2> hosts;  // by which this server may be called

  bool is_own_host(const std::string& host) const {
    return std::find(hosts.begin(), hosts.end(), host) != hosts.end();
  }

  bool is_own_page(const std::string& origin) const {
    constexpr std::string_view scheme = "http://";
    return origin.starts_with(scheme) && is_own_host(origin.substr(scheme.size()));
  }

  // What stands against the request; empty for nothing.
  std::string_view foreign(const httplib::Request& request) const {
    if (!is_own_host(request.get_header_value("Host")))
      return "this server is called by a name that is not its own";
    const std::string origin = request.get_header_value("Origin");
    const std::string site = request.get_header_value("Sec-Fetch-Site");
    const bool elsewhere = site == "cross-site" || site == "same-site";
    if ((!origin.empty() && !is_own_page(origin)) || (elsewhere && !is_read_only(request.method)))
      return "another page may not use this server";
    return {};
  }

  // Reads the body to its end, whoever sent it, and then refuses what is foreign or no body. True
  // if there is something to answer.
  bool accept(const httplib::Request& request, httplib::Response& response,
              const httplib::ContentReader& reader,
              const std::function<void(std::string_view)>& take) const {
    const std::string_view why = foreign(request);
    const BodyEnd end =
        read_body(request, response, reader, limits.body_bytes, [&](std::string_view bytes) {
          if (why.empty()) take(bytes);
        });
    if (!why.empty())
      refuse(response, 403, why);
    else if (end == BodyEnd::too_large)
      refuse(response, 413, "that is larger than anything here may be");
    else if (end == BodyEnd::packed)
      refuse(response, 415, "send it as it is, neither packed nor in parts");
    else if (end == BodyEnd::broken)
      refuse(response, 400, "it ended before its end");
    else
      return true;
    return false;
  }

  void look(const httplib::Request& request, httplib::Response& response) {
    if (const std::string_view why = foreign(request); !why.empty())
      return refuse(response, 403, why);
    set(response, handlers.answer(asked(request), {}));
  }

  void ask(const httplib::Request& request, httplib::Response& response,
           const httplib::ContentReader& reader) {
    Request question = asked(request);
    if (!accept(request, response, reader, [&](std::string_view part) { question.body += part; }))
      return;
    if (request.get_header_value("Accept").find(lines_type) == std::string::npos)
      return answer(question, response);
    response.set_header("Cache-Control", "no-store");
    response.set_chunked_content_provider(
        std::string(lines_type),
        [this, question = std::move(question)](std::size_t, httplib::DataSink& sink) {
          return answer(question, sink);
        });
  }

  void refuse_method(const httplib::Request& request, httplib::Response& response,
                     const httplib::ContentReader& reader) const {
    if (accept(request, response, reader, [](std::string_view) {}))
      refuse(response, 405, no_method);
  }

  void take_in(const httplib::Request& request, httplib::Response& response,
               const httplib::ContentReader& reader) {
    std::unique_ptr<Intake> intake;
    if (foreign(request).empty()) intake = handlers.upload(asked(request));
    if (accept(request, response, reader, [&](std::string_view part) { intake->take(part); }))
      set(response, intake->end());
  }

  static Request asked(const httplib::Request& request) {
    return {.method = request.method,
            .path = request.path,
            .body = {},
            .if_match = request.get_header_value("If-Match"),
            .accept_encoding = request.get_header_value("Accept-Encoding")};
  }

  bool is_at_once(const Request& question) const {
    return handlers.at_once && handlers.at_once(question);
  }

  void answer(const Request& question, httplib::Response& response) {
    if (is_at_once(question)) return set(response, handlers.answer(question, {}));
    if (!turns.take(std::chrono::seconds(limits.wait_s), [] { return true; })) {
      response.set_header("Retry-After", "1");
      return refuse(response, 503, too_much);
    }
    const Turn turn(turns);
    set(response, handlers.answer(question, {}));
  }

  // In lines. False if the client has gone.
  bool answer(const Request& question, httplib::DataSink& sink) {
    const Client client{
        .write = [&](std::string_view text) { return sink.write(text.data(), text.size()); },
        .there = [&] { return sink.is_writable(); }};
    const bool got = is_at_once(question) ? in_lines(question, client)
                     : take_turn(client)  ? in_turn(question, client)
                                          : client.write(last_line(problem(503, too_much)));
    if (got) sink.done();
    return got;
  }

  bool in_turn(const Request& question, const Client& client) {
    const Turn turn(turns);
    return in_lines(question, client);
  }

  bool in_lines(const Request& question, const Client& client) {
    return answer_in_lines([&](const Watch& watch) { return handlers.answer(question, watch); },
                           client, [this] { return ending.load(); });
  }

  // Waits for a turn as long as the client does.
  bool take_turn(const Client& client) {
    return turns.take_at_once() || (client.write(doing_line("waiting for other answers")) &&
                                    turns.take(std::chrono::seconds(limits.wait_s), client.there));
  }

  static void set(httplib::Response& response, const Reply& reply) {
    response.status = reply.status;
    if (!reply.version.empty()) response.set_header("ETag", '"' + reply.version + '"');
    if (!reply.encoding.empty()) response.set_header("Content-Encoding", reply.encoding);
    if (!reply.file_name.empty())
      response.set_header("Content-Disposition", disposition(reply.file_name));
    response.set_header("Cache-Control",
                        reply.kept_for_ever ? "public, max-age=31536000, immutable" : "no-store");
    response.set_content(reply.body, reply.type);
  }
};

Server::Server(Handlers handlers, const Limits& limits)
    : state_(std::make_unique<State>(std::move(handlers), limits)) {
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
  http.Get("/.*", [&state](const auto& request, auto& response) { state.look(request, response); });
  http.Post("/.*", [&state](const auto& request, auto& response, const auto& reader) {
    state.ask(request, response, reader);
  });
  http.Put("/.*", [&state](const auto& request, auto& response, const auto& reader) {
    state.take_in(request, response, reader);
  });
  const auto refuse_method = [&state](const auto& request, auto& response, const auto& reader) {
    state.refuse_method(request, response, reader);
  };
  http.Patch("/.*", refuse_method);
  http.Delete("/.*", refuse_method);
  // Of a method that is not known the library would take a body of any size.
  http.set_pre_routing_handler([](const auto& request, auto& response) {
    constexpr std::array<std::string_view, 6> known{"GET", "HEAD",  "POST",
                                                    "PUT", "PATCH", "DELETE"};
    if (std::find(known.begin(), known.end(), request.method) != known.end())
      return httplib::Server::HandlerResponse::Unhandled;
    refuse(response, 405, no_method);
    return httplib::Server::HandlerResponse::Handled;
  });
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
  state_->hosts = {fmt::format("127.0.0.1:{}", bound), fmt::format("localhost:{}", bound)};
  return bound;
}

void Server::run() {
  state_->http.listen_after_bind();
  {
    const std::lock_guard lock(state_->ended_guard);
    state_->ended = true;
  }
  state_->ended_changed.notify_all();
}

void Server::stop() {
  state_->ending = true;
  // The library forgets a stop that comes before it serves.
  std::unique_lock lock(state_->ended_guard);
  do {
    if (state_->http.serves()) state_->http.stop();
  } while (!state_->ended_changed.wait_for(lock, std::chrono::milliseconds(20),
                                           [&] { return state_->ended; }));
}

std::string address(int port) {
  return fmt::format("http://{}:{}/", loopback, port);
}

}  // namespace combwright::workbench
