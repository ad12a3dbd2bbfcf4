// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

// What the workshop keeps: which comb, which tooth, what was done to it and what was then heard.
namespace combwright::records {

// No text of a record is longer, in bytes.
inline constexpr std::size_t longest_text = 4000;

struct PlannedTooth {
  int track = 0;  // from 1, innermost first
  int midi = 0;   // its note, 0..127
  double target_hz = 0.0;
};

// A comb as its box file has it. A box is known by its name: two of one design have two names.
struct PlannedComb {
  std::string box;
  std::string box_sha256;  // checksum of the box file, 64 hexadecimal letters
  std::string comb;
  double in_tune_c = 20.0;  // temperature at which its teeth are to have their targets
  std::vector<PlannedTooth> teeth;
};

// Where a reading comes from, if it was not typed by hand.
struct Recording {
  std::string file;
  std::string sha256;  // of its bytes, 64 hexadecimal letters
  double rate_hz = 0.0;
  int channels = 0;
  std::string settings;  // how it was listened to, in words
};

struct ReadPartial {
  double frequency_hz = 0.0;
  std::optional<double> decay_s;
  std::optional<double> level_db;  // at the onset, over the own mode's
};

// The own mode of a tooth as it was measured once.
struct Reading {
  double frequency_hz = 0.0;            // as heard: at the temperature that the tooth had
  double stderr_hz = 0.0;               // one standard deviation; 0 if it is not known
  std::optional<double> decay_s;        // in which the amplitude falls to 1 / e
  std::vector<ReadPartial> partials;    // in any order
  std::optional<double> temperature_c;  // of the tooth; nothing if it was not measured
  std::optional<double> onset_s;        // in its recording
  std::optional<Recording> recording;   // nothing: typed by hand
  std::string who;                      // free text
  std::string at;                       // ISO 8601: "2024-05-17" or "2024-05-17T09:30:00Z"
  std::string remark;                   // free text
};

// What is done to a tooth between two readings.
enum class WorkKind {
  clip,       // off the tip end of its lead: the length that is gone
  file_root,  // off its thickness at the root: the depth that is gone
  file_tip,   // off its thickness at the tip
};

struct Work {
  WorkKind kind = WorkKind::clip;
  double length_m = 0.0;  // above 0
};

// A reading in its place.
struct FiledReading {
  std::int64_t number = 0;  // counts up in the order of filing
  std::string box;
  std::string comb;
  std::int64_t comb_number = 0;  // tells a comb from one of the same name that was scrapped
  std::string box_sha256;        // of the box file at that time
  PlannedTooth tooth;            // as the comb's present plan has it
  double in_tune_c = 20.0;       // likewise
  std::vector<Work> work;        // done since the tooth's reading before, in order
  Reading reading;
  std::string struck;        // why it counts no longer; empty if it counts
  bool work_struck = false;  // nor does the work before it
};

// Proving a box, or any other thing worth keeping.
struct Test {
  std::string box;
  std::string who;
  std::string at;
  std::string remark;
};

struct FiledTest {
  std::int64_t number = 0;
  Test test;
};

// A comb of the records.
struct FiledComb {
  std::int64_t number = 0;
  PlannedComb plan;
  std::string scrapped_at;             // empty: it is in use
  std::string scrapped_why;            // free text
  int teeth_read = 0;                  // of its teeth, how many have a reading that counts
  std::vector<FiledReading> readings;  // in the order of filing; only those that count
};

// Which records are asked for; what is empty asks for nothing.
struct Filter {
  std::string box;
  std::string comb;
  std::int64_t comb_number = 0;  // 0: of any
  std::optional<int> track;
  std::string since;  // a day or a moment, ISO 8601; that of the record must not be before it
  std::string who;
};

// How many of each there are.
struct Counts {
  std::int64_t boxes = 0;
  std::int64_t combs = 0;
  std::int64_t teeth = 0;
  std::int64_t recordings = 0;
  std::int64_t readings = 0;
  std::int64_t work = 0;
  std::int64_t tests = 0;
};

// Of the readings of combs, in the order of filing, those that count. What was done before one that
// is struck moves to the tooth's next, unless it is struck too.
std::vector<FiledReading> counting(const std::vector<FiledReading>& readings);

// The sum of what was taken off in one way.
double taken_m(const std::vector<Work>& work, WorkKind kind);

// "clip", "file_root" or "file_tip".
std::string to_text(WorkKind kind);

}  // namespace combwright::records
