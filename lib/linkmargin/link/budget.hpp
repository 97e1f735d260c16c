#pragma once

#include "linkmargin/base/units.hpp"
#include "linkmargin/site/environment.hpp"
#include "linkmargin/site/radio.hpp"

#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// One end of a link with everything about its radio resolved to numbers.
struct RadioEnd {
  std::optional<Dbm> eirp;         ///< absent: it does not transmit
  double gain_dbi = 0;             ///< on reception
  std::optional<Dbm> sensitivity;  ///< absent: it does not receive
  double mount_loss_db = 0;
  double body_loss_db = 0;
};

RadioEnd radio_end(const Profile& profile);
RadioEnd radio_end(const Profile& profile, const Device& device);  ///< with the device's own losses

struct BudgetItem {
  std::string name;     ///< "transmitted (e.i.r.p.)", "path loss", "receive antenna gain", ...
  double value_db = 0;  ///< what it adds to the level; the first one is a level in dBm
};

/// One direction of a link.
struct Direction {
  Dbm level;  ///< at the receiver's antenna port
  Db margin;  ///< above the receiver's sensitivity
  double reading_percent = 0;
  std::vector<BudgetItem> items;  ///< in order; they add up to the level
};

/// The level shown as a percentage, cut to 0..100.
double reading_percent(const ReadingScale& scale, Dbm level);

/// The level at which the reading is the threshold under which a device is weak.
Dbm threshold_level(const ReadingScale& scale);

/// @return nothing when `from` does not transmit or `to` does not receive
std::optional<Direction> direction(const RadioEnd& from, const RadioEnd& to, double path_loss_db,
                                   const ReadingScale& scale);

}  // namespace linkmargin
