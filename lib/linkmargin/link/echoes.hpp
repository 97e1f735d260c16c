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
    std::vector<EchoCells::Share> shares;
    bool indoors = false;
  };

  /// Out of doors a radio lights the outer faces that look towards it, each over its solid angle, less what the
  /// straight line to the face's middle passes.
  /// @param scene  that the echoes were made of
  End end(const Scene& scene, Point3 p) const;

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
    Point2 start;            ///< where it begins in its wall's line
    Point2 along;            ///< length 1
    Point2 outward;          ///< length 1
    double length_m = 0;
    double bottom_m = 0;  ///< above the site's zero
    double top_m = 0;
    double transmitted = 0;  ///< share
    bool eaves = false;      ///< not a face but its upper edge, under a roof that transmits as much

    /// What of a radio's power falls on the face from a point, in the open, and passes it; 0 from inside.
    double lit(Point3 from, double wavelength_m) const;
    double solid_angle(Point3 from) const;
    double over_edge(Point3 from, double wavelength_m) const;
    Point3 before() const;  ///< a little outside its middle
  };

  EchoCells cells_;
  std::vector<OuterFace> faces_;
  std::vector<double> coupling_;  ///< per m2, row by row: power that hits cell i for power sent in cell j
  double wavelength_m_ = 0;
};

}  // namespace linkmargin
