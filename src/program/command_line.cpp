// SPDX-License-Identifier: Apache-2.0
#include "program/command_line.h"

#include <algorithm>
#include <string>
#include <vector>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "app/console.h"
#include "base/error.h"
#include "base/suggest.h"
#include "program/workbench_command.h"

namespace combwright::program {
namespace {

std::vector<std::string> command_names(const CLI::App& program) {
  std::vector<std::string> names;
  for (const CLI::App* command : program.get_subcommands({})) names.push_back(command->get_name());
  return names;
}

std::vector<std::string> option_names(const CLI::App& command) {
  std::vector<std::string> names;
  for (const CLI::Option* option : command.get_options()) {
    for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
    for (const std::string& name : option->get_snames()) names.push_back("-" + name);
  }
  return names;
}

// How the command, or the program itself, is called.
std::string called(const CLI::App& command) {
  return command.get_parent() ? called(*command.get_parent()) + " " + command.get_name()
                              : "combwright";
}

// "combwright pack BOX TUNE --out DIR": the least that a call of the command needs.
std::string synopsis(const CLI::App& command) {
  std::string text = called(command);
  if (!command_names(command).empty()) text += " ACTION";
  for (const CLI::Option* option : command.get_options())
    if (option->get_positional()) text += " " + option->get_name(true);
  for (const CLI::Option* option : command.get_options())
    if (option->get_required() && !option->get_positional())
      text += " " + option->get_name() + " " + option->get_type_name();
  return text;
}

// "did you mean --json?", or where to look when no known word is near.
std::string advice(const std::string& word, const std::vector<std::string>& known,
                   const std::string& call) {
  const std::string nearest = nearest_word(word, known);
  return nearest.empty() ? fmt::format("{} --help lists them", call)
                         : fmt::format("did you mean {}?", nearest);
}

void refuse_unknown_command(const CLI::App& program, int argc, const char* const* argv) {
  if (argc < 2) throw Error({}, "no command is given; combwright --help lists them");
  const std::string word = argv[1];
  const std::vector<std::string> names = command_names(program);
  if (word.empty() || word[0] == '-' || std::find(names.begin(), names.end(), word) != names.end())
    return;
  throw Error({},
              fmt::format("there is no command {}; {}", word, advice(word, names, "combwright")));
}

void refuse_extras(const CLI::App& command) {
  const std::vector<std::string> extras = command.remaining();
  if (extras.empty()) return;
  const auto is_option = [](const std::string& word) { return word.size() > 1 && word[0] == '-'; };
  const auto unknown = std::find_if(extras.begin(), extras.end(), is_option);
  if (unknown == extras.end())
    throw Error({}, fmt::format("\"{}\" is one word too many; write {}", extras.front(),
                                synopsis(command)));
  const std::string name = unknown->substr(0, unknown->find('='));
  throw Error({}, fmt::format("there is no option {}; {}", name,
                              advice(name, option_names(command), called(command))));
}

// An option or file that is given as "" was most likely an unset variable of a script.
void refuse_empty(const CLI::App& command) {
  for (const CLI::Option* option : command.get_options()) {
    const std::vector<std::string>& values = option->results();
    if (std::find(values.begin(), values.end(), "") == values.end()) continue;
    throw Error({}, fmt::format("{} is given as \"\"; name something, or see {} --help",
                                option->get_name(option->get_positional()), called(command)));
  }
}

// The command, or the action of a command that has some.
const CLI::App& chosen(const CLI::App& program) {
  const std::vector<CLI::App*> commands = program.get_subcommands();
  return commands.empty() ? program : chosen(*commands.front());
}

// "list" of `log list`.
void refuse_unknown_action(const CLI::App& command) {
  const std::vector<std::string> names = command_names(command);
  if (names.empty()) return;
  const std::vector<std::string> extras = command.remaining();
  if (extras.empty())
    throw Error({}, fmt::format("no action is given; {} --help lists them", called(command)));
  if (extras.front().starts_with('-')) return;
  throw Error({}, fmt::format("{} has no action {}; {}", called(command), extras.front(),
                              advice(extras.front(), names, called(command))));
}

// "needs a folder": what the option that got no value takes.
std::string needed(const CLI::App& command, const std::string& option) {
  const CLI::Option* found = command.get_option_no_throw(option);
  const std::string type = found == nullptr ? "" : found->get_type_name();
  if (option == "--temperature") return "needs a temperature";
  if (type == "DIR") return "needs a folder";
  if (type == "FILE") return "needs a file";
  if (type == "N") return "needs a whole number";
  if (type == "NOTE") return "needs a note";
  if (type == "A-B") return "needs a first and a last bar";
  if (type == "F") return "needs a share";
  if (type == "C") return "needs a temperature";
  if (type == "P") return "needs a chance";
  if (type == "HZ") return "needs a pitch";
  if (type == "NAME") return "needs a name";
  if (type == "DAY") return "needs a day";
  if (type == "WORDS") return "needs words";
  return type.empty() ? "needs a value" : "needs " + type;
}

// CLI11's complaint as one line of ours.
[[noreturn]] void refuse(const CLI::App& program, const CLI::ParseError& error) {
  const CLI::App& command = chosen(program);
  refuse_unknown_action(command);
  refuse_extras(command);
  const std::string message = error.what();
  if (dynamic_cast<const CLI::RequiredError*>(&error) != nullptr) {
    throw Error(
        {}, fmt::format("{} is missing; write {}", message.substr(0, message.find(" is required")),
                        synopsis(command)));
  }
  if (dynamic_cast<const CLI::ArgumentMismatch*>(&error) != nullptr) {
    const std::string name = message.substr(0, message.find(':'));
    const std::string problem =
        message.ends_with(" missing") ? needed(command, name) : "does not take that many values";
    throw Error({}, fmt::format("{} {}; see {} --help", name, problem, called(command)));
  }
  throw Error(
      {}, fmt::format("{}; see {} --help", message.substr(0, message.find('\n')), called(command)));
}

void describe(CLI::App& program) {
  program.name("combwright");
  program.description("Engineering software for makers of disc-playing musical boxes");
  program.set_version_flag("--version", "combwright " COMBWRIGHT_VERSION,
                           "print the version and end");
  program.set_help_flag("--help,-h", "print this help and end");
  program.get_formatter()->column_width(26);
  program.get_formatter()->label("SUBCOMMAND", "COMMAND");
  program.get_formatter()->label("Subcommands", "Commands");
  program.get_formatter()->label("Positionals", "Files");
  program.get_formatter()->label("TEXT", "");
  program.get_formatter()->label("REQUIRED", "(required)");
  program.footer(
      "combwright COMMAND --help tells more and ends with an example.\n"
      "Exit status: 0 done; 1 done, but a fault stands; 2 the request or a file is wrong;\n"
      "3 this machine would not let us.");
  program.require_subcommand(1);
  program.allow_extras();
}

}  // namespace

app::Run parse_command_line(int argc, const char* const* argv) {
  CLI::App program;
  app::Run run;
  describe(program);
  app::add_check(program, run);
  app::add_action(program, run);
  app::add_arrange(program, run);
  app::add_clip(program, run);
  app::add_comb(program, run);
  app::add_disc(program, run);
  app::add_hear(program, run);
  app::add_log(program, run);
  app::add_motor(program, run);
  app::add_pack(program, run);
  app::add_pitch(program, run);
  app::add_scale(program, run);
  app::add_tooth(program, run);
  add_workbench(program, run);
  refuse_unknown_command(program, argc, argv);
  try {
    program.parse(argc, argv);
  } catch (const CLI::Success& wanted) {
    const bool version = dynamic_cast<const CLI::CallForVersion*>(&wanted) != nullptr;
    const std::string text = version ? std::string(wanted.what()) + "\n" : program.help();
    return [text] {
      app::print(text);
      return static_cast<int>(app::done);
    };
  } catch (const CLI::ParseError& error) {
    refuse(program, error);
  }
  refuse_extras(chosen(program));
  refuse_empty(chosen(program));
  return run;
}

}  // namespace combwright::program
