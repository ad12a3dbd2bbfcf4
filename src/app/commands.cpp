// SPDX-License-Identifier: Apache-2.0
#include "app/commands.h"

#include <CLI/CLI.hpp>

namespace combwright::app {

CLI::App& add_command(CLI::App& program, const std::string& name, const std::string& description,
                      const std::string& example) {
  CLI::App& command = *program.add_subcommand(name, description);
  command.footer("Example:\n  " + example);
  command.allow_extras();
  return command;
}

CLI::Option& add_box_file(CLI::App& command, std::string& path) {
  return *command.add_option("BOX", path, "box file (TOML)");
}

CLI::Option& add_tune_file(CLI::App& command, std::string& path) {
  return *command.add_option("TUNE", path, "tune (MIDI or MusicXML)");
}

void add_folder_options(CLI::App& command, std::string& out, std::string& shop) {
  command.add_option("--out", out, "folder for the files, made if missing")
      ->type_name("DIR")
      ->required();
  command.add_option("--shop", shop, "the workshop's own file (TOML)")->type_name("FILE");
}

void add_json_flag(CLI::App& command, bool& json) {
  command.add_flag("--json", json, "answer with JSON, in SI units");
}

void add_force_flag(CLI::App& command, bool& force) {
  command.add_flag("--force", force,
                   "overwrite files that are not this program's, or another tune's");
}

}  // namespace combwright::app
