#pragma once

#include "linkmargin/base/units.hpp"
#include "linkmargin/link/radio/radio_end.hpp"
#include "linkmargin/site/environment.hpp"

#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// What moves the level on its way from the transmitter to the receiver.
enum class BudgetTerm {
  transmitted,  ///< e.i.r.p.: a level in dBm, the others are changes
  transmitter_mounting,
  transmitter_metal,
  transmitter_body,
  path,
  learned,  ///< what was learned of all links (Calibration::offset_db)
  receiver_mounting,
  receiver_metal,
  receiver_body,
  receive_antenna,
  nearby_readings,
};

/// One line of the sum that makes a level.
struct BudgetItem {
  BudgetTerm term = BudgetTerm::transmitted;
  double value_db = 0;  ///< what it adds to the level; the first one is a level in dBm
};

/// One direction of a link.
struct LinkBudget {
  Dbm level;                      ///< at the receiver's antenna port
  Db margin;                      ///< above the receiver's sensitivity in the noise about it
  Dbm sensitivity;                ///< the receiver's own
  Db noise_rise;                  ///< by which the noise about the receiver raises it
  double reading_percent = 0;     ///< 0 where the receiver hears nothing: its margin is negative
  std::vector<BudgetItem> items;  ///< in order; they add up to the level

  /// Nothing is heard at the level predicted.
  bool below_sensitivity() const { return margin < Db{0}; }
};

/// The level shown as a percentage, cut to 0..100.
double reading_percent(const ReadingScale& scale, Dbm level);

/// The level at which the reading is the threshold under which a device is weak.
Dbm threshold_level(const ReadingScale& scale);

/// The level from which on the receiver shows the threshold: that of the scale, or what it hears at all where
/// that is more.
Dbm needed_level(const ReadingScale& scale, const LinkBudget& way);

/// @return nothing when `from` does not transmit or `to` does not receive
std::optional<LinkBudget> link_budget(const RadioEnd& from, const RadioEnd& to, double path_loss_db,
                                      const ReadingScale& scale);

/// Raises a direction by so many decibels, as the last of its items; 0 changes nothing.
void shift(LinkBudget& way, BudgetTerm term, double value_db, const ReadingScale& scale);

}  // namespace linkmargin
