// SPDX-License-Identifier: Apache-2.0
#include "workbench/api.h"

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "app/answers.h"
#include "app/key_answers.h"
#include "base/error.h"
#include "base/file_writer.h"
#include "base/sha256.h"
#include "workbench/content_type.h"
#include "workbench/page.h"
#include "workbench/questions.h"

namespace combwright::workbench {
namespace {

using app::Json;

constexpr std::string_view root = "/api/";
constexpr std::string_view files = "files/";
constexpr std::string_view made = "made/";

Reply error_reply(const Error& error) {
  return json_reply(problem_json(error), error.kind() == Error::Kind::machine ? 500 : 400);
}

Reply no_such(std::string_view what) {
  return json_reply({{"error", fmt::format("there is no {}", what)}, {"place", nullptr}}, 404);
}

Reply other_method(std::string_view remedy) {
  return json_reply({{"error", remedy}, {"place", nullptr}}, 405);
}

const NamedAsk* find(std::string_view name) {
  for (const auto group : {box_questions(), tune_questions(), disc_questions(), comb_questions(),
                           motor_questions(), bench_questions(), records_questions()})
    for (const NamedAsk& each : group)
      if (each.name == name) return &each;
  return nullptr;
}

Reply ask(const Desk& desk, const Request& request, std::string_view name, const Watch& watch) {
  const NamedAsk* found = find(name);
  if (found == nullptr) return no_such("such question");
  if (request.method != "POST") return other_method("ask with POST");
  Question question(request.body, watch);
  return found->ask(desk, question);
}

Reply file(const Desk& desk, const std::string& name) {
  Sheet sheet = desk.read(name);
  return {.type = "application/octet-stream",
          .body = std::move(sheet.text),
          .version = std::move(sheet.version)};
}

// A file of the desk that comes in part by part.
class Upload : public Intake {
 public:
  Upload(const Desk& desk, std::string name, const std::string& if_match)
      : desk_(desk), name_(std::move(name)), known_(if_match) {
    std::erase(known_, '"');
    try {
      writer_.emplace(desk.path_of(name_));
    } catch (const Error& error) {
      problem_ = error_reply(error);
    }
  }

  void take(std::string_view bytes) override {
    if (problem_) return;
    try {
      writer_->write(bytes);
      sum_.add(bytes);
    } catch (const Error& error) {
      problem_ = error_reply(error);
    }
  }

  Reply end() override {
    if (problem_) return *problem_;
    try {
      if (!desk_.save(name_, *writer_, known_)) return changed();
    } catch (const Error& error) {
      return error_reply(error);
    }
    const std::string version = sum_.hex();
    Reply reply = json_reply({{"version", version}});
    reply.version = version;
    return reply;
  }

 private:
  Reply changed() const {
    return json_reply({{"error", fmt::format("{} was changed by another hand; look at it before "
                                             "you write over it",
                                             name_)},
                       {"place", nullptr}},
                      412);
  }

  const Desk& desk_;
  std::string name_;
  std::string known_;
  std::optional<FileWriter> writer_;
  Sha256 sum_;
  std::optional<Reply> problem_;
};

// Where nothing can be put.
class Refusal : public Intake {
 public:
  explicit Refusal(Reply reply) : reply_(std::move(reply)) {}
  void take(std::string_view) override {}
  Reply end() override { return reply_; }

 private:
  Reply reply_;
};

// "FOLDER/FILE" of a pack.
Reply made_file(const Desk& desk, const std::string& path) {
  const std::size_t slash = path.find('/');
  if (slash == std::string::npos) return no_such("such file");
  const std::string name = path.substr(slash + 1);
  return {.type = std::string(content_type(name)),
          .body = desk.made(path.substr(0, slash), name),
          .file_name = name};
}

}  // namespace

Json problem_json(const Error& error) {
  const Place& place = error.place();
  Json json = {{"error", error.message()}, {"place", nullptr}};
  if (place.file.empty()) return json;
  // By its name: where the folder lies is no concern of the page.
  const std::size_t slash = place.file.rfind('/');
  json["place"] = {{"file", place.file.substr(slash == std::string::npos ? 0 : slash + 1)},
                   {"line", app::or_null(place.line)},
                   {"column", app::or_null(place.column)},
                   {"byte", app::or_null(place.byte)}};
  return json;
}

Reply json_reply(const Json& json, int status) {
  return {.status = status, .body = app::line_of(json)};
}

Reply answer(const Desk& desk, const Request& request, const Watch& watch) {
  const bool looks = request.method == "GET" || request.method == "HEAD";
  if (!request.path.starts_with(root)) return looks ? page(request) : other_method("ask with GET");
  const std::string_view path = std::string_view(request.path).substr(root.size());
  try {
    if (looks && path == "keys") return json_reply(app::box_keys_json());
    if (looks && path == "desk")
      return json_reply({{"id", desk.id()},
                         {"papers", desk.papers()},
                         {"shops", desk.shops()},
                         {"tunes", desk.tunes()}});
    if (looks && path.starts_with(files)) return file(desk, std::string(path.substr(files.size())));
    if (looks && path.starts_with(made))
      return made_file(desk, std::string(path.substr(made.size())));
    return ask(desk, request, path, watch);
  } catch (const Error& error) {
    return error_reply(error);
  }
}

bool is_at_once(const Request& request) {
  if (!request.path.starts_with(root)) return true;
  const NamedAsk* found = find(std::string_view(request.path).substr(root.size()));
  return found == nullptr || found->at_once;
}

std::unique_ptr<Intake> upload(const Desk& desk, const Request& request) {
  std::string_view path = request.path;
  if (!path.starts_with(root) || !path.substr(root.size()).starts_with(files))
    return std::make_unique<Refusal>(no_such("file to be written here"));
  path.remove_prefix(root.size() + files.size());
  return std::make_unique<Upload>(desk, std::string(path), request.if_match);
}

}  // namespace combwright::workbench
