// SPDX-License-Identifier: Apache-2.0
#include "workbench/api.h"

#include <string>
#include <string_view>
#include <utility>

#include "app/key_answers.h"
#include "base/error.h"
#include "workbench/content_type.h"
#include "workbench/page.h"
#include "workbench/questions.h"
#include "workbench/replies.h"

namespace combwright::workbench {
namespace {

constexpr std::string_view root = "/api/";
constexpr std::string_view files = "files/";
constexpr std::string_view made = "made/";

const NamedAsk* find(std::string_view name) {
  for (const auto group : {box_questions(), tune_questions(), disc_questions(), comb_questions(),
                           motor_questions(), bench_questions(), records_questions()})
    for (const NamedAsk& each : group)
      if (each.name == name) return &each;
  return nullptr;
}

Reply ask(const Desk& desk, const Request& request, std::string_view name, const Watch& watch) {
  const NamedAsk* found = find(name);
  if (found == nullptr) return problem(404, "there is no such question");
  if (request.method != "POST") return problem(405, "ask with POST");
  Question question(request.body, watch);
  return found->ask(desk, question);
}

Reply file(const Desk& desk, const std::string& name) {
  Sheet sheet = desk.read(name);
  return {.type = "application/octet-stream",
          .body = std::move(sheet.text),
          .version = std::move(sheet.version)};
}

// "FOLDER/FILE" of a pack.
Reply made_file(const Desk& desk, const std::string& path) {
  const std::size_t slash = path.find('/');
  if (slash == std::string::npos) return problem(404, "there is no such file");
  const std::string name = path.substr(slash + 1);
  return {.type = std::string(content_type(name)),
          .body = desk.made(path.substr(0, slash), name),
          .file_name = name};
}

}  // namespace

Reply answer(const Desk& desk, const Request& request, const Watch& watch) {
  const bool looks = request.method == "GET" || request.method == "HEAD";
  if (!request.path.starts_with(root)) return looks ? page(request) : problem(405, "ask with GET");
  const std::string_view path = std::string_view(request.path).substr(root.size());
  try {
    if (looks && path == "keys") return json_reply(app::box_keys_json());
    if (looks && path == "desk") {
      return json_reply({{"id", desk.id()},
                         {"papers", desk.papers()},
                         {"shops", desk.shops()},
                         {"tunes", desk.tunes()}});
    }
    if (looks && path.starts_with(files)) return file(desk, std::string(path.substr(files.size())));
    if (looks && path.starts_with(made))
      return made_file(desk, std::string(path.substr(made.size())));
    return ask(desk, request, path, watch);
  } catch (const Error& error) {
    return problem(error);
  }
}

bool is_at_once(const Request& request) {
  if (!request.path.starts_with(root)) return true;
  const NamedAsk* found = find(std::string_view(request.path).substr(root.size()));
  return found == nullptr || found->at_once;
}

}  // namespace combwright::workbench
