// SPDX-License-Identifier: Apache-2.0
#include "workbench/replies.h"

#include <string>

#include "app/answers.h"

namespace combwright::workbench {

Reply json_reply(const app::Json& json, int status) {
  return {.status = status, .body = app::line_of(json)};
}

app::Json problem_json(std::string_view what) {
  return {{"error", what}, {"place", nullptr}};
}

app::Json problem_json(const Error& error) {
  app::Json json = problem_json(error.message());
  const Place& place = error.place();
  if (place.file.empty()) return json;
  // By its name: where the folder lies is no concern of the page.
  json["place"] = {{"file", place.file.substr(place.file.rfind('/') + 1)},
                   {"line", app::or_null(place.line)},
                   {"column", app::or_null(place.column)},
                   {"byte", app::or_null(place.byte)}};
  return json;
}

Reply problem(int status, std::string_view what) {
  return json_reply(problem_json(what), status);
}

Reply problem(const Error& error) {
  return json_reply(problem_json(error), error.kind() == Error::Kind::machine ? 500 : 400);
}

}  // namespace combwright::workbench
