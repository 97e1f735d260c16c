#pragma once

#include "linkmargin/analysis/relocation/relocation_result.hpp"
#include "linkmargin/analysis/survey/reading_verdict.hpp"
#include "linkmargin/link/mechanism/scene.hpp"
#include "linkmargin/prediction/read_stations.hpp"
#include "linkmargin/prediction/serving/slot_choice.hpp"
#include "linkmargin/prediction/station_table.hpp"
#include "linkmargin/site/mounting/hanging_spot.hpp"
#include "linkmargin/site/mounting/mounting_places.hpp"
#include "linkmargin/site/site_radios.hpp"

#include <cstdint>
#include <optional>
#include <vector>

namespace linkmargin {

/// What the search for remedies shares: the site made ready, and each device as things stand.
struct RelocationSearch {
  RelocationSearch(const Site& site, const RelocationOptions& options);

  /// What a device should read over a link, readings near by counted.
  ExpectedReading expected(const Link& link) const;
  PassSummary brief(const Link& link) const;

  /// What a reader of the answer should know: of the site, of its scene, of readings that were left out.
  std::vector<Warning> warnings() const;

  /// What was read of a device, in percent; nothing where nothing was.
  std::optional<double> read_percent(std::size_t device) const;

  /// As `check` says it.
  Outcome outcome(std::size_t device) const;

  /// What a device's reading calls for; nothing where none was taken.
  const std::optional<ReadingAnswer>& reading_answer(std::size_t device) const { return answers[device]; }

  /// What a reading says of a device as it hangs; nothing where none was taken.
  std::optional<FadePosterior> after_reading(std::size_t device) const;

  /// A device of the site, enrolled as it was read where it was read: the equipment chose that way, and of it
  /// the reading tells. A better reading than that is promised of no other.
  Device as_read(std::size_t device) const;

  const Site& site;
  const RelocationOptions& options;
  Scene scene;
  MountingPlaces mounting;
  HangingSpots hanging;
  ShadowingRegression nearby;
  FadingModel fading_model;
  Stations stations;
  Stations bare;                         ///< without readings
  LinkTable table;                       ///< what `check` says
  std::vector<Link> links;               ///< of the site's devices, in order, all readings counted
  std::vector<Link> predicted;           ///< the same less what each device's own present reading tells
  std::vector<ExpectedReading> present;  ///< where they hang, at another spot about there
  std::vector<std::optional<ReadingAnswer>> answers;  ///< to the present readings
  std::vector<std::optional<TriedSpots>> tried;       ///< of those of which several spots were read

  const PresentReading* read_of(std::size_t device) const;  ///< null where none was taken

  /// A device that may be shifted by centimetres at least.
  bool may_shift(std::size_t device) const;

  /// Which spots about a device to try over a link; nothing where it may not shift.
  /// @param after  as spot_search() takes it
  /// @param place  where the device hangs then
  std::optional<SpotTrial> best_spots(std::size_t device, const Link& link, const FadePosterior* after,
                                      const Placement& place) const;

  /// Further spots to read about a device as it hangs, all readings of it counted; nothing where it may not
  /// shift, or where its spots were read and going on is not worth it.
  std::optional<SpotTrial> present_spots(std::size_t device) const;

  /// Of the places within its reach where a device was read and that were enough, the one that read most.
  std::optional<ElsewhereReading> good_place(std::size_t device) const;

  /// What a remedy brings over the link that it makes, and with spots tried beside it.
  /// @param place  where the device hangs then; not where a hub or repeater goes
  void complete(Remedy& remedy, std::size_t device, const Link& link, const Placement& place) const;

  bool enough(double pass_probability) const { return pass_probability >= options.chance; }

  /// Whether something is worth telling of: it does, or it brings a device nearer.
  bool helps(std::size_t device, const PassSummary& then) const {
    return gains(present[device].pass_probability, then);
  }

  /// The same of another hub or repeater. A device that reads too little and may not leave its spot has no
  /// other chance by the way that it goes now.
  bool other_way_helps(std::size_t device, const PassSummary& then) const {
    const auto read = read_percent(device);
    const bool stuck = read && *read < site.reading.weak_below_percent && !may_shift(device);
    return gains(stuck ? 0 : present[device].pass_probability, then);
  }

