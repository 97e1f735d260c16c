#pragma once

#include "linkmargin/base/range.hpp"
#include "linkmargin/propagation/path_loss/free_space.hpp"

#include <span>
#include <string_view>

/// ITU-R P.1238: loss inside a building from distance and frequency alone, without its walls. Two forms.
/// The coefficient form belongs to newer editions, the power-loss form to those up to about -8 or -9.
namespace linkmargin {

/// One row of the coefficient form.
struct SiteGeneralCoefficients {
  std::string_view name;         ///< "office in sight", "office out of sight", ...
  std::string_view environment;  ///< office, corridor or industrial
  bool line_of_sight;
  double alpha;
  double beta;
  double gamma;
  double sigma_db;     ///< spread about the median
  Range frequency_hz;  ///< for which the row is stated
  Range distance_m;    ///< for which the row is stated
  std::string_view source;
  std::string_view verified;  ///< how far the row was checked against its source, in words
};

std::span<const SiteGeneralCoefficients> site_general_coefficients();

/// Null when there is no such row.
const SiteGeneralCoefficients* find_site_general(std::string_view environment, bool line_of_sight);
const SiteGeneralCoefficients* find_site_general(std::string_view name);

/// Median loss 10 alpha log10(d) + beta + 10 gamma log10(f), d in metres, f in GHz. Both ends on one floor.
/// @param distance_m    kDistanceM; outside row.distance_m the caller should say that it extrapolates
/// @param frequency_hz  kFrequencyHz; the same for row.frequency_hz
/// @return decibels. May be below free space, in corridors well below: the measured buildings guide the wave.
/// @throws DomainError outside kDistanceM or kFrequencyHz
/// Accuracy: rounding of doubles; of the model: row.sigma_db.
/// Source: ITU-R P.1238-11, site-general model, table 2; equation number not seen.
double site_general_loss_db(const SiteGeneralCoefficients& row, double distance_m, double frequency_hz);

/// The span of frequencies to which one row of a power-loss table belongs.
struct PowerLossBand {
  std::string_view environment;  ///< residential, apartment, house, office or commercial
  double min_frequency_hz;
  double max_frequency_hz;
  std::string_view verified;  ///< how far the row was checked against its source, in words

  /// How far a frequency lies outside, in octaves; 0 inside.
  double octaves_outside(double frequency_hz) const;
};

/// Distance power loss coefficient N.
struct PowerLossCoefficient {
  PowerLossBand band;
  double decade_db;  ///< N, dB per tenfold distance
};

/// Floor penetration loss factor Lf(n).
struct FloorFactor {
  PowerLossBand band;
  int stated_floors;    ///< how many floors the table goes up to; 0: a rule for any number
  double floors_db[3];  ///< for 1, 2 and 3 floors, as far as stated; of a rule, the first three values
};

/// Shadowing spread.
struct PowerLossSigma {
  PowerLossBand band;
  double sigma_db;
};

std::span<const PowerLossCoefficient> power_loss_coefficients();
std::span<const FloorFactor> floor_factors();
std::span<const PowerLossSigma> power_loss_sigmas();

/// A loss of the power-loss form and the rows it was made of.
struct PowerLoss {
  double loss_db = 0;                                 ///< all terms
  double floor_db = 0;                                ///< Lf(n), part of loss_db
  const PowerLossCoefficient* coefficient = nullptr;  ///< never null
  const FloorFactor* floor_factor = nullptr;          ///< null with no floor between
  const PowerLossSigma* sigma = nullptr;              ///< never null
  bool floors_stated = true;  ///< false: more floors than the row states; each further one was taken to cost
                              ///< the last stated step, which no source says
};

/// Median loss 20 log10(f) + N log10(d) + Lf(n) - 28, f in MHz, d in metres.
/// The constant is 28, not the 27.55 of free space: at 1 m it is 0.448 dB below free space.
/// N, Lf and the spread come each from the row of the environment whose band is nearest on a logarithmic
/// frequency scale (the lower one of two as near). band.octaves_outside(f) over 0 means that the row was
/// carried over: many rows do not exist (no residential N below 1.8 GHz), and the caller should say so.
/// "apartment" and "house" take the nearest of their own and the residential rows, "residential" the nearest
/// of its own and the apartment rows.
/// @param environment   residential, apartment, house, office or commercial
/// @param distance_m    kDistanceM; stated for over 1 m (from memory, unverified)
/// @param frequency_hz  kFrequencyHz
/// @param floors        between the two ends, kFloors
/// @throws DomainError outside the ranges or for another environment
/// Accuracy: rounding of doubles; of the model: the sigma row, 8 to 12 dB.
/// Source: ITU-R P.1238, editions up to about -8 or -9, basic model and its tables; equation number not seen.
PowerLoss power_loss(std::string_view environment, double distance_m, double frequency_hz, int floors);

}  // namespace linkmargin
