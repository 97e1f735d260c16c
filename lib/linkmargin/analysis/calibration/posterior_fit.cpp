#include "linkmargin/analysis/calibration/posterior_fit.hpp"

#include "linkmargin/base/range.hpp"
#include "linkmargin/propagation/fading/heavy_tail.hpp"

#include <Eigen/Cholesky>

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

constexpr int kMostRounds = 200;
constexpr double kConverged = 1e-10;  // of a prior sigma
constexpr double kLongestStep = 3;    // prior sigmas

void require_sizes(const LinearReadings& readings, const ParameterPrior& prior) {
  const Eigen::Index parameters = prior.mean.size();
  const Eigen::Index count = readings.residual_db.size();
  const bool alike = prior.sigma.size() == parameters && readings.at.size() == parameters &&
                     prior.heavy_tail.size() == static_cast<std::size_t>(parameters) &&
                     readings.sigma_db.size() == count && readings.effective_sigma_db.size() == count &&
                     readings.slope_db.rows() == count && readings.slope_db.cols() == parameters &&
                     readings.kinds.size() == static_cast<std::size_t>(count);
  if (!alike) throw DomainError("a fit's readings and parameters disagree in number");
  const auto positive = [](const Eigen::VectorXd& deviations) {
    return deviations.size() == 0 || deviations.minCoeff() > 0;
  };
  if (!positive(prior.sigma) || !positive(readings.sigma_db) || !positive(readings.effective_sigma_db))
    throw DomainError("a deviation must be over 0");
}

/// One run of Newton's steps with the spread times `scale`.
class NewtonIteration {
 public:
  NewtonIteration(const LinearReadings& readings, const ParameterPrior& prior, double scale)
      : readings_(readings), prior_(prior), scale_(scale), value_(readings.at) {}

  PosteriorFit run() {
    PosteriorFit fit;
    fit.scale = scale_;
    while (fit.rounds < kMostRounds && !fit.converged) {
      ++fit.rounds;
      look();
      const Eigen::VectorXd step = solved_step();
      const double length = step.size() > 0 ? (step.array() / prior_.sigma.array()).abs().maxCoeff() : 0;
      value_ += length > kLongestStep ? Eigen::VectorXd(step * (kLongestStep / length)) : step;
      fit.converged = length <= kConverged;
    }
    look();
    conclude(fit);
    return fit;
  }

 private:
  double sigma_db(Eigen::Index i) const { return scale_ * readings_.sigma_db[i]; }

  /// The readings' pulls and weights at the present value.
  void look() {
    residual_db_ = readings_.residual_db + readings_.slope_db * (value_ - readings_.at);
    pull_db_.resize(residual_db_.size());
    weight_.resize(residual_db_.size());
    for (Eigen::Index i = 0; i < residual_db_.size(); ++i) {
      const HeavyTailTerm term = heavy_tail_term(kind(i), residual_db_[i] / sigma_db(i));
      pull_db_[i] = sigma_db(i) * term.pull;
      weight_[i] = term.weight;
    }
  }

  ReadingKind kind(Eigen::Index i) const { return readings_.kinds[static_cast<std::size_t>(i)]; }

  /// What each row counts, by weights: the root of it.
  Eigen::VectorXd root_worth(const Eigen::VectorXd& weight) const {
    return weight.array().sqrt() / (scale_ * readings_.effective_sigma_db.array());
  }

  Eigen::VectorXd prior_precision() const {
    Eigen::VectorXd precision = prior_.sigma.array().square().inverse();
    for (Eigen::Index j = 0; j < precision.size(); ++j) {
      if (!prior_.heavy_tail[static_cast<std::size_t>(j)]) continue;
      // As wide in the middle as the normal prior of that deviation.
      const double widen = std::sqrt(value_term(0).weight);
      const double deviations = (value_[j] - prior_.mean[j]) / (widen * prior_.sigma[j]);
      precision[j] *= heavy_tail_term(ReadingKind::exact, deviations).weight / (widen * widen);
    }
    return precision;
  }

