#pragma once

#include "linkmargin/link/reverberation/power_balance.hpp"
#include "linkmargin/link/reverberation/street.hpp"

#include <cstdint>
#include <memory>
#include <vector>

namespace linkmargin {

/// How a radio takes part: shares of the power that it sends (or would receive) by cell.
struct DiffuseEnd {
  Eigen::VectorXd in_modes;  ///< of all modes, one list behind the other; empty where it takes no part
  bool indoors = false;
  /// Share of the power sent that leaves by the outer walls, by the ways they face; 0 out of doors.
  FrontShares to_street = FrontShares::Zero();
  std::uint32_t house = 0;  ///< of PowerBalance, indoors
};

/// What echoes bring to a link: power received over power sent.
struct Echoes {
  double in_building = 0;
  double by_street = 0;
  bool told = false;  ///< else nothing is known of them
};

/// The reverberant field of a building: the power that floors, ceilings and walls throw about, from room to
/// room through doorways and walls, and out of doors. A balance of powers between cells, each evenly filled,
/// by classes of elevation, since upright walls and level slabs keep how steeply a wave rises; and in time,
/// since only what arrives later than the straight wave has spread (docs/methods/reflections.md).
///
/// Left out: what never was reflected; what one slab reflected once, which is a wave of its own
/// (link/mechanism/slab_reflection.hpp); people, and what other buildings throw back to a radio out of doors.
/// Between two rooms it comes on top, by way of a street (street.hpp), where the site has one. Furniture
/// takes what falls on its faces and is neither reflected nor passed. Source: power balance of cavities with
/// apertures, D. A. Hill et al., IEEE Trans. EMC 36 (1994) 169; between many, I. Junqua et al.,
/// Electromagnetics 25 (2005) 603; in rooms, J. B. Andersen et al., IEEE Antennas Propag. Mag. 49 (2007) 27;
/// what comes later than the straight wave, M. Barron and L.-J. Lee, J. Acoust. Soc. Am. 84 (1988) 618. From
/// memory, titles and formulas agreed with each other; texts not seen.
class DiffuseField {
 public:
  DiffuseField() = default;

  /// @param building not kept
  /// @param threads >= 1; changes nothing in the result
  explicit DiffuseField(const Building& building, int threads = 1);

  /// Out of doors a radio lights the outer faces that look towards it, each over its solid angle, less what
  /// the straight line to the face's middle passes.
  /// @param building  that the echoes were made of
  std::shared_ptr<const DiffuseEnd> end(const Building& building, Point3 p) const;

  /// Power received over power sent between two antennas that favour no direction, by way of reflections
  /// alone. 0 when both are out of doors. Swapping the ends changes it by rounding only.
  /// @param distance_m  between the two: what arrives sooner than a wave goes so far does not count, >= 0
  double power(const DiffuseEnd& a, const DiffuseEnd& b, double distance_m) const;

  /// Whether it says anything of what is thrown about between two ends: one of them is indoors, and two rooms
  /// are of one house.
  bool tells(const DiffuseEnd& a, const DiffuseEnd& b) const;

  /// The same by way of the street: out of one room and into another of the same house; 0 else.
  double street_power(const DiffuseEnd& a, const DiffuseEnd& b) const;

  /// All three.
  Echoes echoes(const DiffuseEnd& a, const DiffuseEnd& b, double distance_m) const {
    return {power(a, b, distance_m), street_power(a, b), tells(a, b)};
  }

  /// Whether there were more rooms than are allowed; then there are no echoes.
  bool given_up() const { return cells_.too_many; }

 private:
  friend class EchoCurves;
  DiffuseEnd found_end(const Building& building, Point3 p) const;
  void add_street(const Building& building);
  /// By an antenna that favours no direction, which takes lambda^2 / (4 pi) of a flux from wherever.
  double received(double flux) const;

  DiffuseFieldCells cells_;
  PowerBalance balance_;
  Eigen::ArrayXd rate_;        // of all modes
  Eigen::ArrayXd worth_;       // what each brings for amplitudes of 1 at no distance
  Eigen::MatrixXd shape_;      // of all modes, by cell
  Eigen::MatrixXd to_street_;  // FrontShares by cell; empty without a street
  double street_flux_ = 0;     // per power sent into it, 1/m2
  double wavelength_m_ = 0;
  std::uint64_t number_ = 0;  // of all fields made: copies are alike
};

}  // namespace linkmargin
