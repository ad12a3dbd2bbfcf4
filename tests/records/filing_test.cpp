// SPDX-License-Identifier: Apache-2.0
#include "records/filing.h"

#include <cmath>
#include <limits>

#include <gmock/gmock.h>

#include "records/listing.h"
#include "records/made_records.h"
#include "records/offset.h"

namespace combwright::records {
namespace {

using ::testing::HasSubstr;
using testing::made_comb;
using testing::made_reading;
using testing::refusal;

class Filing : public testing::RecordsTest {};

Reading full_reading() {
  Reading reading = made_reading();
  reading.decay_s = 1.25;
  reading.partials = {{1621.5, 0.25, -12.5}, {4540.0, std::nullopt, std::nullopt}};
  reading.temperature_c = 21.5;
  reading.onset_s = 0.125;
  reading.recording = Recording{"c4.wav", std::string(64, 'b'), 96000.0, 2, "near 261.6 Hz"};
  reading.who = "M. Weber";
  reading.remark = "second try";
  return reading;
}

void expect_same(const Reading& a, const Reading& b) {
  EXPECT_EQ(a.frequency_hz, b.frequency_hz);
  EXPECT_EQ(a.stderr_hz, b.stderr_hz);
  EXPECT_EQ(a.decay_s, b.decay_s);
  EXPECT_EQ(a.temperature_c, b.temperature_c);
  EXPECT_EQ(a.onset_s, b.onset_s);
  EXPECT_EQ(a.who, b.who);
  EXPECT_EQ(a.at, b.at);
  EXPECT_EQ(a.remark, b.remark);
  ASSERT_EQ(a.partials.size(), b.partials.size());
  for (std::size_t i = 0; i < a.partials.size(); ++i) {
    EXPECT_EQ(a.partials[i].frequency_hz, b.partials[i].frequency_hz);
    EXPECT_EQ(a.partials[i].decay_s, b.partials[i].decay_s);
    EXPECT_EQ(a.partials[i].level_db, b.partials[i].level_db);
  }
  ASSERT_EQ(a.recording.has_value(), b.recording.has_value());
  if (!a.recording) return;
  EXPECT_EQ(a.recording->file, b.recording->file);
  EXPECT_EQ(a.recording->sha256, b.recording->sha256);
  EXPECT_EQ(a.recording->rate_hz, b.recording->rate_hz);
  EXPECT_EQ(a.recording->channels, b.recording->channels);
  EXPECT_EQ(a.recording->settings, b.recording->settings);
}

TEST_F(Filing, ARecordingIsOneReadingOfATooth) {
  Database database(path(), Access::begin);
  const Reading reading = full_reading();
  const auto twice = file_readings(database, made_comb(),
                                   {{1, reading, {}}, {1, reading, {{WorkKind::clip, 1e-4}}}});
  ASSERT_EQ(twice.size(), 2U);
  EXPECT_FALSE(twice[0].known);
  EXPECT_TRUE(twice[1].known);
  EXPECT_EQ(twice[1].number, twice[0].number);
  // Another tooth of the same take is another reading; one that is struck counts no longer.
  EXPECT_FALSE(file_readings(database, made_comb(), {{2, reading, {}}})[0].known);
  strike_reading(database, twice[0].number, "wrong tooth", false);
  EXPECT_FALSE(file_readings(database, made_comb(), {{1, reading, {}}})[0].known);
  EXPECT_EQ(counts(database).readings, 3);
}

TEST_F(Filing, TheErrorOfAnOffsetHoldsClockAndTemperature) {
  // 0.05 cents of the clock; 0.20645 cents a kelvin (physics of the beam), 2 K unread, 0.5 K read.
  FiledReading filed{.reading = made_reading()};
  filed.reading.stderr_hz = 1e-6;
  EXPECT_NEAR(stderr_cents(filed), std::hypot(0.05, 2.0 * 0.20645), 1e-4);
  filed.reading.temperature_c = 22.0;
  EXPECT_NEAR(stderr_cents(filed), std::hypot(0.05, 0.5 * 0.20645), 1e-4);
  filed.reading.stderr_hz = 0.0;
  EXPECT_NEAR(stderr_cents(filed), std::hypot(0.05, 0.5 * 0.20645, 0.15), 1e-4);
}

TEST_F(Filing, AReadingWithoutATemperatureIsTakenAsAt20C) {
  FiledReading filed{.reading = made_reading(440.0)};
  filed.tooth.target_hz = 440.0;
  filed.in_tune_c = 30.0;
  EXPECT_NEAR(offset_cents(filed), -10.0 * 0.20645, 1e-3);
}

TEST_F(Filing, GivesBackEveryPartOfAReading) {
  const std::vector<Work> work{{WorkKind::clip, 0.00035}, {WorkKind::file_root, 2e-5}};
  {
    Database database(path(), Access::begin);
    file_reading(database, made_comb(), 1, made_reading(255.0), {});
    file_reading(database, made_comb(), 1, full_reading(), work);
  }
  const Database database(path(), Access::look);
  const std::vector<FiledReading> history = tooth_history(database, "larkspur", "front", 1);
  ASSERT_EQ(history.size(), 2U);
  expect_same(history[0].reading, made_reading(255.0));
  expect_same(history[1].reading, full_reading());
  EXPECT_TRUE(history[0].work.empty());
  ASSERT_EQ(history[1].work.size(), 2U);
  EXPECT_EQ(history[1].work[1].kind, WorkKind::file_root);
  EXPECT_EQ(taken_m(history[1].work, WorkKind::clip), 0.00035);
  EXPECT_EQ(history[1].tooth.target_hz, 261.63);
  EXPECT_EQ(history[1].tooth.midi, 60);
  EXPECT_EQ(history[1].box_sha256, std::string(64, 'a'));
  EXPECT_LT(history[0].number, history[1].number);
}

TEST_F(Filing, KeepsEveryBitOfANumber) {
  Database database(path(), Access::begin);
  const double odd = std::nextafter(0.1 + 0.2, 1.0);
  file_reading(database, made_comb(), 1, made_reading(odd + 440.0), {{WorkKind::clip, odd}});
  const auto filed = list_readings(database, {}).front();
  EXPECT_EQ(filed.reading.frequency_hz, odd + 440.0);
  EXPECT_EQ(filed.work.front().length_m, odd);
}

TEST_F(Filing, KeepsOneTakeOnceAndAllItsReadings) {
  Database database(path(), Access::begin);
  std::vector<ToothReading> take;
  for (const int track : {1, 2, 3}) take.push_back({track, full_reading(), {}});
  EXPECT_EQ(file_readings(database, made_comb(), take).size(), 3U);
  EXPECT_EQ(counts(database).recordings, 1);
  EXPECT_EQ(counts(database).readings, 3);
}

TEST_F(Filing, FilesATakeAsAWholeOrNotAtAll) {
  Database database(path(), Access::begin);
  file_reading(database, made_comb(), 1, made_reading(), {});
  PlannedComb other = made_comb();
  other.teeth[2].midi = 65;
  EXPECT_THAT(refusal([&] {
                file_readings(database, other, {{1, made_reading(), {}}, {3, made_reading(), {}}});
              }),
              HasSubstr("as E4, not F4: another comb"));
  EXPECT_EQ(counts(database).readings, 1);
}

TEST_F(Filing, TakesNewTargetsFromAChangedBoxFile) {
  Database database(path(), Access::begin);
  file_reading(database, made_comb(), 1, made_reading(), {});
  PlannedComb later = made_comb();
  later.box_sha256 = std::string(64, 'c');
  later.teeth[0].target_hz = 263.0;
  file_reading(database, later, 1, made_reading(), {});
  const auto comb = find_comb(database, "larkspur", "front");
  ASSERT_TRUE(comb.has_value());
  EXPECT_EQ(comb->plan.box_sha256, later.box_sha256);
  EXPECT_EQ(comb->readings[0].box_sha256, made_comb().box_sha256);
  EXPECT_EQ(comb->readings[0].tooth.target_hz, 263.0);
}

TEST_F(Filing, LeavesAStruckReadingOutOfTheHistoryOnly) {
  Database database(path(), Access::begin);
  const auto wrong = file_reading(database, made_comb(), 1, made_reading(2582.5), {});
  file_reading(database, made_comb(), 1, made_reading(), {});
  strike_reading(database, wrong, "mistyped", false);
  EXPECT_EQ(tooth_history(database, "larkspur", "front", 1).size(), 1U);
  ASSERT_EQ(list_readings(database, {}).size(), 2U);
  EXPECT_EQ(list_readings(database, {}).front().struck, "mistyped");
  EXPECT_THAT(refusal([&] { strike_reading(database, wrong, "again", false); }),
              HasSubstr("has no reading 1 that is not struck"));
}

TEST_F(Filing, KeepsTheWorkBeforeAStruckReadingUnlessThatIsStruckToo) {
  Database database(path(), Access::begin);
  const auto file = [&](int track, double clipped_m) {
    return file_reading(database, made_comb(), track, made_reading(),
                        {{WorkKind::clip, clipped_m}});
  };
  file(1, 1e-3);
  strike_reading(database, file(1, 2e-3), "door slammed", false);
  strike_reading(database, file(1, 4e-3), "other tooth", true);
  file(2, 8e-3);
  file(1, 16e-3);
  const auto history = tooth_history(database, "larkspur", "front", 1);
  ASSERT_EQ(history.size(), 2U);
  EXPECT_DOUBLE_EQ(taken_m(history[0].work, WorkKind::clip), 1e-3);
  EXPECT_DOUBLE_EQ(taken_m(history[1].work, WorkKind::clip), 18e-3);
}

TEST_F(Filing, TellsWhichReadingsAreOfTeethAsCut) {
  Database database(path(), Access::begin);
  file_reading(database, made_comb(), 1, made_reading(), {});
  file_reading(database, made_comb(), 1, made_reading(), {});
  file_reading(database, made_comb(), 2, made_reading(), {{WorkKind::clip, 1e-3}});
  strike_reading(
      database,
      file_reading(database, made_comb(), 3, made_reading(), {{WorkKind::file_tip, 1e-5}}),
      "too soft", false);
  file_reading(database, made_comb(), 3, made_reading(), {});
  const auto first = as_cut(list_readings(database, {}));
  ASSERT_EQ(first.size(), 1U);
  EXPECT_EQ(first.front().number, 1);
}

TEST_F(Filing, BeginsANewCombAfterTheOldOneIsScrapped) {
  Database database(path(), Access::begin);
  file_reading(database, made_comb(), 1, made_reading(), {});
  scrap_comb(database, "larkspur", "front", "2024-05-18", "lead gone");
  EXPECT_FALSE(find_comb(database, "larkspur", "front").has_value());
  PlannedComb next = made_comb();
  next.teeth[0].midi = 61;
  file_reading(database, next, 1, made_reading(270.0), {});
  EXPECT_EQ(tooth_history(database, "larkspur", "front", 1).size(), 1U);
  const auto combs = list_combs(database, {});
  ASSERT_EQ(combs.size(), 2U);
  EXPECT_EQ(combs[0].scrapped_why, "lead gone");
  EXPECT_EQ(combs[1].scrapped_at, "");
}

TEST_F(Filing, FindsByBoxCombTrackDayAndPerson) {
  Database database(path(), Access::begin);
  for (const char* box : {"larkspur", "bramble"})
    for (const char* comb : {"front", "back"})
      for (const int track : {1, 2}) {
        Reading reading = made_reading();
        reading.who = track == 1 ? "Ann" : "Ben";
        reading.at = box[0] == 'l' ? "2024-05-17T09:30:00Z" : "2024-06-01";
        file_reading(database, made_comb(box, comb), track, reading, {});
      }
  const auto number = [&](const Filter& filter) { return list_readings(database, filter).size(); };
  EXPECT_EQ(number({}), 8U);
  EXPECT_EQ(number({.box = "bramble"}), 4U);
  EXPECT_EQ(number({.comb = "back"}), 4U);
  EXPECT_EQ(number({.track = 2}), 4U);
  EXPECT_EQ(number({.since = "2024-05-17"}), 8U);
  EXPECT_EQ(number({.since = "2024-05-18"}), 4U);
  EXPECT_EQ(number({.who = "Ann"}), 4U);
  EXPECT_EQ(number({.box = "bramble", .comb = "back", .track = 2, .who = "Ben"}), 1U);
}

// Text that means something to SQL, a shell or a spreadsheet is text here.
TEST_F(Filing, ListsTheLastOfManyAndThoseBefore) {
  Database database(path(), Access::begin);
  for (int i = 0; i < 5; ++i) {
    Reading reading = made_reading();
    reading.who = i < 3 ? "Ann" : "Ben";
    file_reading(database, made_comb(), 1 + i % 2, reading, {});
  }
  file_reading(database, made_comb("bramble"), 1, made_reading(), {});
  file_test(database, {"larkspur", "Cleo", "2024-05-17", "plays"});
  strike_reading(database, 2, "wrong tooth", false);
  strike_reading(database, 4, "wrong tooth", false);

  const Listing last = list_part(database, {}, {.most = 2});
  ASSERT_EQ(last.readings.size(), 2u);
  EXPECT_EQ(last.readings.front().number, 5);
  EXPECT_EQ(last.readings.back().number, 6);
  EXPECT_EQ(last.readings_in_all, 6);
  EXPECT_EQ(last.combs_in_all, 2);
  EXPECT_EQ(last.tests_in_all, 1);
  EXPECT_EQ(last.people, (std::vector<std::string>{"Ann", "Ben"}));  // no more than wanted
  ASSERT_EQ(last.combs.size(), 2u);
  EXPECT_EQ(last.combs.front().teeth_read, 1);  // both readings of its track 2 are struck

  Filter first;
  first.comb_number = last.combs.front().number;
  const Listing before = list_part(database, first, {.most = 3, .readings_before = 4});
  ASSERT_EQ(before.readings.size(), 3u);
  EXPECT_EQ(before.readings.front().number, 1);
  EXPECT_EQ(before.readings_in_all, 5);
  EXPECT_EQ(before.combs_in_all, 1);
  EXPECT_EQ(before.tests_in_all, 0);
  EXPECT_EQ(count_readings(database, first), 5);
}

TEST_F(Filing, ScrapsAndFindsACombByItsNumber) {
  Database database(path(), Access::begin);
  file_reading(database, made_comb(), 1, made_reading(), {});
  scrap_comb(database, 1, "2024-06-01", "lead gone");
  EXPECT_THAT(refusal([&] { scrap_comb(database, 1, "2024-06-01", ""); }),
              HasSubstr("no comb 1 in use"));
  file_reading(database, made_comb(), 1, made_reading(), {});
  ASSERT_TRUE(find_comb(database, 1).has_value());
  EXPECT_EQ(find_comb(database, 1)->scrapped_why, "lead gone");
  EXPECT_EQ(find_comb(database, 1)->readings.size(), 1u);
  EXPECT_EQ(find_comb(database, "larkspur", "front")->number, 2);
  EXPECT_FALSE(find_comb(database, 3).has_value());
}

TEST_F(Filing, KeepsHostileTextAsItIs) {
  Database database(path(), Access::begin);
  const std::string hostile = "'; DROP TABLE readings; --\"?1 \\ =1+1\n\t\xF0\x9F\x8E\xB5";
  Reading reading = made_reading();
  reading.who = hostile;
  reading.remark = hostile;
  reading.recording = Recording{hostile, std::string(64, '0'), 48000.0, 1, hostile};
  file_reading(database, made_comb(hostile, hostile), 1, reading, {});
  file_test(database, {hostile, hostile, "2024-05-17", hostile});
  const auto history = tooth_history(database, hostile, hostile, 1);
  ASSERT_EQ(history.size(), 1U);
  expect_same(history.front().reading, reading);
  EXPECT_EQ(list_tests(database, {.box = hostile}).front().test.remark, hostile);
}

TEST_F(Filing, RefusesWhatCannotBe) {
  Database database(path(), Access::begin);
  const auto file = [&](const auto& change) {
    Reading reading = made_reading();
    change(reading);
    return refusal([&] { file_reading(database, made_comb(), 1, reading, {}); });
  };
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  constexpr double infinite = std::numeric_limits<double>::infinity();
  for (const double bad : {nan, infinite, 0.0, -1.0})
    EXPECT_THAT(file([&](Reading& r) { r.frequency_hz = bad; }), HasSubstr("the frequency is"));
  EXPECT_THAT(file([&](Reading& r) { r.stderr_hz = nan; }), HasSubstr("standard error"));
  EXPECT_THAT(file([&](Reading& r) { r.temperature_c = infinite; }), HasSubstr("temperature"));
  EXPECT_THAT(file([&](Reading& r) { r.remark = "\xff"; }), HasSubstr("UTF-8"));
  EXPECT_THAT(file([&](Reading& r) { r.remark = std::string("a\0b", 3); }), HasSubstr("UTF-8"));
  EXPECT_THAT(file([&](Reading& r) { r.who = std::string(longest_text + 1, 'x'); }),
              HasSubstr("at most 4000"));
  for (const char* bad : {"", "yesterday", "2024-02-30", "2024-05-17T24:00:00Z",
                          "2024-05-17T09:30:00", "2024-05-17T09:30:00+02:00", "17.5.2024"})
    EXPECT_THAT(file([&](Reading& r) { r.at = bad; }), HasSubstr("is no day or moment"));
  EXPECT_THAT(refusal([&] { file_reading(database, made_comb(), 4, made_reading(), {}); }),
              HasSubstr("track 4 is not one of the comb's 3 teeth"));
  EXPECT_THAT(refusal([&] {
                file_reading(database, made_comb(), 1, made_reading(), {{WorkKind::clip, 0.0}});
              }),
              HasSubstr("must be above 0"));
  EXPECT_EQ(counts(database).boxes, 0);
}

}  // namespace
}  // namespace combwright::records
