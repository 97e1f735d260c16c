#pragma once

#include "linkmargin/base/units.hpp"
#include "linkmargin/site/radio.hpp"

#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// What the equipment showed of a device or a repeater on site. Exactly one of `percent` and `level` has a
/// value.
struct Reading {
  std::string device;              ///< a name of Site::devices; of Site::repeaters with `of_repeater`
  std::optional<std::string> hub;  ///< a name of Site::hubs; absent: not said which hub it was
  std::optional<double> percent;   ///< 0..100 on the site's ReadingScale; 0 and 100 are bounds, not values
  std::optional<Dbm> level;
  std::optional<bool> doors_open;  ///< every leaf that opens stood open; absent: not said
  std::optional<Placement> place;  ///< where it was read; absent: at the device's own place
  std::string note;
  int line = 0;  ///< of the file, from 1; 0 when it comes from none
  /// A name of Site::repeaters: the reading was taken with the device enrolled at it, so it says how the
  /// repeater receives the device and nothing of the hub. Absent: the device was enrolled at a hub.
  std::optional<std::string> via{};
  /// When it was read, as moment_text() has it: "2026-03-01", "2026-03-01T14:05" or "14:05"; empty: not said.
  /// Moments with a date sort as texts. Where dates and bare times are mixed, rows go by their order.
  std::string taken{};
  bool not_heard = false;    ///< nothing arrived: `percent` is 0, and the bound is what the receiver hears
  bool of_repeater = false;  ///< `device` is a repeater: how well its hub receives it
  friend bool operator==(const Reading&, const Reading&) = default;
};

/// What a file of readings says of a site.
struct SiteReadings {
  std::vector<Reading> readings{};             ///< in the order of the file
  std::vector<std::string> ignored_columns{};  ///< as the header has them, each once
};

}  // namespace linkmargin
