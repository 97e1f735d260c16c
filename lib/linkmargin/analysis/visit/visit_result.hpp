#pragma once

#include "linkmargin/analysis/relocation/relocation_result.hpp"
#include "linkmargin/analysis/visit/visit_choice.hpp"
#include "linkmargin/prediction/link_table_result.hpp"

#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace linkmargin {

struct VisitPlanOptions {
  Doors doors = Doors::armed;
  std::vector<Reading> readings{};  ///< as RelocationOptions takes them
  double chance = 0.9;              ///< of reaching the threshold, that each device needs; kRelocationChance
  int most_sets = 2000;  ///< of changes to shared equipment, whose effect on every device is calculated; >= 1
  int threads = 1;       ///< >= 1; changes nothing in the result
};

/// The way that a device is enrolled.
struct VisitWay {
  std::string hub;
  std::vector<std::string> via{};  ///< repeaters, the first beside the device
  friend bool operator==(const VisitWay&, const VisitWay&) = default;
};

/// What is done to one device; nothing at all where all is empty.
struct DeviceStep {
  bool spacer = false;  ///< kSpacerM off the metal behind it
  std::optional<Placement> place{};
  std::optional<double> read_percent{};  ///< what was read at that place, which is enough
  std::optional<VisitWay> enrol{};       ///< where it is now enrolled otherwise
  std::optional<SpotTrial> spots{};
  std::vector<Edit> edits{};  ///< of the site; none for spots

  bool empty() const { return !spacer && !place && !enrol && !spots; }
};

/// Why a stop is made at a device.
enum class DeviceStop {
  change,      ///< something is done, to it or to what serves it
  read,        ///< nothing that is worth it helps: the reading decides
  cause,       ///< the plan does not explain its reading: look for the cause first
  read_again,  ///< its last reading is enough, but an earlier one was not, or a reserve is short
};

/// What is done at the stop of one device.
struct DeviceWork {
  std::string device;
  DeviceStop stop = DeviceStop::change;
  Outcome outcome = Outcome::weak;        ///< as `check` has it before the visit
  std::optional<double> read_percent{};   ///< as it was read
  double percent_before = 0;              ///< predicted, as `check` has it
  double chance_before = 0;               ///< the same
  bool read_first = false;                ///< a reading may well show that nothing needs to be done
  DeviceStep change;                      ///< what is done
  double percent = 0;                     ///< as `check` has it after the visit
  double check_chance = 0;                ///< the same
  double chance = 0;                      ///< with the spots of the change tried too
  bool met = false;                       ///< it then has what was asked for
  double ends_at_percent = 0;             ///< the reading with which the stop is done
  bool read_before = false;               ///< it is read first at a stop before, for shared equipment
  std::optional<DeviceStep> otherwise{};  ///< what to do next, where the reading does not come
  std::optional<Remedy> remedy{};         ///< the same, where it is done to shared equipment
};

/// What is done to equipment that several devices share.
enum class SharedKind {
  spacer,  ///< behind a hub or repeater, off the metal there
  hub_moved,
  repeater_moved,
  repeater_added,
  hub_added
};

/// What is done to equipment that devices share.
struct SharedWork {
  SharedKind kind = SharedKind::hub_moved;
  std::string radio;
  std::optional<Placement> from{};  ///< absent where it is added
  /// A device for which it is done.
  struct NeededBy {
    std::string device;
    double percent = 0;    ///< that `check` then says
    bool here = false;     ///< its own reading is with this; else it goes on to this from a repeater
    bool settles = false;  ///< with this it has what was asked for, no more done than enrolling it
  };
  std::vector<NeededBy> needed_by{};
  bool read_first = false;  ///< all of these may turn out to need nothing (DeviceWork::read_first)
};

/// One stop of the walk.
struct VisitStop {
  Placement place;  ///< where the technician stands: of something that moves, where it goes
  std::variant<SharedWork, DeviceWork> work;
  bool on_board = false;  ///< what goes there hangs on a board before sheet metal
};

/// The answer of `visit`.
struct VisitPlan {
  std::string site;
  double frequency_hz = 0;
  Doors doors = Doors::armed;
  double chance = 0;
  ReadingScale reading;
  std::vector<VisitStop> stops{};  ///< in the order of the walk; empty: there is nothing to do
  VisitEffort effort{};
  std::vector<std::string> read_again{};  ///< devices without a stop, whose way a change touches
  std::size_t sets = 0;                   ///< of changes to shared equipment that there were
  std::size_t most_changes = 0;           ///< to shared equipment in one set
  std::size_t tried = 0;                  ///< of these whose effect was calculated
  bool proved = false;                    ///< no other set is better (VisitChoices)
  int tried_parts = 0;                    ///< where not proved: all sets of fewer parts were tried
  LinkTable before;                       ///< what `check` says now
  LinkTable after;                        ///< what `check` says of the site with all edits
  std::vector<Edit> edits{};
  std::vector<Warning> warnings;
  std::size_t nearby_readings = 0;  ///< how many readings links near them follow
};

}  // namespace linkmargin
