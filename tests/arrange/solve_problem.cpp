// SPDX-License-Identifier: Apache-2.0
// solve_problem < PROBLEMS > SOLUTIONS
// Reads an array of problems as JSON and prints the array of what solve() makes of them.
#include <iostream>

#include <nlohmann/json.hpp>

#include "arrange/milp_json.h"
#include "arrange/solve.h"

int main() {
  namespace arrange = combwright::arrange;
  try {
    nlohmann::json solutions = nlohmann::json::array();
    for (const nlohmann::json& problem : nlohmann::json::parse(std::cin))
      solutions.push_back(arrange::json_of(arrange::solve(arrange::problem_from(problem))));
    std::cout << solutions << '\n';
  } catch (const nlohmann::json::exception& error) {
    std::cerr << error.what() << '\n';
    return 2;
  }
  return 0;
}
