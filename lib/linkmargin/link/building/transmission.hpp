#pragma once

#include "linkmargin/propagation/material/slab_loss.hpp"
#include "linkmargin/site/material.hpp"
#include "linkmargin/site/warning.hpp"

#include <array>
#include <cmath>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

namespace linkmargin {

class LossCurve;
struct LossChange;

/// How far from the frequency of a measured figure it is used without a word, in octaves (common practice).
inline constexpr double kNearOctaves = 0.5;  ///< no loss depends on it

/// Where the power of a diffuse field goes that falls on one face of a construction; the rest is absorbed.
struct DiffuseShares {
  double transmitted = 0;  ///< [0, 1]
  double reflected = 0;    ///< [0, 1 - transmitted]
};

/// Upright walls and level slabs keep how steeply a wave rises, so a field is balanced by classes of its
/// elevation: the sine of it, |k_z| / k, at the nodes of Gauss and Legendre from 0 to 1. Three nodes differ
/// from eight by 0.3 dB at most indoors.
inline constexpr std::size_t kElevations = 4;
inline constexpr std::array<double, kElevations> kElevationSine{0.069431844202973712, 0.33000947820757187,
                                                                0.66999052179242813, 0.93056815579702629};
inline constexpr std::array<double, kElevations> kElevationWeight{0.17392742256872693, 0.32607257743127307,
                                                                  0.32607257743127307, 0.17392742256872693};
/// The shares of a face, by class of elevation.
using ElevationShares = std::array<DiffuseShares, kElevations>;

/// What a face reflects of a diffuse field where only a loss through it is known: walls of brick and of
/// concrete 0.1 to 0.5 m thick by ITU-R P.2040 at 868 MHz reflect 0.12 to 0.26, 0.18 in the mean
/// (transmission_test.cpp). From kMetalLossDb on it is taken for metal, since a wall of concrete would have
/// to be over 1.3 m thick to lose as much.
inline constexpr double kMasonryReflects = 0.2;  ///< doubled, halved: 9.3, 4.6 dB at most, 3.2, 1.1 rms
inline constexpr double kMetalReflects = 0.99;   ///< common practice; halved: 0.4 dB at most
inline constexpr double kMetalLossDb = 40;       ///< doubled, halved: 0, 0.3 dB at most

/// Of the variance that a table states for the loss of one such wall, the part that all walls of that make in
/// one building share: who built it, and of what. The rest is from wall to wall. An assumption of this
/// program: no publication is known that parts the two.
inline constexpr double kSharedVariance = 0.5;

/// What it costs to pass one construction at one frequency: a constant (measured) or a stack of layers whose
/// loss depends on the angle of incidence, and what leaks round its edges.
class Transmission {
 public:
  Transmission() = default;

  /// @param learned  of the construction's material, see learned_shift(); nullptr: nothing. Its shift is
  /// added to what passes through, never below 0, before what leaks; the spread that is left is that from
  /// wall to wall.
  /// @throws DomainError when the construction names a material that the table lacks, or needs a thickness
  /// and has none; validate(site) finds both before.
  static Transmission of(const Construction& construction, const MaterialTable& table, double frequency_hz,
                         const LearnedShift* learned = nullptr);

  /// What passes the innermost layer of a build-up and leaves by the side, as at the end of a roof on a wall;
  /// the whole where there are no layers.
  Transmission lining() const;

  /// @param incidence_cos from the normal, [0, 1]; beyond kMaxIncidence the loss at that angle holds
  double loss_db(double incidence_cos) const;
  /// No more than loss_db() at any angle.
  double least_loss_db() const;
  double sigma_db() const { return sigma_db_; }  ///< from one such wall to another
  double shift_db() const { return shift_db_; }  ///< what was learned from readings, in loss_db() already
  bool depends_on_angle() const { return !layers_.empty(); }

  /// The loss of what passes round the edges, which loss_db() has added; absent: nothing is added.
  std::optional<double> leakage_db() const { return leakage_db_; }

  /// Of the power that a loss lets pass, what passes through and not round the edges: by how much the loss
  /// changes with the shift.
  /// @param loss_db  of loss_db()
  double through_share(double loss_db) const;

  /// For echoes: computed from the layers, or from the loss (taken to hold at any angle) and what the
  /// material says that it reflects. Never more than kMetalReflects: nothing in a building is without loss.
  /// Computed anew at every call, in some 10 us for layers.
  DiffuseShares diffuse() const;

  /// The same of waves of one elevation each.
  /// @param level  a slab, which all waves of a class meet at one angle; of an upright wall the mean over the
  /// angles
  ElevationShares diffuse_by_elevation(bool level) const;

  /// What a slab throws back at an angle, on the side of its first layer (from above) or its last.
  SlabReflection reflection(double incidence_cos, bool from_above) const;

  /// Of the power that falls on it at an angle what passes, mean of both polarisations.
  double transmitted(double incidence_cos) const { return std::pow(10, -loss_db(incidence_cos) / 10); }

  /// The materials used outside the frequencies that their figures are stated for.
  const std::vector<StatedBand>& out_of_range() const { return out_of_range_; }

 private:
  DiffuseShares completed(DiffuseShares shares) const;
  void add_curve();
  LossChange change() const;

  double constant_db_ = 0;  // as measured
  double loss_db_ = 0;      // of it, with what was learned and leaks; where there are no layers
  double shift_db_ = 0;
  double sigma_db_ = 0;
  double frequency_hz_ = 0;
  std::optional<double> leakage_db_;
  std::optional<double> reflects_;  // share
  std::vector<SlabLayer> layers_;
  std::shared_ptr<const LossCurve> curve_;  // of the layers; null without
  std::vector<StatedBand> out_of_range_;
};

/// What stands in for a floor or ceiling that no one described, and for the reflection of one of which only
/// the loss is known: 0.16 m of concrete (ITU-R P.2040).
SlabReflection ordinary_floor_reflection(double frequency_hz, double incidence_cos);
ElevationShares ordinary_floor(double frequency_hz);  ///< lets nothing through

/// The caution for those who read a result: which materials it uses outside their frequencies.
/// @param bands  of Transmission::out_of_range(), at least one
Warning out_of_range_warning(const std::set<StatedBand>& bands, double frequency_hz);

}  // namespace linkmargin
