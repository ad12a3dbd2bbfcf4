// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "action/action.h"
#include "base/angle.h"
#include "base/error.h"
#include "disc/plan.h"
#include "disc/plan_json.h"
#include "disc/turning.h"

namespace combwright::disc {
namespace {

using PlainJson = nlohmann::json;

constexpr int deepest = 16;
constexpr std::size_t most_values = 20 * max_plan_projections;
constexpr double agreement_s = 1.0e-4;  // of angle and time
constexpr double agreement_m = 1.0e-6;  // of radius and track

Place place_of(std::string_view text, std::size_t bytes_read, const std::string& name) {
  const std::string_view before = text.substr(0, bytes_read == 0 ? 0 : bytes_read - 1);
  const auto lines = static_cast<std::size_t>(std::count(before.begin(), before.end(), '\n'));
  const std::size_t line_start = lines == 0 ? 0 : before.rfind('\n') + 1;
  return {.file = name, .line = lines + 1, .column = before.size() - line_start + 1};
}

PlainJson parse(std::string_view text, const std::string& name) {
  if (text.size() > max_plan_bytes) {
    throw Error({name}, fmt::format("{} bytes are too many for a plan; up to {} would do",
                                    text.size(), max_plan_bytes));
  }
  std::size_t values = 0;
  const auto within_limits = [&](int depth, PlainJson::parse_event_t, const PlainJson&) {
    if (depth > deepest || ++values > most_values) {
      throw Error({name}, fmt::format("too deep or too large for a plan; up to {} levels and {} "
                                      "values would do",
                                      deepest, most_values));
    }
    return true;
  };
  try {
    return PlainJson::parse(text, within_limits);
  } catch (const PlainJson::parse_error& error) {
    throw Error(place_of(text, error.byte, name), "this is not JSON; a plan written by `disc` is");
  } catch (const PlainJson::exception&) {
    throw Error({name}, "a number is too large; numbers in SI units would do");
  }
}

// One value with the way to it, for errors.
class Value {
 public:
  Value(const PlainJson& json, std::string path, const std::string& name)
      : json_(&json), path_(std::move(path)), name_(&name) {}

  [[noreturn]] void fail(const std::string& problem) const {
    throw Error({*name_}, fmt::format("\"{}\" {}", path_, problem));
  }

  Value operator[](const char* key) const {
    if (!json_->is_object()) fail("is not an object; one in braces would do");
    const auto at = json_->find(key);
    const std::string path = path_.empty() ? key : path_ + "." + key;
    if (at == json_->end()) Value(*json_, path, *name_).fail("is missing; a plan must have it");
    return {*at, path, *name_};
  }

  // What stands under a key that may be missing.
  std::optional<Value> find(const char* key) const {
    if (!json_->is_object() || !json_->contains(key)) return std::nullopt;
    return (*this)[key];
  }

  std::vector<Value> items(std::size_t most) const {
    if (!json_->is_array()) fail("is not a list; one in brackets would do");
    if (json_->size() > most) {
      fail(fmt::format("has {} items; up to {} would do", json_->size(), most));
    }
    std::vector<Value> result;
    for (const PlainJson& item : *json_) {
      result.emplace_back(item, fmt::format("{}[{}]", path_, result.size()), *name_);
    }
    return result;
  }

  std::string text() const {
    if (!json_->is_string()) fail("is not a text; one in quotes would do");
    return json_->get<std::string>();
  }

  double number(double least, double most) const {
    const double value =
        json_->is_number() ? json_->get<double>() : std::numeric_limits<double>::quiet_NaN();
    if (!(value >= least && value <= most)) {
      fail(fmt::format("is not right; a number from {} to {} would do", least, most));
    }
    return value;
  }

  int whole(int least, int most) const {
    const double value = number(least, most);
    if (value != std::floor(value)) fail("is not a whole number; one would do");
    return static_cast<int>(value);
  }

  // Place of the text in `choices`.
  std::size_t choice(std::initializer_list<std::string_view> choices) const {
    const std::string chosen = text();
    const auto at = std::find(choices.begin(), choices.end(), chosen);
    if (at == choices.end())
      fail(fmt::format("is not known; {} would do", fmt::join(choices, " or ")));
    return static_cast<std::size_t>(at - choices.begin());
  }

  double length_m() const { return number(0.0, max_plan_length_m); }
  double some_length_m() const { return number(least_length_m, max_plan_length_m); }

 private:
  static constexpr double least_length_m = 1.0e-6;

