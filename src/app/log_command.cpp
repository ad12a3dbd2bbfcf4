// SPDX-License-Identifier: Apache-2.0
#include <functional>
#include <memory>
#include <string>

#include "app/commands.h"
#include "app/log_actions.h"

namespace combwright::app {
namespace {

// What all actions of `log` are made with.
class Actions {
 public:
  Actions(CLI::App& log, Run& run) : log_(log), run_(run) {}

  // Begins an action; the options that follow are its own.
  Actions& begin(const std::string& name, const std::string& description,
                 const std::string& example, int (*act)(const LogOptions&)) {
    action_ = &add_command(log_, name, description, "combwright log " + name + " " + example);
    options_ = std::make_shared<LogOptions>();
    add("--db", options_->db, "the file of the records", "FILE").required();
    action_->callback([run = &run_, options = options_, act] {
      *run = [options, act] { return act(*options); };
    });
    return *this;
  }

  template <class Value>
  CLI::Option& add(const char* name, Value& value, const char* help, const char* type) {
    return *action_->add_option(name, value, help)->type_name(type);
  }

  LogOptions& options() { return *options_; }
  CLI::App& action() { return *action_; }

  void add_box() { add_box_file(*action_, options_->box).required(); }
  void add_comb() {
    add("--comb", options_->texts.comb, "name of the comb (default: the only one)", "NAME");
  }
  void add_who_and_when() {
    add("--who", options_->texts.who, "who it was", "NAME");
    add("--at", options_->texts.at, "2024-05-17 or, in UTC, 2024-05-17T09:30:00Z (default: now)",
        "DAY");
  }
  void add_filter() {
    add("--box", options_->texts.box, "only of the box of this name", "NAME");
    add("--comb", options_->texts.comb, "only of the comb of this name", "NAME");
    add("--track", options_->texts.track, "only of this track", "N");
    add("--since", options_->texts.since, "only from this day on", "DAY");
    add("--who", options_->texts.who, "only what this person filed", "NAME");
  }
  void add_out(const char* help) { add("-o", options_->out, help, "FILE").required(); }
  void add_force() {
    action_->add_flag("--force", options_->force, "overwrite a file that is there already");
  }
  void add_json() { add_json_flag(*action_, options_->json); }

 private:
  CLI::App& log_;
  Run& run_;
  CLI::App* action_ = nullptr;
  std::shared_ptr<LogOptions> options_;
};

void add_looking(Actions& actions) {
  actions.begin("list", "Readings, combs and tests", "--db bench.db --box bramble --track 4",
                log_list);
  actions.add_filter();
  actions.add_json();

  actions.begin("export", "Readings as CSV", "--db bench.db --box bramble -o readings.csv",
                log_export);
  actions.add_filter();
  actions.action().add_flag("--as-cut", actions.options().as_cut,
                            "only the first reading of each tooth, before any work: what a "
                            "comb learns from");
  actions.add_out("the CSV file");
  actions.add_force();
  actions.add_json();

  actions.begin("certificate", "A comb's certificate as PDF",
                "examples/bramble.toml --db bench.db -o comb.pdf", log_certificate);
  actions.add_box();
  actions.add_comb();
  actions.add("--shop", actions.options().shop, "the workshop's own file (TOML)", "FILE");
  actions.add_out("the PDF file");
  actions.add_force();
  actions.add_json();
}

void add_filing(Actions& actions) {
  actions.begin("add", "File a reading typed by hand",
                "examples/bramble.toml --db bench.db --track 4 --frequency \"366.2 Hz\" "
                "--clipped \"0.3 mm\" --who Ann",
                log_add);
  LogTexts& reading = actions.options().texts;
  actions.add_box();
  actions.add_comb();
  actions.add("--track", reading.track, "of the tooth", "N").required();
  actions.add("--frequency", reading.frequency, "as heard, such as \"366.2 Hz\"", "HZ").required();
  actions.add("--stderr", reading.error, "how far it may be off, one standard deviation", "HZ");
  actions.add("--decay", reading.decay, "time in which the sound falls to 37 %", "T");
  actions.add("--temperature", reading.temperature, "of the tooth", "C");
  actions.add("--clipped", reading.clipped, "off the lead since the reading before", "L");
  actions.add("--filed-root", reading.filed_root, "off the root since then", "L");
  actions.add("--filed-tip", reading.filed_tip, "off the tip since then", "L");
  actions.add_who_and_when();
  actions.add("--remark", reading.remark, "anything worth keeping", "WORDS");
  actions.add_json();

  actions.begin("test", "File the test of a box",
                "examples/bramble.toml --db bench.db --remark \"plays a whole turn\" --who Ann",
                log_test);
  actions.add_box();
  actions.add("--remark", actions.options().texts.remark, "what came out", "WORDS").required();
  actions.add_who_and_when();
  actions.add_json();

  actions.begin("strike", "Let a reading count no longer; it stays in the records",
                "3 --db bench.db --remark \"wrong tooth\"", log_strike);
  actions.action()
      .add_option("READING", actions.options().reading, "its number, as list shows it")
      ->required();
  actions.add("--remark", actions.options().texts.remark, "why", "WORDS").required();
  actions.action().add_flag("--work-too", actions.options().work_too,
                            "what was clipped or filed before it was not done either");
  actions.add_json();

  actions.begin("scrap", "Scrap a comb; the next reading is of a new one",
                "examples/bramble.toml --db bench.db --remark \"lead gone\"", log_scrap);
  actions.add_box();
  actions.add_comb();
  actions.add("--at", actions.options().texts.at,
              "2024-05-17 or, in UTC, 2024-05-17T09:30:00Z (default: now)", "DAY");
  actions.add("--remark", actions.options().texts.remark, "why", "WORDS");
  actions.add_json();
}

void add_keeping(Actions& actions) {
  actions.begin("backup", "Copy the records while others work with them",
                "--db bench.db -o bench-copy.db", log_backup);
  actions.add_out("the copy");
  actions.add_force();
  actions.add_json();

  actions.begin("check", "Whether the records are sound, and what they hold", "--db bench.db",
                log_check);
  actions.add_json();
}

}  // namespace

void add_log(CLI::App& program, Run& run) {
  CLI::App& log =
      add_command(program, "log", "The workshop's records: readings, clips, tests, certificates",
                  "combwright log list --db bench.db");
  log.require_subcommand(1);
  Actions actions(log, run);
  add_filing(actions);
  add_looking(actions);
  add_keeping(actions);
}

}  // namespace combwright::app
