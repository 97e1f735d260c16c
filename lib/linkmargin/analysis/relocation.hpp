#pragma once

#include "linkmargin/analysis/centimetres.hpp"
#include "linkmargin/analysis/device_link.hpp"
#include "linkmargin/analysis/reading_verdict.hpp"
#include "linkmargin/site/edit.hpp"
#include "linkmargin/site/reading.hpp"

#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// In the order that a technician tries them.
enum class Rung {
  shift,     ///< centimetres at the spot
  slide,     ///< along its own mount
  hub,       ///< the hub to another place, or another hub
  repeater,  ///< one that the site has, or one more
  wire,      ///< or a second hub: last
};

/// One thing to try.
struct Remedy {
  enum class Way {
    spots,
    nearest_place,
    best_place,
    hub_moved,
    other_hub,
    known_repeater,
    new_repeater,
    wire
  };
  Way way = Way::wire;
  std::string radio{};               ///< what is moved, enrolled with, or added: a device, hub or repeater
  std::optional<Placement> place{};  ///< where it goes; absent: nothing moves
  double distance_m = 0;             ///< of the move in plan
  std::optional<ExpectedReading> expected{};  ///< of the device after it; absent: not reckoned (a wire)
  std::optional<SpotTrial> trial{};           ///< which spots, for Way::spots
  bool enough = false;                        ///< its chance is what was asked for
  std::vector<std::string> gains{};           ///< other devices that then reach the chance asked for
  std::vector<std::string> loses{};           ///< other devices that then no longer reach it
  std::vector<Edit> edits{};                  ///< of the site; empty where the plan shows no difference

  Rung rung() const;
};

/// Why something is not proposed.
enum class LeftOut {
  needs_nothing,
  low_reading,  ///< enough, but far lower than predicted
  look_for_cause,
  shift_will_not_do,
  ruled_place,
  device_stays,
  hubs_stay
};

/// One device with what may be done, in order.
struct DeviceRelocation {
  Link link;  ///< as it is predicted: its own present reading tells nothing of it, others do
  std::optional<double> reading_percent;    ///< as it was read
  std::optional<ReadingVerdict> verdict{};  ///< what the reading calls for
  ExpectedReading expected;                 ///< at the present spot's surroundings, the reading counted
  std::vector<Remedy> remedies;
  std::vector<LeftOut> left_out;
};

struct RelocationOptions {
  Doors doors = Doors::armed;
  std::vector<std::string> devices{};  ///< empty: the weak ones, as read or else as predicted
  /// Of the site's devices. Those of devices where they hang tell what is weak (present_readings()); all tell
  /// of the local means near them (NearbyReadings).
  std::vector<Reading> readings{};
  double chance = 0.9;  ///< of reaching the threshold, that a place must give
  int threads = 1;      ///< >= 1; changes nothing in the result
};

inline constexpr Range kRelocationChance{0.5, 0.999, "chance", "common practice"};

struct Relocation {
  std::string site;
  double frequency_hz = 0;
  Doors doors = Doors::armed;
  double chance = 0;
  ReadingScale reading;
  std::vector<DeviceRelocation> devices;
  std::vector<std::string> cautions;
  std::size_t nearby_readings = 0;  ///< how many readings links near them follow
};

/// What to try for each weak device. A hub goes no farther from its place than its `near_mains_m`, for the
/// supply is known to be there. Slots of a hub are given to the first that asks. Never proposes a place
/// outside `may_move`, and for a device whose place is ruled by more than radio only what leaves it there but
/// for centimetres.
///
/// Places are looked for on a grid (move_places.hpp): kPlaceStepM for devices, kHubStepM for hubs,
/// kRepeaterStepM for a repeater to be added. Each remedy is by itself; two at once are not looked for.
/// @param site sound: validate(site) is empty
/// @throws DomainError when a device is unknown, a reading is no percentage or chance is outside
///         kRelocationChance
Relocation relocation(const Site& site, const RelocationOptions& options);

/// What is done first for a device without buying anything: the first remedy of shift, slide and hub that is
/// enough; where none is, the one with the greatest chance.
/// @return null where there is none, and where the cause of an unexplained reading comes first
const Remedy* chosen(const DeviceRelocation& device);

/// The edits of what is chosen for all devices. Where two devices ask for the same thing to be moved, the
/// first has its way.
std::vector<Edit> chosen_edits(const Relocation& relocation);

/// With less chance than this a shift is not proposed: explain tells no steps then either.
inline constexpr double kShiftChance = 0.2;

/// A remedy that brings less chance than this is not told of, unless it brings enough (common practice).
inline constexpr double kWorthChance = 0.05;

inline constexpr double kPlaceStepM = 0.1;
inline constexpr double kHubStepM = 0.5;
inline constexpr double kRepeaterStepM = 1.5;

}  // namespace linkmargin