  bool gains(double now, const PassSummary& then) const {
    const double gain = then.pass_probability - now;
    return gain >= kWorthChance || (gain > 0 && enough(then.pass_probability) && !enough(now));
  }
};

/// A device on a spacer, off the metal behind it: by the model of metal near an antenna where the file gives
/// the gap; where it gives a loss of the mounting place alone, down to what the profile's usual place costs.
struct SpacedDevice {
  Device device;
  Edit edit;
};
/// @return nothing where nothing is known to be behind it
std::optional<SpacedDevice> spaced_device(const RelocationSearch& search, std::size_t device);

/// What another place of a hub or repeater does to all devices, or a spacer behind it where it hangs.
struct HubMove {
  std::size_t station = 0;  ///< position in Site::hubs, then in Site::repeaters
  Placement at;
  double distance_m = 0;
  bool spaced = false;               ///< it stays, off the metal behind it
  std::vector<PassSummary> then;     ///< of the site's devices, in order
  std::vector<std::uint8_t> serves;  ///< 1 where it then serves the device
};

/// How far from metal a radio is on a spacer.
double spaced_gap_m(const Mount& mount);

/// The edit that says so. @param radio  with a mount
Edit spacer_edit(const SiteRadio& radio);

/// Makes a hub or repeater what it is after a move.
template <typename Station>
void put_as(Station& station, const HubMove& move) {
  if (move.spaced) {
    station.mount->gap_m = spaced_gap_m(*station.mount);
  } else {
    put_station(station, move.at);
  }
}

/// A spacer behind each hub and repeater on metal, and every place that one may be moved to, one after the
/// other, the nearest first.
std::vector<HubMove> hub_moves(const RelocationSearch& search);

/// The nearest move of a hub that helps a device enough and harms no other; without one, the harmless move
/// after which it is best. Only a hub that then serves the device is moved.
/// @param repeater  the same of repeaters
std::optional<Remedy> moved_hub(const RelocationSearch& search, const std::vector<HubMove>& moves,
                                std::size_t device, bool repeater);

/// A spacer behind a hub or repeater on metal that then serves the device: where several help, the one that
/// helps it most.
std::optional<Remedy> spaced_station(const RelocationSearch& search, const std::vector<HubMove>& moves,
                                     std::size_t device);

/// Another hub, for a device that is enrolled by name.
std::optional<Remedy> other_hub(const RelocationSearch& search, std::size_t device);

/// A spot for one more repeater, with its way to the hub.
struct RepeaterPlace {
  Repeater repeater;
  RepeaterEndpoint endpoint;
};

/// Spots at the walls of all rooms from which the hub is reached; none where no profile is a repeater's.
std::vector<RepeaterPlace> repeater_places(const RelocationSearch& search);

/// The site's repeaters, where they are and where they may be moved; and one more where none of them does.
std::vector<Remedy> repeaters(const RelocationSearch& search, const std::vector<HubMove>& moves,
                              const std::vector<RepeaterPlace>& places, std::size_t device);

/// Where shared equipment may go, found when it is first asked for and kept for whoever asks next. For one
/// thread at a time.
class EquipmentPlaces {
 public:
  /// @param search outlives this
  explicit EquipmentPlaces(const RelocationSearch& search) : search_(search) {}

  const std::vector<HubMove>& moves();            ///< hub_moves()
  const std::vector<RepeaterPlace>& repeaters();  ///< repeater_places()

 private:
  const RelocationSearch& search_;
  std::optional<std::vector<HubMove>> moves_;
  std::optional<std::vector<RepeaterPlace>> repeaters_;
};

/// What to try for some of the site's devices, each by itself but for slots.
/// @param devices  positions in Site::devices
std::vector<DeviceRelocation> device_remedies(const RelocationSearch& search, EquipmentPlaces& places,
                                              const std::vector<std::size_t>& devices);

/// relocation() of a search that is made already.
Relocation relocation(const RelocationSearch& search, EquipmentPlaces& places);

}  // namespace linkmargin