  Eigen::MatrixXd hessian(const Eigen::MatrixXd& slopes) const {
    Eigen::MatrixXd result = slopes.transpose() * slopes;
    result.diagonal() += prior_precision();
    for (const ShownSpan& span : readings_.spans) {
      const double curve = worth(span) / (shown(span) * shown(span));
      result(span.zero, span.zero) += curve;
      result(span.full, span.full) += curve;
      result(span.zero, span.full) -= curve;
      result(span.full, span.zero) -= curve;
    }
    return result;
  }

  /// The density's share in the likelihood, in step with the weights: good readings' weighted squares come to
  /// less than their number.
  static double worth(const ShownSpan& span) { return span.count * mean_weighted_square(); }

  double shown(const ShownSpan& span) const {
    constexpr double narrowest_db = 1;
    return std::max(narrowest_db, value_[span.full] - value_[span.zero]);
  }

  Eigen::VectorXd solved_step() const {
    const Eigen::VectorXd root = root_worth(weight_);
    const Eigen::MatrixXd slopes = root.asDiagonal() * -readings_.slope_db;
    Eigen::VectorXd pull = slopes.transpose() * root.cwiseProduct(pull_db_);
    pull += (prior_precision().array() * (prior_.mean - value_).array()).matrix();
    for (const ShownSpan& span : readings_.spans) {
      pull[span.full] += worth(span) / shown(span);
      pull[span.zero] -= worth(span) / shown(span);
    }
    return hessian(slopes).ldlt().solve(pull);
  }

  void conclude(PosteriorFit& fit) const {
    fit.value = value_;
    fit.residual_db = residual_db_;
    fit.weight = weight_;
    for (Eigen::Index i = 0; i < weight_.size(); ++i)
      fit.weight[i] = heavy_tail_information(kind(i), residual_db_[i] / sigma_db(i));
    const Eigen::MatrixXd slopes = root_worth(fit.weight).asDiagonal() * -readings_.slope_db;
    const Eigen::Index count = value_.size();
    fit.covariance = hessian(slopes).ldlt().solve(Eigen::MatrixXd::Identity(count, count));
    fit.leverage = (slopes * fit.covariance).cwiseProduct(slopes).rowwise().sum();
  }

  const LinearReadings& readings_;
  const ParameterPrior& prior_;
  double scale_;
  Eigen::VectorXd value_;
  Eigen::VectorXd residual_db_;
  Eigen::VectorXd pull_db_;
  Eigen::VectorXd weight_;
};

/// One reading far off is an outlier and shows nothing of the others.
void leave_out_worst(std::vector<double>& deviations) {
  constexpr double far = 3;
  const auto worst = std::ranges::max_element(deviations, {}, [](double off) { return std::abs(off); });
  if (deviations.size() > 1 && std::abs(*worst) > far) deviations.erase(worst);
}

/// By which the values' deviations are to be multiplied, as their residuals show.
double residual_scale(const PosteriorFit& fit, const LinearReadings& readings) {
  std::vector<double> deviations;
  double independent = 0;
  for (Eigen::Index i = 0; i < fit.residual_db.size(); ++i) {
    if (readings.kinds[static_cast<std::size_t>(i)] != ReadingKind::exact) continue;
    deviations.push_back(
        std::clamp(fit.residual_db[i] / readings.sigma_db[i], kDeviations.min, kDeviations.max));
    const double share = readings.sigma_db[i] / readings.effective_sigma_db[i];
    independent += share * share;
  }
  // The parameters took up as many readings as they followed, of those that are news.
  const double free = independent - fit.leverage.sum();
  if (free <= 0) return 1;
  leave_out_worst(deviations);
  const double found = robust_scale(deviations, free / independent);
  const double scale = std::sqrt((kSpreadReadings + free * found * found) / (kSpreadReadings + free));
  return std::clamp(scale, kLeastScale, kMostScale);
}

}  // namespace

PosteriorFit posterior_fit(const LinearReadings& readings, const ParameterPrior& prior) {
  require_sizes(readings, prior);
  const PosteriorFit first = NewtonIteration(readings, prior, 1).run();
  PosteriorFit fit = NewtonIteration(readings, prior, residual_scale(first, readings)).run();
  fit.rounds += first.rounds;
  return fit;
}

}  // namespace linkmargin
