#pragma once

#include "linkmargin/prediction/link_draws.hpp"
#include "linkmargin/prediction/link_table.hpp"

#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <vector>

namespace linkmargin {

/// What a run comes to for one device.
struct WhatIfDevice {
  double reading_percent = 0;
  bool weak = false;
  friend bool operator==(const WhatIfDevice&, const WhatIfDevice&) = default;
};

/// What a run comes to.
struct WhatIfOutcome {
  std::optional<std::size_t>
      worst;  ///< the link that reads lowest; of equals the one that lacks most, then the first
  double worst_reading_percent = 0;
  std::size_t weak_count = 0;
};

/// A site in one of its variants, with what its links read as predicted and in draws.
class WhatIfSetting {
 public:
  /// @param table  of the site, of serving links alone
  /// @param seed   of the draws; absent: there are none
  WhatIfSetting(const Site& site, LinkTable table, std::optional<std::uint64_t> seed);

  const LinkTable& table() const { return table_; }
  const LinkDraws& draws() const { return *draws_; }  ///< where there is a seed

  /// What the device of each link comes to as predicted.
  /// @param devices  one a link
  WhatIfOutcome predicted(std::span<WhatIfDevice> devices) const;

  /// How many hops levels lie off their predictions in: the devices' own, then the repeaters'.
  std::size_t hops() const { return shown_.size(); }

  /// The same where levels lie off their predictions by so much. A device is weak where a hop of its way is.
  /// @param shifts_db  one a hop. @param devices  one a link
  WhatIfOutcome outcome(std::span<const double> shifts_db, std::span<WhatIfDevice> devices) const;

 private:
  struct Shown {
    Dbm level;
    Dbm heard_from;
    double lack_db;                     ///< of the direction that lacks more
    std::vector<std::size_t> onward{};  ///< the hops that follow, by position
  };

  LinkTable table_;
  std::optional<LinkDraws> draws_;
  std::vector<Shown> shown_;  // of the weaker direction, one a hop
};

}  // namespace linkmargin
