#pragma once

#include "linkmargin/analysis/survey/reading_verdict.hpp"
#include "linkmargin/analysis/survey/spot_search.hpp"
#include "linkmargin/prediction/outcome.hpp"
#include "linkmargin/prediction/serving/device_link.hpp"
#include "linkmargin/site/edit/edit.hpp"
#include "linkmargin/site/reading.hpp"

#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// In the order that a technician tries them.
enum class RemedyStage {
  shift,     ///< a spacer, or centimetres at the spot
  slide,     ///< along its own mount
  hub,       ///< the hub or its repeater off the metal behind it, the hub to another place, or another hub
  repeater,  ///< one that the site has, here or elsewhere, or one more
  wire,      ///< or a second hub: last
};

/// What is tried.
enum class RemedyKind {
  read_place,  ///< where it was read, and enough
  spacer,      ///< between it and the metal behind it
  spots,
  nearest_place,
  best_place,
  station_spacer,  ///< between a hub or repeater and the metal behind it
  hub_moved,
  other_hub,
  known_repeater,
  repeater_moved,
  new_repeater,
  wire
};

/// Whether it changes a hub or repeater, which others share; a device that is enrolled otherwise is none.
inline bool is_of_equipment(RemedyKind kind) {
  return kind == RemedyKind::station_spacer || kind == RemedyKind::hub_moved ||
         kind == RemedyKind::repeater_moved || kind == RemedyKind::new_repeater;
}

/// One thing to try.
struct Remedy {
  RemedyKind kind = RemedyKind::wire;
  std::string radio{};               ///< what is moved, enrolled with, or added: a device, hub or repeater
  std::optional<Placement> place{};  ///< where it goes; absent: nothing moves
  double distance_m = 0;             ///< of the move in plan
  std::optional<double> read_percent{};       ///< what was read there, for RemedyKind::read_place
  std::optional<ExpectedReading> expected{};  ///< of the device after it; absent: not calculated (a wire)
  std::optional<SpotTrial> trial{};           ///< which spots, for RemedyKind::spots
  bool enough = false;                        ///< its chance is what was asked for
  /// Spots to try about the device beside it, where it alone is not enough and they bring more.
  std::optional<SpotTrial> with_spots{};
  bool enough_with_spots = false;
  std::vector<std::string> gains{};  ///< other devices that then reach the chance asked for
  std::vector<std::string> loses{};  ///< other devices that then no longer reach it
  std::vector<Edit> edits{};         ///< of the site; empty where the plan shows no difference

  RemedyStage rung() const;

  /// Of the device after it, with what goes beside it; of a wire and of a place that was read 1.
  double pass_probability() const;
  bool does() const { return enough || enough_with_spots; }
};

/// Why something is not proposed.
enum class SkipReason {
  needs_nothing,
  low_reading,         ///< enough, but far lower than predicted
  read_again,          ///< its last reading is enough, an earlier one was not
  read_better_before,  ///< an earlier reading where it hangs was enough, the last is not
  look_for_cause,
  spots_read,  ///< going on with its spots is not worth it
  shift_will_not_do,
  ruled_place,  ///< its standard fixes its place
  ruled_reach,  ///< the same, but for a radius
  device_stays,
  hubs_stay
};

/// One device with what may be done, in order.
struct DeviceRelocation {
  Link link;  ///< as `check` has it: its own present reading tells nothing of what is predicted, others do
  std::optional<double> reading_percent;    ///< as it was read
  std::optional<ReadingVerdict> verdict{};  ///< what the reading calls for
  ExpectedReading expected;                 ///< at the present spot's surroundings, the reading counted
  bool stays = false;                       ///< it may not be shifted at all
  std::vector<Remedy> remedies;
  std::vector<SkipReason> left_out;
};

struct RelocationOptions {
  Doors doors = Doors::armed;
  std::vector<std::string>
      devices{};  ///< empty: the weak and the doubtful ones, as read or else as predicted
  /// Of the site's devices. Those of devices where they hang tell what is weak (present_readings()); all tell
  /// of the local means near them (ShadowingRegression).
  std::vector<Reading> readings{};
  double chance = 0.9;  ///< of reaching the threshold, that a place must give
  int threads = 1;      ///< >= 1; changes nothing in the result
};

inline constexpr Range kRelocationChance{0.5, 0.999, "chance", "common practice"};

/// What to try for each device asked for.
struct Relocation {
  std::string site;
  double frequency_hz = 0;
  Doors doors = Doors::armed;
  double chance = 0;
  ReadingScale reading;
  std::vector<DeviceRelocation> devices;
  std::vector<Warning> warnings;
  std::size_t nearby_readings = 0;  ///< how many readings links near them follow
  std::vector<std::string>
      weak_areas{};  ///< where remotes do not work as they should: places are for `place`
};

/// With less chance than this a shift is not proposed: explain tells no steps then either.
inline constexpr double kShiftChance = 0.2;

/// A remedy that brings less chance than this is not told of, unless it brings enough (common practice).
inline constexpr double kWorthChance = 0.05;

/// How far a plastic spacer brings a radio off the metal behind it (common practice).
inline constexpr double kSpacerM = 0.025;

inline constexpr double kPlaceStepM = 0.1;
inline constexpr double kHubStepM = 0.5;
inline constexpr double kRepeaterStepM = 1.5;

}  // namespace linkmargin
