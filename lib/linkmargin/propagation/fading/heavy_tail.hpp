#pragma once

#include "linkmargin/base/range.hpp"
#include "linkmargin/propagation/fading/fade_posterior.hpp"

#include <span>

/// Readings spread about a prediction by Student's t with kTailFreedom degrees of freedom: nearly normal in
/// the middle, with tails heavy enough that one flat battery or open door pulls a fit less the farther off it
/// lies. Deviations are (read - predicted) / sigma.
///
/// A fit by steps takes each reading as a normal one at `pull` deviations that counts `weight` times: the
/// gradient of the log likelihood is then exact at the parameters of the step.
namespace linkmargin {

/// Source: K. Lange, R. Little, J. Taylor, J. Am. Stat. Assoc. 84 (1989) 881: 4 serves as a default where
/// there are too few data to estimate it (from memory).
inline constexpr double kTailFreedom = 4;

inline constexpr Range kDeviations{-1e6, 1e6, "deviations", "bounds of this library"};

/// What a reading adds to the normal equations: its pull, and what it weighs.
struct HeavyTailTerm {
  double pull = 0;    ///< deviations
  double weight = 0;  ///< > 0; of the order of 1 for a reading near its prediction
};

/// A value: weight (nu + 1) / (nu + x^2), the mean precision of the scale mixture that t is.
/// @throws DomainError outside kDeviations
HeavyTailTerm value_term(double deviations);

/// A lower bound, `deviations` over the prediction (Tobit's censored observation): what is known is that the
/// value lies above it. A bound far under the prediction says nothing; one far over it pulls like a value
/// there. @throws DomainError outside kDeviations
HeavyTailTerm lower_bound_term(double deviations);

/// What an estimate from a censored reading is worth at the parameters of the step: minus the second
/// derivative of its log likelihood, per squared deviation, at least 0. @throws DomainError outside
double lower_bound_information(double deviations);

/// A reading of either kind. @param deviations  read (or bound) minus predicted; cut to kDeviations
/// @throws DomainError for NaN
HeavyTailTerm heavy_tail_term(ReadingKind kind, double deviations);

/// What a reading is worth: a value's weight, or a bound's information. @throws DomainError for NaN
double heavy_tail_information(ReadingKind kind, double deviations);

/// Mean of kTailFreedom's weight times x^2 over a normal x: what the weighted squares of good readings come
/// to.
double mean_weighted_square();

/// The deviation of what is normal but for outliers: an M-estimate with Cauchy's weights 2 / (1 + x^2), true
/// for normal values. Fewer than a third of outliers cannot carry it off.
/// @param deviations  at least one, each within kDeviations; cut to them
/// @param share       of the values that are free, after what a fit followed, within (0, 1]
double robust_scale(std::span<const double> deviations, double share = 1);

}  // namespace linkmargin