  const PlainJson* json_;
  std::string path_;
  const std::string* name_;
};

box::Disc read_sheet(const Value& value) {
  return {.diameter_m = value["diameter_m"].some_length_m(),
          .thickness_m = value["thickness_m"].length_m(),
          .centre_hole_diameter_m = value["centre_hole_diameter_m"].length_m(),
          .drive_hole_count = value["drive_hole_count"].whole(0, 1'000),
          .drive_hole_diameter_m = value["drive_hole_diameter_m"].length_m(),
          .drive_hole_radius_m = value["drive_hole_radius_m"].length_m(),
          .drive_hole_angle_rad = value["drive_hole_angle_rad"].number(-two_pi, two_pi),
          .edge_margin_m = value["edge_margin_m"].length_m(),
          .start_gap_rad = value["start_gap_rad"].number(0.0, two_pi),
          .turning = value["turning"].choice({"clockwise", "counter-clockwise"}) == 0
                         ? box::Turning::clockwise
                         : box::Turning::counter_clockwise};
}

box::Projection read_projection_size(const Value& value) {
  return {.length_m = value["length_m"].some_length_m(),
          .width_m = value["width_m"].some_length_m(),
          .height_m = value["height_m"].length_m(),
          .web_m = value["web_m"].length_m(),
          .corner_m = value["corner_m"].length_m()};
}

box::Tracks read_tracks(const Value& value) {
  return {.count = value["count"].whole(1, max_plan_tracks),
          .inner_radius_m = value["inner_radius_m"].some_length_m(),
          .pitch_m = value["pitch_m"].some_length_m(),
          .bass = value["bass"].choice({"inner", "outer"}) == 0 ? box::BassSide::inner
                                                                : box::BassSide::outer};
}

// A wheel that a projection reaches and lets go again, as action() asks for.
box::StarWheel read_star_wheel(const Value& value, double projection_height_m) {
  const box::StarWheel wheel{.points = value["points"].whole(3, 1'000),
                             .tip_radius_m = value["tip_radius_m"].some_length_m(),
                             .axis_below_disc_m = value["axis_below_disc_m"].some_length_m(),
                             .tooth_overlap_m = value["tooth_overlap_m"].some_length_m(),
                             .tip_rounding_m = value["tip_rounding_m"].length_m(),
                             .flank_rad = value["flank_rad"].number(0.0, 0.125 * two_pi)};
  if (wheel.tooth_overlap_m >= wheel.tip_radius_m) {
    value["tooth_overlap_m"].fail("is as long as tip_radius_m; a smaller one would do");
  }
  if (wheel.tip_rounding_m >= 0.5 * wheel.tip_radius_m) {
    value["tip_rounding_m"].fail("is no less than half of tip_radius_m; a smaller one would do");
  }
  const double depth_m = wheel.axis_below_disc_m - projection_height_m;
  if (!(depth_m > 0.0 && depth_m < wheel.tip_radius_m)) {
    value["axis_below_disc_m"].fail(
        "puts the wheel out of the projections' reach; between their height and that plus "
        "tip_radius_m would do");
  }
  return wheel;
}

box::Comb read_tips(const Value& value) {
  box::Comb comb{.longest_tooth_m = value["longest_tooth_m"].some_length_m(),
                 .shortest_tooth_m = value["shortest_tooth_m"].some_length_m(),
                 .plucked = value["plucked"].choice({"down", "up"}) == 0 ? box::Plucked::down
                                                                         : box::Plucked::up,
                 .level_m = value["level_m"].number(-max_plan_length_m, max_plan_length_m)};
  constexpr std::size_t most_lines = 6;
  for (const Value& share : value["lines"].items(most_lines))
    comb.lines.push_back(share.number(0.0, 1.0));
  return comb;
}

box::HoldDownBar read_hold_down(const Value& value) {
  box::HoldDownBar bar;
  for (const Value& radius : value["roller_radius_m"].items(100)) {
    bar.roller_radius_m.push_back(radius.length_m());
  }
  bar.roller_width_m = value["roller_width_m"].length_m();
  return bar;
}

box::Box read_geometry(const Value& value) {
  box::Box box;
  box.disc = read_sheet(value["disc"]);
  box.projection = read_projection_size(value["projection"]);
  box.tracks = read_tracks(value["tracks"]);
  box.star_wheel = read_star_wheel(value["star_wheel"], box.projection.height_m);
  for (const Value& comb : value["combs"].items(2)) box.combs.push_back(read_tips(comb));
  const Value midi = value["scale"]["midi"];
  for (const Value& note : midi.items(max_plan_tracks)) {
    box.scale.midi.push_back(note.whole(0, 127));
  }
  if (box.scale.midi.size() != static_cast<std::size_t>(box.tracks.count)) {
    midi.fail(fmt::format("has {} notes; {}, one for each track, would do", box.scale.midi.size(),
                          box.tracks.count));
  }
  box.damper.lead_time_s = value["damper"]["lead_time_s"].number(0.0, max_plan_time_s);
  const Value motor = value["motor"];
  box.motor.turn_time_s = motor["turn_time_s"].number(1.0, max_plan_time_s);
  box.motor.most_plucks = motor["most_plucks"].whole(0, 1'000'000);
  box.motor.pluck_window_s = motor["pluck_window_s"].number(0.0, max_plan_time_s);
  box.hold_down = read_hold_down(value["hold_down"]);
  return box;
}

// The projections agree with the geometry: those who edit one by hand must edit the other.
class ProjectionReader {
 public:
  ProjectionReader(const box::Box& box, double turn_time_s)
      : box_(box),
        turn_time_s_(turn_time_s),
        tracks_(box::tracks(box)),
        action_(action::action(box, turn_time_s)) {}

  Projection read(const Value& value) const {
    const Projection projection{
        .track = value["track"].whole(1, box_.tracks.count),
        .midi = value["midi"].whole(0, 127),
        .radius_m = value["radius_m"].some_length_m(),
        .angle_rad = value["angle_rad"].number(0.0, std::nextafter(two_pi, 0.0)),
        .time_s = value["time_s"].number(-max_plan_time_s, 2.0 * max_plan_time_s),
        .note = value["note"].whole(-1, std::numeric_limits<int>::max()),
        .bar = value["bar"].whole(0, std::numeric_limits<int>::max())};
    const auto at = static_cast<std::size_t>(projection.track - 1);
    if (std::abs(projection.radius_m - tracks_[at].radius_m) > agreement_m) {
      value["radius_m"].fail(fmt::format("is not that of track {}; {} would do", projection.track,
                                         tracks_[at].radius_m));
    }
    const double touch_s = projection.time_s - action_[at].release_delay_s;
    const double angle = angle_at(box_.disc.turning, touch_s, turn_time_s_);
    if (angle_between(angle, projection.angle_rad) / two_pi * turn_time_s_ > agreement_s) {
      value["angle_rad"].fail(
          fmt::format("does not agree with time_s {}; {} would do", projection.time_s, angle));
    }
    return projection;
  }

 private:
  const box::Box& box_;
  double turn_time_s_;
  std::vector<box::Track> tracks_;
  std::vector<action::TrackAction> action_;
};

std::vector<int> read_numbers(const std::optional<Value>& list, int least) {
  std::vector<int> numbers;
  if (!list) return numbers;
  for (const Value& number : list->items(max_plan_projections))
    numbers.push_back(number.whole(least, std::numeric_limits<int>::max()));
  return numbers;
}

Finding read_finding(const Value& value) {
  constexpr std::array levels{Level::fault, Level::warning, Level::note};
  Finding finding{.level = levels[value["level"].choice({"fault", "warning", "note"})],
                  .where = value["where"].text(),
                  .what = value["what"].text(),
                  .remedy = value["do"].text()};
  if (const std::optional<Value> at = value.find("at")) {
    if (const std::optional<Value> track = at->find("track"))
      finding.at.track = track->whole(1, max_plan_tracks);
    finding.at.hits = read_numbers(at->find("hits"), 1);
    finding.at.notes = read_numbers(at->find("notes"), 0);
  }
  return finding;
}

Findings read_findings(const Value& value) {
  Findings findings;
  for (const Value& finding : value.items(max_plan_findings))
    findings.push_back(read_finding(finding));
  return findings;
}

// The disc and its box: what the plan cuts.
void read_contents(const Value& root, Plan& plan) {
  plan.disc.box_name = root["box"].text();
  plan.disc.title = root["tune"].text();
  plan.disc.turn_time_s = root["turn_time_s"].number(1.0, max_plan_time_s);
  plan.disc.outer_radius_m = root["outer_radius_m"].some_length_m();
  plan.box = read_geometry(root["geometry"]);
  plan.box.name = plan.disc.box_name;
  if (std::abs(plan.disc.outer_radius_m - plan.box.disc.diameter_m / 2.0) > agreement_m)
    root["outer_radius_m"].fail(fmt::format("is not half of geometry.disc.diameter_m; {} would do",
                                            plan.box.disc.diameter_m / 2.0));
  const ProjectionReader reader(plan.box, plan.disc.turn_time_s);
  for (const Value& projection : root["projections"].items(max_plan_projections))
    plan.disc.projections.push_back(reader.read(projection));
}

Finding changed_by_hand() {
  return {.level = Level::warning,
          .where = "plan",
          .what = "it was changed after combwright wrote it; what is cut is the changed disc",
          .remedy = "check the change, or make the plan again from box and tune"};
}

}  // namespace

Plan read_plan(std::string_view json, const std::string& name) {
  const PlainJson parsed = parse(json, name);
  const Value root(parsed, "", name);
  Plan plan;
  read_contents(root, plan);
  plan.date = root["date"].text();
  const Value checksums = root["checksums"];
  plan.box_sha256 = checksums["box_sha256"].text();
  plan.tune_sha256 = checksums["tune_sha256"].text();
  plan.disc.tour.length_s = root["tour"]["length_s"].number(0.0, 1.0e9);
  plan.disc.tour.bound_s = root["tour"]["bound_s"].number(0.0, 1.0e9);
  for (const Value& file : root["files"].items(1'000))
    plan.files.push_back({file["path"].text(), file["for"].text()});
  plan.arrangement_findings = read_findings(root["arrangement_findings"]);
  plan.disc.findings = read_findings(root["findings"]);
  if (checksums["contents_sha256"].text() != contents_sha256(plan)) {
    const Findings changed = {changed_by_hand()};
    plan.arrangement_findings = merged({&changed, &plan.arrangement_findings});
  }
  return plan;
}

}  // namespace combwright::disc
