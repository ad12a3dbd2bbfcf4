// SPDX-License-Identifier: Apache-2.0
#include "workbench/api.h"

#include <algorithm>
#include <string>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "app/answers.h"
#include "app/key_answers.h"
#include "base/error.h"
#include "workbench/content_type.h"
#include "workbench/page.h"
#include "workbench/questions.h"

namespace combwright::workbench {
namespace {

using app::Json;

Reply error_reply(const Error& error) {
  return json_reply(problem_json(error), error.kind() == Error::Kind::machine ? 500 : 400);
}

Reply no_such(std::string_view what) {
  return json_reply({{"error", fmt::format("there is no {}", what)}, {"place", nullptr}}, 404);
}

Ask find(std::string_view name) {
  for (const auto group : {box_questions(), tune_questions(), disc_questions(), comb_questions(),
                           motor_questions(), bench_questions(), records_questions()})
    for (const NamedAsk& each : group)
      if (each.name == name) return each.ask;
  return nullptr;
}

Reply ask(const Desk& desk, const Request& request, std::string_view name) {
  const Ask found = find(name);
  if (found == nullptr) return no_such("such question");
  if (request.method != "POST")
    return json_reply({{"error", "ask with POST"}, {"place", nullptr}}, 405);
  Question question(request.body);
  return found(desk, question);
}

Reply file(const Desk& desk, const Request& request, const std::string& name) {
  if (request.method == "GET") {
    Sheet sheet = desk.read(name);
    return {.type = "application/octet-stream",
            .body = std::move(sheet.text),
            .version = std::move(sheet.version)};
  }
  std::string known = request.if_match;
  std::erase(known, '"');
  std::string version;
  if (!desk.save(name, request.body, known, version)) {
    return json_reply({{"error", fmt::format("{} was changed by another hand; look at it before "
                                             "you write over it",
                                             name)},
                       {"place", nullptr}},
                      412);
  }
  Reply reply = json_reply({{"version", version}});
  reply.version = version;
  return reply;
}

// "FOLDER/FILE" of a pack.
Reply made_file(const Desk& desk, const std::string& path) {
  const std::size_t slash = path.find('/');
  if (slash == std::string::npos) return no_such("such file");
  const std::string name = path.substr(slash + 1);
  return {.type = std::string(content_type(name)), .body = desk.made(path.substr(0, slash), name)};
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

Reply answer(const Desk& desk, const Request& request) {
  constexpr std::string_view root = "/api/";
  constexpr std::string_view files = "files/";
  constexpr std::string_view made = "made/";
  if (!request.path.starts_with(root)) return page(request);
  const std::string_view path = std::string_view(request.path).substr(root.size());
  try {
    if (path == "keys" && request.method == "GET") return json_reply(app::box_keys_json());
    if (path == "desk") return json_reply({{"papers", desk.papers()}, {"tunes", desk.tunes()}});
    if (path.starts_with(files)) return file(desk, request, std::string(path.substr(files.size())));
    if (path.starts_with(made)) return made_file(desk, std::string(path.substr(made.size())));
    return ask(desk, request, path);
  } catch (const Error& error) {
    return error_reply(error);
  }
}

}  // namespace combwright::workbench
