// SPDX-License-Identifier: Apache-2.0
#include "workbench/lines.h"

#include <atomic>
#include <string>
#include <thread>

#include <gtest/gtest.h>

namespace combwright::workbench {
namespace {

// A client that keeps what it gets, and goes away after so many lines.
struct Listener {
  int patience = 1'000'000;
  std::string heard;

  Client client() {
    return {.write =
                [this](std::string_view text) {
                  if (patience == 0) return false;
                  --patience;
                  heard += text;
                  return true;
                },
            .there = [this] { return patience > 0; }};
  }
};

bool never() {
  return false;
}

TEST(Lines, the_answer_comes_last) {
  Listener listener;
  EXPECT_TRUE(answer_in_lines([](const Watch&) { return Reply{.body = "{\"teeth\":30}\n"}; },
                              listener.client(), never));
  EXPECT_EQ(listener.heard, "{\"answer\":{\"teeth\":30}}\n");
}

TEST(Lines, what_is_done_is_told_while_it_is_done) {
  Listener listener;
  std::atomic<bool> told = false;
  const Client client{.write =
                          [&](std::string_view text) {
                            listener.heard += text;
                            told = true;
                            return true;
                          },
                      .there = [] { return true; }};
  // The work goes on only once its words have gone out.
  const auto work = [&](const Watch& watch) {
    watch.say("laying out the \"disc\"");
    while (!told) std::this_thread::yield();
    return Reply{.body = "{}\n"};
  };
  EXPECT_TRUE(answer_in_lines(work, client, never));
  EXPECT_EQ(listener.heard, "{\"doing\":\"laying out the \\\"disc\\\"\"}\n{\"answer\":{}}\n");
}

TEST(Lines, bytes_follow_the_line_that_counts_them) {
  EXPECT_EQ(last_line({.type = "audio/wav", .body = "RIFF\n"}),
            "{\"type\":\"audio/wav\",\"bytes\":5}\nRIFF\n");
}

TEST(Lines, an_error_has_its_status) {
  EXPECT_EQ(last_line({.status = 400, .body = "{\"error\":\"no\",\"place\":null}\n"}),
            "{\"status\":400,\"error\":\"no\",\"place\":null}\n");
}

TEST(Lines, work_for_a_client_that_has_gone_stops) {
  Listener listener{.patience = 1};
  bool stopped = false;
  const auto work = [&](const Watch& watch) -> Reply {
    watch.say("never done");
    try {
      while (true) {
        watch.check();
        std::this_thread::yield();
      }
    } catch (const Cancelled&) {
      stopped = true;
      throw;
    }
  };
  EXPECT_FALSE(answer_in_lines(work, listener.client(), never));
  EXPECT_TRUE(stopped);
  EXPECT_EQ(listener.heard, "{\"doing\":\"never done\"}\n");
}

TEST(Lines, work_that_fails_is_told) {
  Listener listener;
  EXPECT_TRUE(
      answer_in_lines([](const Watch&) -> Reply { throw std::runtime_error("no such thing"); },
                      listener.client(), never));
  EXPECT_EQ(listener.heard, "{\"status\":500,\"error\":\"this machine refused\",\"place\":null}\n");
}

}  // namespace
}  // namespace combwright::workbench
