// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <span>
#include <string_view>

#include "workbench/desk.h"
#include "workbench/message.h"
#include "workbench/question.h"
#include "workbench/replies.h"

// Every question of docs/workbench.md, a file for each group.
namespace combwright::workbench {

// Throws Error for what is wrong with the question or the files it names.
using Ask = Reply (*)(const Desk&, Question&);

struct NamedAsk {
  std::string_view name;  // POST /api/NAME
  Ask ask;
  bool at_once = false;  // does not wait for what else is being computed
};

std::span<const NamedAsk> box_questions();
std::span<const NamedAsk> comb_questions();
std::span<const NamedAsk> tune_questions();
std::span<const NamedAsk> disc_questions();
std::span<const NamedAsk> motor_questions();
std::span<const NamedAsk> bench_questions();
std::span<const NamedAsk> records_questions();

}  // namespace combwright::workbench
