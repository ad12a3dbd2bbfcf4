// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "app/arrange_options.h"
#include "app/disc_job.h"
#include "app/inputs.h"
#include "app/json.h"
#include "base/watch.h"
#include "box/shop.h"
#include "workbench/desk.h"

namespace combwright::workbench {

inline constexpr std::int64_t any_number = std::numeric_limits<std::int64_t>::max();

// The fields of a question, each taken once: what is left over at the end is a mistake.
class Question {
 public:
  // Throws Error if the body is no JSON object. The watch, of him who waits for the answer, must
  // outlive it.
  Question(const std::string& body, const Watch& watch);

  const Watch& watch() const { return *watch_; }

  // A text; empty where there is none. Throws Error if it is something else.
  std::string text(const std::string& key);

  // A list of texts; empty where there is none. Throws Error if it is something else.
  std::vector<std::string> texts(const std::string& key);

  // A list of objects; empty where there is none. Throws Error if it is something else.
  std::vector<app::Json> objects(const std::string& key);

  // A whole number within the ends, `low` from 0; nothing where there is none. Throws Error if it
  // is something else.
  std::optional<std::int64_t> whole(const std::string& key, std::int64_t low, std::int64_t high);

  // true or false; false where there is none. Throws Error if it is something else.
  bool flag(const std::string& key);

  // Throws Error if a field was not asked for.
  void end() const;

 private:
  app::Json taken(const std::string& key);

  app::Json fields_;
  const Watch* watch_;
};

// What `box` names, or `box_text` in its place: what the page has made of it, not saved yet. Throws
// Error as the reader does.
app::BoxInput box_of(const Desk& desk, Question& question);

// The text of that box, which need not be one that can be read, and its file's path for messages.
struct BoxText {
  std::string text;
  std::string path;
};
BoxText box_text_of(const Desk& desk, Question& question);

// What `shop` names; the defaults without it.
box::Shop shop_of(const Desk& desk, Question& question);

// What `tune` names.
app::TuneInput tune_of(const Desk& desk, Question& question);

// `bars`, `transpose`, `tempo`, `melody` and the list `locks`, as on the command line.
app::ArrangeTexts arranging_of(Question& question);

// All of these.
app::TuneInputs inputs_of(const Desk& desk, Question& question);

}  // namespace combwright::workbench
