#pragma once

#include "linkmargin/propagation/fading/fade_posterior.hpp"

#include <Eigen/Core>

#include <vector>

namespace linkmargin {

/// What was believed of the parameters before the readings.
struct ParameterPrior {
  Eigen::VectorXd mean;
  Eigen::VectorXd sigma;         ///< > 0
  std::vector<bool> heavy_tail;  ///< Student's t (propagation/fading/heavy_tail.hpp) rather than normal
};

/// Readings shown on a scale whose ends are parameters: a density per percent is one per dB times the span.
struct ShownSpan {
  Eigen::Index zero = 0;  ///< positions of the two parameters, both in dBm
  Eigen::Index full = 0;
  std::vector<Eigen::Index> readings{};  ///< those on it that are values
  double count =
      0;  ///< of readings that are values: each (sigma_db / effective_sigma_db)^2, 1 for one by itself
};

/// Readings about a prediction that is taken to be linear in the parameters.
struct LinearReadings {
  Eigen::VectorXd at;           ///< parameters of the expansion
  Eigen::VectorXd residual_db;  ///< read (or bound) minus predicted there
  Eigen::MatrixXd slope_db;     ///< of the residual, one row a reading
  std::vector<ReadingKind> kinds;
  Eigen::VectorXd sigma_db;            ///< > 0; each reading's deviation by itself
  Eigen::VectorXd effective_sigma_db;  ///< >= sigma_db; with which it counts, see effective_sigma_db()
                                       ///< (prediction/uncertainty/correlated_spread.hpp)
  std::vector<ShownSpan> spans{};
};

struct PosteriorFit {
  Eigen::VectorXd value;       ///< posterior mode
  Eigen::MatrixXd covariance;  ///< of the posterior about it
  Eigen::VectorXd residual_db;
  Eigen::VectorXd weight;    ///< near 1: taken in full; near 0: an outlier, or a bound that says nothing
  Eigen::VectorXd leverage;  ///< how far the prediction follows each reading, 0..1; they add up to the number
                             ///< of parameters that the readings told
  double scale = 1;          ///< of the readings' spread, as they show it; the spread given counts as
                             ///< kSpreadReadings independent readings
  int rounds = 0;
  bool converged = false;
};

/// Independent readings that the given spread is worth against what the residuals show. Deviations published
/// for rooms and buildings of one kind differ by a quarter (4 dB in the best areas, 5.8 dB over all: Seidel
/// and Rappaport 1992), which is how well 8 readings tell a deviation.
inline constexpr double kSpreadReadings = 8;

/// And the scale is held within these, two such quarters: beyond, something else is wrong, which is to be
/// said rather than to be taken for spread.
inline constexpr double kLeastScale = 0.5;
inline constexpr double kMostScale = 1.5;

/// Maximum a posteriori fit: readings by Student's t, bounds as censored (Tobit), by Newton's steps on
/// weighted least squares. Deviations, and so the weights, go by sigma_db; what a reading is worth in sum by
/// effective_sigma_db.
/// @param readings  none or more; parameters as the prior has them
/// @throws DomainError when sizes disagree or a deviation is not over 0
/// Accuracy: 1e-9 of a prior sigma where it converged. Parameters that the readings do not tell keep their
/// prior.
PosteriorFit posterior_fit(const LinearReadings& readings, const ParameterPrior& prior);

}  // namespace linkmargin
