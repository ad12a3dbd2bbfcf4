// SPDX-License-Identifier: Apache-2.0
#include "base/watch.h"

#include <atomic>
#include <filesystem>
#include <functional>
#include <mutex>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "app/hear_job.h"
#include "app/job_files.h"
#include "app/motor_job.h"
#include "app/motor_wishes.h"
#include "app/repertoire.h"
#include "app/scratch_folder.h"
#include "arrange/scale_plan.h"
#include "motor/size.h"

namespace combwright::app {
namespace {

namespace fs = std::filesystem;
using ::testing::IsSupersetOf;

std::string example(const std::string& name) {
  return COMBWRIGHT_SOURCE_DIR "/examples/" + name;
}

// Somebody who stops the work at a checkpoint, counted from 0.
class Impatient {
 public:
  explicit Impatient(int patience) : patience_(patience) {}

  Watch watch() {
    return {.told =
                [this](const std::string& doing) {
                  const std::lock_guard lock(guard_);
                  heard_.push_back(doing);
                },
            .stopped = [this] { return checkpoints_++ >= patience_; }};
  }

  int checkpoints() const { return checkpoints_; }
  std::vector<std::string> heard() const { return heard_; }

 private:
  int patience_;
  std::atomic<int> checkpoints_ = 0;
  std::mutex guard_;
  std::vector<std::string> heard_;
};

struct Job {
  const char* name;
  std::vector<std::string> words;  // that it says, among others
  std::function<void(const Watch&)> work;
};

std::vector<Job> jobs() {
  const TuneInputs inputs =
      read_inputs({example("bramble.toml"), example("tunes/bramble-waltz.musicxml"), "", {}});
  const box::Box& box = inputs.box.box;
  // Looking for a comb takes long under the sanitizers: these teeth keep to given lines.
  TuneInputs drawn = inputs;
  drawn.box.box.combs.front().lines = {0.0, 0.031351, 0.029729, 0.02877, 0.703125, 1.0};
  return {
      {"arrange",
       {"arranging Bramble Waltz"},
       [=](const Watch& watch) { arrange::arrange(box, inputs.tune.tune, {}, watch); }},
      {"scale",
       {"reading the tunes", "choosing a scale for 1 tunes", "looking for what no scale can exceed",
        "adding teeth"},
       [=](const Watch& watch) {
         const Repertoire tunes =
             read_repertoire({example("tunes/bramble-waltz.musicxml")}, box, watch);
         arrange::plan_scale(box, tunes.tunes, {}, 0, watch);
       }},
      {"combs",
       {"designing the combs"},
       [=](const Watch& watch) { comb_job(drawn.box.box, drawn.shop, watch); }},
      {"disc",
       {"arranging Bramble Waltz", "laying out the disc", "designing the combs",
        "running the motor"},
       [=](const Watch& watch) { tune_job(drawn, {}, Combs::designed, watch); }},
      {"sizing",
       {"running the motor", "trying motors"},
       [=](const Watch& watch) {
         const MotorJob job = motor_job(drawn.box, drawn.shop, watch);
         motor::size_motor(job.box, job.shop, job.prediction.plucks, wishes_of({}, job), watch);
       }},
      {"sound",
       {"computing the sound"},
       [=](const Watch& watch) {
         heard_at(tune_job(drawn, {}, Combs::designed, watch), {}, watch);
       }},
  };
}

TEST(Watch, every_long_job_says_what_it_does) {
  for (const Job& job : jobs()) {
    SCOPED_TRACE(job.name);
    Impatient patient(1'000'000'000);
    job.work(patient.watch());
    EXPECT_THAT(patient.heard(), IsSupersetOf(job.words));
  }
}

// Wherever it is stopped: once the watch says so, each of its threads comes to no further
// checkpoint than its next.
TEST(Watch, every_long_job_stops_at_its_next_checkpoint) {
  constexpr int threads = 64;  // more than any job has at once here
  for (const Job& job : jobs()) {
    SCOPED_TRACE(job.name);
    Impatient patient(1'000'000'000);
    job.work(patient.watch());
    const int all = patient.checkpoints();
    EXPECT_GT(all, 1);
    for (const int at : {0, all / 2}) {
      Impatient watch(at);
      EXPECT_THROW(job.work(watch.watch()), Cancelled) << at << " of " << all;
      EXPECT_LE(watch.checkpoints(), at + threads);
    }
  }
}

class Stopped : public testing::ScratchFolder {};

TEST_F(Stopped, a_folder_that_was_stopped_is_not_there) {
  const std::vector<OutputFile> files{{"a.txt", "", [] { return std::string("a"); }},
                                      {"b.txt", "", [] { return std::string("b"); }}};
  for (const int at : {0, 1, 2}) {
    Impatient watch(at);
    EXPECT_THROW(write_folder({path("out"), "box", "tune", false}, files, {}, watch.watch()),
                 Cancelled);
    EXPECT_TRUE(fs::is_empty(root_));
  }
}

}  // namespace
}  // namespace combwright::app
