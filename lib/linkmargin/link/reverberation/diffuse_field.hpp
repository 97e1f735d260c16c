#pragma once

#include "linkmargin/link/reverberation/power_balance.hpp"

#include <vector>

namespace linkmargin {

/// How a radio takes part: shares of the power that it sends (or would receive) by cell.
struct DiffuseEnd {
  std::vector<DiffuseFieldCells::Share> shares;
  bool indoors = false;
};

/// The reverberant field of a building: the power that floors, ceilings and walls throw about, from room to
/// room through doorways and walls, and out of doors. A balance of powers between cells, each evenly filled:
/// what a cell's faces are hit with is what a radio in it sends, what they reflect, and what comes in through
/// them.
///
/// Left out: furniture and people (rooms are taken as empty), obstacles, what other buildings throw back.
/// Source: power balance of cavities with apertures, D. A. Hill et al., IEEE Trans. EMC 36 (1994) 169;
/// between many, I. Junqua et al., Electromagnetics 25 (2005) 603; in rooms, J. B. Andersen et al., IEEE
/// Antennas Propag. Mag. 49 (2007) 27. From memory, titles and formulas agreed with each other; texts not
/// seen.
class DiffuseField {
 public:
  DiffuseField() = default;

  /// @param building not kept
  explicit DiffuseField(const Building& building);

  /// Out of doors a radio lights the outer faces that look towards it, each over its solid angle, less what
  /// the straight line to the face's middle passes.
  /// @param building  that the echoes were made of
  DiffuseEnd end(const Building& building, Point3 p) const;

  /// Power received over power sent between two antennas that favour no direction, by way of echoes alone:
  /// without the straight line, and without what passes walls unreflected. 0 when both are out of doors.
  /// Swapping the ends changes it by rounding only.
  double power(const DiffuseEnd& a, const DiffuseEnd& b) const;

  /// Whether there were more rooms than are allowed; then there are no echoes.
  bool given_up() const { return cells_.too_many; }

 private:
  DiffuseFieldCells cells_;
  PowerBalance balance_;
  double wavelength_m_ = 0;
};

}  // namespace linkmargin
