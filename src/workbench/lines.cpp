// SPDX-License-Identifier: Apache-2.0
#include "workbench/lines.h"

#include <atomic>
#include <chrono>
#include <condition_variable>
#include <exception>
#include <mutex>
#include <optional>
#include <thread>
#include <utility>

#include <fmt/format.h>

#include "app/answers.h"
#include "workbench/replies.h"

namespace combwright::workbench {
namespace {

// From the work to the connection. Of words that come faster than they are written the last stay.
class Mailbox {
 public:
  struct News {
    std::optional<std::string> doing;
    bool ended = false;
  };

  void say(std::string doing) {
    {
      const std::lock_guard lock(guard_);
      doing_ = std::move(doing);
    }
    changed_.notify_one();
  }

  void end() {
    {
      const std::lock_guard lock(guard_);
      ended_ = true;
    }
    changed_.notify_one();
  }

  News wait(std::chrono::milliseconds patience) {
    std::unique_lock lock(guard_);
    changed_.wait_for(lock, patience, [this] { return doing_ || ended_; });
    return {std::exchange(doing_, std::nullopt), ended_};
  }

 private:
  std::mutex guard_;
  std::condition_variable changed_;
  std::optional<std::string> doing_;
  bool ended_ = false;
};

Reply done(const std::function<Reply(const Watch&)>& work, const Watch& watch) {
  try {
    return work(watch);
  } catch (const Cancelled&) {
    return problem(503, "the workbench was ended");
  } catch (const std::exception&) {
    return problem(500, "this machine refused");
  }
}

}  // namespace

std::string doing_line(const std::string& doing) {
  return app::line_of({{"doing", doing}});
}

std::string last_line(const Reply& reply) {
  std::string body = reply.body;
  if (reply.type != "application/json")
    return app::line_of({{"type", reply.type}, {"bytes", body.size()}}) + body;
  if (body.ends_with('\n')) body.pop_back();
  if (reply.status < 400) return "{\"answer\":" + body + "}\n";
  return fmt::format("{{\"status\":{},{}\n", reply.status, std::string_view(body).substr(1));
}

bool answer_in_lines(const std::function<Reply(const Watch&)>& work, const Client& client,
                     const std::function<bool()>& ending) {
  // How long it may take to see that the client has gone.
  constexpr std::chrono::milliseconds look(100);
  Mailbox mailbox;
  std::atomic<bool> gone = false;
  const Watch watch{.told = [&](const std::string& doing) { mailbox.say(doing); },
                    .stopped = [&] { return gone || ending(); }};
  Reply reply;
  std::jthread worker([&] {
    reply = done(work, watch);
    mailbox.end();
  });
  bool ended = false;
  while (!ended) {
    const Mailbox::News news = mailbox.wait(look);
    ended = news.ended;
    if (gone) continue;
    if ((news.doing && !client.write(doing_line(*news.doing))) || !client.there()) gone = true;
  }
  worker.join();
  return !gone && client.write(last_line(reply));
}

}  // namespace combwright::workbench
