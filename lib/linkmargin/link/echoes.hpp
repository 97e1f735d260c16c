#pragma once

#include "linkmargin/link/echo_cells.hpp"
#include "linkmargin/site/environment.hpp"

#include <cstdint>
#include <vector>

namespace linkmargin {

/// Whether the site's model adds echoes: `walls` with routes and echoes on. The other models' figures hold
/// them already.
bool counts_echoes(const Environment& radio);

/// The reverberant field of a scene: the power that floors, ceilings and walls throw about, from room to room
/// through doorways and walls, and out of doors. A balance of powers between cells, each evenly filled: what
/// a cell's faces are hit with is what a radio in it sends, what they reflect, and what comes in through
/// them.
///
/// Left out: furniture and people (rooms are taken as empty), obstacles, what other buildings throw back.
/// Source: power balance of cavities with apertures, D. A. Hill et al., IEEE Trans. EMC 36 (1994) 169;
/// between many, I. Junqua et al., Electromagnetics 25 (2005) 603; in rooms, J. B. Andersen et al., IEEE
/// Antennas Propag. Mag. 49 (2007) 27. From memory, titles and formulas agreed with each other; texts not
/// seen.
class Echoes {
 public:
  Echoes() = default;

  /// @param scene complete but for its echoes; not kept
  explicit Echoes(const Scene& scene);

  /// How a radio takes part: shares of the power that it sends (or would receive) by cell.
  struct End {
    struct Share {
      std::uint32_t cell;
      double share;
    };
    std::vector<Share> shares;
    bool indoors = false;
  };
  End end(Point3 p) const;

  /// Power received over power sent between two antennas that favour no direction, by way of echoes alone:
  /// without the straight line, and without what passes walls unreflected. 0 when both are out of doors.
  /// Swapping the ends changes it by rounding only.
  double power(const End& a, const End& b) const;

  /// Whether there were more rooms than are reckoned with; then there are no echoes.
  bool given_up() const { return cells_.too_many; }

 private:
  friend class EchoBalance;

  /// Where a cell's power passes out of doors.
  struct OuterFace {
    std::uint32_t cell = 0;
    Point2 start;         ///< of the wall it is in
    Point2 along;         ///< length 1
    Point2 outward;       ///< length 1
    double from_m = 1e9;  ///< along the wall
    double to_m = -1e9;
    double bottom_m = 0;  ///< above the site's zero
    double top_m = 0;
    double transmitted = 0;  ///< share

    /// As seen from a point; 0 from inside.
    double solid_angle(Point3 from) const;
  };

  EchoCells cells_;
  std::vector<OuterFace> faces_;
  std::vector<double> coupling_;  ///< per m2, row by row: power that hits cell i for power sent in cell j
  double wavelength_m_ = 0;
};

}  // namespace linkmargin
