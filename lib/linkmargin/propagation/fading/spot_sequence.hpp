#pragma once

#include "linkmargin/propagation/fading/best_spot.hpp"
#include "linkmargin/propagation/fading/fade_posterior.hpp"

#include <array>
#include <cstddef>
#include <span>
#include <vector>

namespace linkmargin {

/// Where a spot is, in wavelengths from the first.
using SpotOffset = std::array<double, 3>;

/// A spot that was read.
struct SpotLevel {
  SpotOffset at{};
  double over_predicted_db = 0;  ///< level less the predicted median local mean, or its bound: kReadingDb
  ReadingKind kind = ReadingKind::exact;
};

/// What readings at several spots of one field say of its local mean, and of spots that are not read yet.
///
/// The local mean stands off its prediction as in FadePosterior. About it the field is one steady plane wave
/// from any direction, as likely (of the plane of motion, or of space), and a complex normal field whose
/// correlation is field_correlation(). Fields are drawn that have the amplitudes read: of spot after spot,
/// given those before it, the amplitude is Rician, which weighs the field, and the phase is von Mises about
/// the phase of the mean. The local mean is summed over nodes a quarter of its deviation apart.
///
/// With an infinite K nothing differs from spot to spot: all is local mean.
///
/// Accuracy: chances at most 0.052 off the shares of simulated fields, of which each of 12 sets had 2500
/// (tests: 0.02 and three standard deviations of the share). The same figures on every machine for the same
/// readings: the draws are those of a RandomStream.
/// Source: definition of the conditional normal law; sequential importance sampling (from memory); Best and
/// Fisher, Applied Statistics 28, 1979, for draws of the von Mises law (from memory).
class SpotSequence {
 public:
  /// @param k_db      kRicianKDb. @param sigma_db  kLocalMeanSigmaDb
  /// @param read      in the order of reading, no two of them in the same spot
  /// @param left      in the order in which they would be read
  /// @param fields    drawn for each node of the local mean, >= 1
  /// @throws DomainError outside the ranges
  SpotSequence(Scattering scattering, double k_db, double sigma_db, std::span<const SpotLevel> read,
               std::span<const SpotOffset> left, int fields = kSequenceFields);

  FadePosterior::Moments shadow() const { return shadow_; }

  /// Chance that the local mean lies at least level_db over its prediction.
  double shadow_reaches(double level_db) const;

  /// For each spot left: the chance that it is the first of them to reach a level over the predicted median.
  std::vector<double> first_to_reach(double level_db) const;

  static constexpr int kSequenceFields = 200;

 private:
  struct Field {
    double weight;  ///< all add up to 1
    double shadow_db;
  };
  std::vector<Field> fields_;
  std::vector<double> left_db_;  ///< of each field the levels at the spots left, over the predicted median
  std::size_t spots_left_ = 0;
  FadePosterior::Moments shadow_{};
};

/// How many of some spots in a row are worth reading, each of which costs a share of what success saves: the
/// number with the most gain, by going on until one reaches the level; 0 where none is worth it.
///
///     gain(n) = sum over i <= n of first[i] - cost * (expected number of spots read)
///
/// @param first  SpotSequence::first_to_reach(). @param cost  > 0
/// Source: definition. A look ahead to the end that does not count on stopping early, so never too eager.
int spots_worth_reading(std::span<const double> first, double cost);

}  // namespace linkmargin
