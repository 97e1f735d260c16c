#pragma once

#include "linkmargin/link/building/parts.hpp"
#include "linkmargin/link/fading_model.hpp"
#include "linkmargin/link/radio/radio_end.hpp"
#include "linkmargin/site/site.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// A hub or repeater that would hear the device, with what a cell's figures follow from.
struct CoverageHub {
  std::string name;
  Point3 at;
  std::string hub{};  ///< where the way by a repeater ends; empty: it is a hub itself
  double onward_headroom_db =
      0;  ///< of a repeater: by how much the weakest hop of its own way is over what is needed
  /// The direction with the greater margin, as far as there is one: its reading and chance count too where
  /// they are less than the weaker's.
  struct OtherWay {
    double level_at_no_loss_dbm = 0;
    double sensitivity_dbm = 0;
  };
  std::optional<OtherWay> other{};
  bool weaker_is_downlink = false;
  /// Of the weaker direction: the level is this less the path loss and what the hub's metal costs.
  double level_at_no_loss_dbm = 0;
  std::optional<MetalSheet> metal{};  ///< that the hub is fixed before
  double sensitivity_dbm = 0;  ///< its receiver's, in the noise about it: the margin is the level less this
};

/// What a device reads wherever it is put on a storey. Cells in rows from the lower left; a cell's figures
/// hold at its centre, where they are those of `check` for a device there (no mount, no losses of its own),
/// as far as it was not filled in.
struct CoverageMap {
  std::string site;
  std::string storey;
  std::string profile;
  double frequency_hz = 0;
  Doors doors = Doors::armed;
  double height_m = 0;  ///< over the storey's floor
  double z_m = 0;       ///< over the site's zero
  Point2 origin;        ///< lower left corner of the first cell
  double step_m = 0;
  int columns = 0;
  int rows = 0;
  ReadingScale reading;
  std::vector<CoverageHub> hubs;       ///< those that were asked for; then the repeaters
  std::vector<float> path_loss_db;     ///< to the hub of the cell
  std::vector<float> sigma_db;         ///< of the level there; empty when no chances were asked for
  std::vector<float> nearby_shift_db;  ///< what readings near by add to the levels; empty without readings
  std::size_t nearby_readings = 0;     ///< how many there are
  std::vector<float> k_db;             ///< of the fading there; empty with sigma_db
  /// By a repeater: the chance that its own way holds where the hop to it does, 1 by a hub; empty without
  /// repeaters or chances.
  std::vector<float> onward_probability;
  FadingModel fading_model{Fading{}};  ///< as the site has it
  std::vector<std::uint16_t> hub_of;   ///< position in hubs; empty when there is one
  std::vector<Warning> warnings;       ///< what the reader should know

  std::size_t size() const { return path_loss_db.size(); }
  Point2 centre(std::size_t cell) const;
  const CoverageHub& hub(std::size_t cell) const { return hubs[hub_of.empty() ? 0 : hub_of[cell]]; }

  /// What lies between a hub's levels at no loss and those at a place: the path loss and the hub's metal.
  double total_loss_db(const CoverageHub& of, Point2 at, double path_db) const;

  /// The same at a cell with the hub of the cell, less what readings near by add.
  double cell_loss_db(std::size_t cell) const;
};

/// What a map shows of a cell; value_at() has the units.
enum class CoverageValue { reading, level, margin, loss, chance };

/// reading and chance in percent and as a share (the reading of the hop that the equipment shows, the chance
/// of the whole way), level in dBm, margin and loss in dB; the loss is the model's, whatever was read near
/// by. A reading is 0 where the receiver hears nothing.
/// @throws DomainError for the chance of a map without spreads
double value_at(const CoverageMap& map, std::size_t cell, CoverageValue value);

/// By how much a cell is above what weak_at asks for, in the direction with less: under 0 where it is weak.
double headroom_db(const CoverageMap& map, std::size_t cell);

/// Whether a cell is weak, as `check` has it: in either direction of a hop the reading is under the
/// threshold.
bool weak_at(const CoverageMap& map, std::size_t cell);

/// What share of a map is weak, in percent; nothing where no cell's centre lies there.
struct WeakShares {
  std::optional<double> rooms_percent;    ///< of the storey's rooms; of all, where it has none
  std::optional<double> outside_percent;  ///< of what is in no room, where it has rooms
};
/// Over the cells of a map of this site.
WeakShares weak_shares(const CoverageMap& map, const Site& site);

}  // namespace linkmargin
