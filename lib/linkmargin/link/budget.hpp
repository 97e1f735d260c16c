#pragma once

#include "linkmargin/base/units.hpp"
#include "linkmargin/site/environment.hpp"
#include "linkmargin/site/radio.hpp"

#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// Metal that a radio is fixed before.
struct MetalSheet {
  double front_db = 0;              ///< what it costs towards its own side
  double behind_db = 0;             ///< and towards the other
  std::optional<double> faces_deg;  ///< where its own side is; absent: not known
};

/// One end of a link with everything about its radio resolved to numbers.
struct RadioEnd {
  std::optional<Dbm> eirp;         ///< absent: it does not transmit
  double gain_dbi = 0;             ///< on reception
  std::optional<Dbm> sensitivity;  ///< absent: it does not receive
  double mount_loss_db = 0;
  double body_loss_db = 0;
  std::optional<MetalSheet> metal{};        ///< set by on_mount() (link/metal_mount.hpp)
  double metal_loss_db = 0;                 ///< towards the other end
  std::optional<double> noise_figure_db{};  ///< absent: the profile states none
  double noise_rise_db = 0;                 ///< over its own noise, where it stands (link/noise_rise.hpp)
  double learned_offset_db = 0;  ///< what readings taught of all its links, both directions; of hubs only
};

RadioEnd radio_end(const Profile& profile);
RadioEnd radio_end(const Profile& profile, const Device& device);  ///< with the device's own losses

/// The name of the item that Calibration::offset_db makes.
inline constexpr const char* kLearnedName = "learned from readings";

/// The name of the item that readings near by make.
inline constexpr const char* kNearbyName = "readings near by";

struct BudgetItem {
  std::string name;     ///< "transmitted (e.i.r.p.)", "path loss", "receive antenna gain", ...
  double value_db = 0;  ///< what it adds to the level; the first one is a level in dBm
};

/// One direction of a link.
struct Direction {
  Dbm level;                      ///< at the receiver's antenna port
  Db margin;                      ///< above the receiver's sensitivity in the noise about it
  Dbm sensitivity;                ///< the receiver's own
  Db noise_rise;                  ///< by which the noise about the receiver raises it
  double reading_percent = 0;     ///< 0 where the receiver hears nothing: its margin is negative
  std::vector<BudgetItem> items;  ///< in order; they add up to the level

  /// Nothing is heard at the level predicted.
  bool deaf() const { return margin < Db{0}; }
};

/// The level shown as a percentage, cut to 0..100.
double reading_percent(const ReadingScale& scale, Dbm level);

/// The level at which the reading is the threshold under which a device is weak.
Dbm threshold_level(const ReadingScale& scale);

/// The level from which on the receiver shows the threshold: that of the scale, or what it hears at all where
/// that is more.
Dbm needed_level(const ReadingScale& scale, const Direction& way);

/// @return nothing when `from` does not transmit or `to` does not receive
std::optional<Direction> direction(const RadioEnd& from, const RadioEnd& to, double path_loss_db,
                                   const ReadingScale& scale);

/// Raises a direction by so many decibels, as the last of its items; 0 changes nothing.
void shift(Direction& way, const std::string& name, double value_db, const ReadingScale& scale);

}  // namespace linkmargin
