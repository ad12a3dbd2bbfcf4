// SPDX-License-Identifier: Apache-2.0
#include "workbench/server.h"

#include <chrono>
#include <functional>
#include <future>
#include <memory>
#include <string>
#include <thread>

#include <gtest/gtest.h>
#include <httplib.h>

namespace combwright::workbench {
namespace {

constexpr const char* plain = "text/plain";

// Work that never ends by itself.
[[noreturn]] void for_ever(const Watch& watch) {
  watch.say("for ever");
  while (true) {
    watch.check();
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
}

class Dropped : public Intake {
 public:
  void take(std::string_view bytes) override { size_ += bytes.size(); }
  Reply end() override { return {.body = std::to_string(size_)}; }

 private:
  std::size_t size_ = 0;
};

// A server with one computing turn.
class Serving : public testing::Test {
 protected:
  Serving()
      : server_(
            {.answer =
                 [](const Request& request, const Watch& watch) {
                   if (request.body == "for ever") for_ever(watch);
                   return Reply{.body = "{\"length\":" + std::to_string(request.body.size()) + "}"};
                 },
             .upload = [](const Request&) { return std::make_unique<Dropped>(); }},
            {.body_bytes = 1000, .computing = 1}),
        port_(server_.bind(0)),
        running_(std::async(std::launch::async, [this] { server_.run(); })) {}
  ~Serving() override {
    if (running_.valid()) stop();
  }

  void stop() {
    server_.stop();
    running_.get();
  }

  // Asks in lines, and leaves after the first words if it is not patient. True if it heard all.
  bool ask_in_lines(
      const std::string& body, std::string& heard, bool patient,
      const std::function<void()>& at_words = [] {}) const {
    httplib::Client client("127.0.0.1", port_);
    httplib::Request request;
    request.method = "POST";
    request.path = "/api/x";
    request.headers = {{"Accept", "application/x-ndjson"}};
    request.body = body;
    request.content_receiver = [&](const char* bytes, std::size_t size, std::uint64_t,
                                   std::uint64_t) {
      if (heard.empty()) at_words();
      heard.append(bytes, size);
      return patient;
    };
    return static_cast<bool>(client.send(request));
  }

  Server server_;
  int port_;
  std::future<void> running_;
};

TEST_F(Serving, the_turn_of_a_client_that_has_gone_is_free_again) {
  std::string heard;
  EXPECT_FALSE(ask_in_lines("for ever", heard, false));
  EXPECT_EQ(heard, "{\"doing\":\"for ever\"}\n");
  httplib::Client next("127.0.0.1", port_);
  next.set_read_timeout(60);
  const auto answer = next.Post("/api/x", "now", plain);
  ASSERT_TRUE(answer);
  EXPECT_EQ(answer->status, 200);
  EXPECT_EQ(answer->body, "{\"length\":3}");
}

TEST_F(Serving, one_that_waits_for_its_turn_is_told_so_and_may_go) {
  std::promise<void> begun;
  std::string told;
  auto busy = std::async(std::launch::async, [&] {
    return ask_in_lines("for ever", told, true, [&] { begun.set_value(); });
  });
  begun.get_future().wait();
  std::string heard;
  EXPECT_FALSE(ask_in_lines("now", heard, false));
  EXPECT_EQ(heard, "{\"doing\":\"waiting for other answers\"}\n");
  // The one that has it is stopped with the server, and told.
  stop();
  EXPECT_TRUE(busy.get());
  EXPECT_EQ(told,
            "{\"doing\":\"for ever\"}\n"
            "{\"status\":503,\"error\":\"the workbench was ended\",\"place\":null}\n");
}

TEST_F(Serving, a_body_that_is_too_large_is_refused_however_it_comes) {
  const std::string large(1001, 'x');
  const auto provider = [&](std::size_t, httplib::DataSink& sink) {
    sink.write(large.data(), large.size());
    sink.done();
    return true;
  };
  for (const char* path : {"/api/x", "/api/files/x.toml"}) {
    httplib::Client client("127.0.0.1", port_);
    const bool put = std::string_view(path).find("files") != std::string_view::npos;
    const auto whole = put ? client.Put(path, large, plain) : client.Post(path, large, plain);
    ASSERT_TRUE(whole);
    EXPECT_EQ(whole->status, 413);
    httplib::Client other("127.0.0.1", port_);
    const auto chunked = put ? other.Put(path, provider, plain) : other.Post(path, provider, plain);
    ASSERT_TRUE(chunked);
    EXPECT_EQ(chunked->status, 413);
  }
}

TEST_F(Serving, a_body_in_chunks_is_as_good_as_one_with_its_length) {
  httplib::Client client("127.0.0.1", port_);
  const auto provider = [](std::size_t offset, httplib::DataSink& sink) {
    if (offset == 1000) {
      sink.done();
      return true;
    }
    return sink.write("0123456789", 10);
  };
  const auto asked = client.Post("/api/x", provider, plain);
  ASSERT_TRUE(asked);
  EXPECT_EQ(asked->body, "{\"length\":1000}");
  const auto put = client.Put("/api/files/x.toml", provider, plain);
  ASSERT_TRUE(put);
  EXPECT_EQ(put->body, "1000");
}

TEST_F(Serving, a_body_in_parts_is_read_to_its_end_and_refused) {
  httplib::Client client("127.0.0.1", port_);
  client.set_keep_alive(true);
  for (const char* type : {"multipart/form-data", "multipart/form-data; boundary=x"}) {
    const auto parts = client.Post("/api/x", "GET /api/y HTTP/1.1\r\n\r\n", type);
    ASSERT_TRUE(parts);
    EXPECT_EQ(parts->status, 415);
    const auto next = client.Post("/api/x", "now", plain);
    ASSERT_TRUE(next);
    EXPECT_EQ(next->body, "{\"length\":3}");
  }
}

}  // namespace
}  // namespace combwright::workbench
