#pragma once

#include "linkmargin/base/result.hpp"
#include "linkmargin/site/building.hpp"
#include "linkmargin/site/site.hpp"

#include <optional>
#include <span>
#include <string>
#include <variant>
#include <vector>

namespace linkmargin {

/// A hub or repeater to be added: what its path names as the kind and the name, this holds besides.
struct NewRadio {
  std::string profile;
  std::string storey;
  Point2 at;                           ///< metres
  double height_m = 0;                 ///< above the storey's floor
  std::optional<Capacity> capacity{};  ///< absent: not stated
  friend bool operator==(const NewRadio&, const NewRadio&) = default;
};

/// A device to be added, in the same way.
struct NewDevice {
  NewRadio radio;
  std::optional<int> slots{};
  std::optional<std::string> hub{};
  std::optional<double> mount_loss_db{};
  friend bool operator==(const NewDevice&, const NewDevice&) = default;
};

/// What a path leads to is taken away: a hub, repeater, device, area, traced wall, opening or obstacle.
struct Removal {
  friend bool operator==(const Removal&, const Removal&) = default;
};

/// In the unit of the key that it is for: the number of `frequency_mhz` is in MHz. A Calibration goes to
/// "/calibration" and stands for the whole section; an Obstacle is added to the storey that its path leads
/// through, by the name at the end of the path.
using EditValue =
    std::variant<double, std::string, bool, Point2, NewRadio, Calibration, NewDevice, Obstacle, Removal>;

/// One value of a site set, one thing added or taken away, or the calibration set or replaced.
struct Edit {
  std::string path;  ///< JSON Pointer (RFC 6901) as in the site file; an item of a list goes by its name
  EditValue value;
  friend bool operator==(const Edit&, const Edit&) = default;
};

/// Edits that belong together: "steel street door".
struct NamedEdits {
  std::string name;
  std::vector<Edit> edits;
  friend bool operator==(const NamedEdits&, const NamedEdits&) = default;
};

}  // namespace linkmargin
