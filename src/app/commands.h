// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <string>

#include <CLI/App.hpp>
#include <CLI/Option.hpp>

namespace combwright::app {

// What the chosen command does once the whole line is understood; gives the exit status.
using Run = std::function<int()>;

// Each adds one command to the program; when the command line chooses it, `run` is set.
void add_check(CLI::App& program, Run& run);
void add_action(CLI::App& program, Run& run);
void add_arrange(CLI::App& program, Run& run);
void add_clip(CLI::App& program, Run& run);
void add_comb(CLI::App& program, Run& run);
void add_disc(CLI::App& program, Run& run);
void add_hear(CLI::App& program, Run& run);
void add_log(CLI::App& program, Run& run);
void add_motor(CLI::App& program, Run& run);
void add_pack(CLI::App& program, Run& run);
void add_pitch(CLI::App& program, Run& run);
void add_scale(CLI::App& program, Run& run);
void add_tooth(CLI::App& program, Run& run);

// A subcommand with the example that closes its --help.
CLI::App& add_command(CLI::App& program, const std::string& name, const std::string& description,
                      const std::string& example);

// BOX and TUNE, the files that most commands begin with.
CLI::Option& add_box_file(CLI::App& command, std::string& path);
CLI::Option& add_tune_file(CLI::App& command, std::string& path);

// --out DIR and --shop FILE
void add_folder_options(CLI::App& command, std::string& out, std::string& shop);

// --json
void add_json_flag(CLI::App& command, bool& json);

// --force
void add_force_flag(CLI::App& command, bool& force);

}  // namespace combwright::app
