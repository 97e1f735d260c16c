#include "linkmargin/analysis/calibration/calibration_site.hpp"

#include "linkmargin/site/calibration.hpp"

#include <Eigen/Cholesky>

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace calibrating {
namespace {

/// The correlation of the parameters that play in a job, rounded, those under `least` as 0.
Eigen::MatrixXd told_correlations(const Eigen::MatrixXd& covariance, const std::vector<Eigen::Index>& plays,
                                  double least) {
  constexpr double held_back = 0.999;
  const auto count = static_cast<Eigen::Index>(plays.size());
  Eigen::MatrixXd found = Eigen::MatrixXd::Identity(count, count);
  for (Eigen::Index i = 0; i < count; ++i) {
    for (Eigen::Index j = 0; j < i; ++j) {
      const Eigen::Index p = plays[static_cast<std::size_t>(i)], q = plays[static_cast<std::size_t>(j)];
      const double value =
          as_written(held_back * covariance(p, q) / std::sqrt(covariance(p, p) * covariance(q, q)));
      if (std::abs(value) >= least) found(i, j) = found(j, i) = value;
    }
  }
  return found;
}

/// Positive definite, its least eigenvalue over the margin.
bool is_correlation(const Eigen::MatrixXd& matrix) {
  constexpr double margin = 1e-4;
  const Eigen::MatrixXd less = matrix - margin * Eigen::MatrixXd::Identity(matrix.rows(), matrix.cols());
  return less.llt().info() == Eigen::Success;
}

}  // namespace

double as_written(double value) {
  return std::round(value * 1000) / 1000 + 0.0;  // + 0.0: no -0 in a file
}

Site calibrated_site(const CalibrationJob& job, std::size_t position,
                     const std::vector<Parameter>& parameters, const Eigen::VectorXd& values,
                     const Eigen::MatrixXd& covariance) {
  constexpr double surest = 0.001;
  std::vector<Parameter> learned = parameters;
  Eigen::VectorXd carried = values;
  std::vector<Eigen::Index> plays;
  for (Eigen::Index p = 0; p < values.size(); ++p) {
    Parameter& parameter = learned[static_cast<std::size_t>(p)];
    parameter.sigma = std::max(as_written(std::sqrt(covariance(p, p))), surest);
    carried[p] = as_written(values[p]);
    if (parameter.plays_in(position) && parameter.what != ParameterKind::radio) plays.push_back(p);
  }
  Site site = site_at(job, position, learned, carried);
  site.calibration->readings = static_cast<int>(job.readings.size());
  Eigen::MatrixXd correlations;
  for (const double least : {0.05, 0.02, 0.001}) {
    correlations = told_correlations(covariance, plays, least);
    if (is_correlation(correlations)) break;
  }
  for (std::size_t i = 0; i < plays.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      const double value = correlations(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j));
      if (value == 0) continue;
      site.calibration->correlations.push_back({parameters[static_cast<std::size_t>(plays[j])].path(),
                                                parameters[static_cast<std::size_t>(plays[i])].path(),
                                                value});
    }
  }
  return site;
}

}  // namespace calibrating

std::vector<Edit> calibrated_edits(const CalibrationReport& report, std::size_t job) {
  const Site& site = report.sites.at(job);
  std::vector<Edit> edits;
  for (const CalibratedParameter& parameter : report.parameters) {
    if (std::ranges::find(parameter.jobs, job) == parameter.jobs.end()) continue;
    if (parameter.path == kExponentPointer) edits.push_back({kExponentPointer, *site.radio.exponent});
    if (parameter.path == kZeroPointer) edits.push_back({kZeroPointer, site.reading.zero.value});
    if (parameter.path == kFullPointer) edits.push_back({kFullPointer, site.reading.full.value});
  }
  if (site.radio.model_sigma_db) edits.push_back({"/radio/model_sigma_db", *site.radio.model_sigma_db});
  edits.push_back({"/calibration", *site.calibration});
  return edits;
}

}  // namespace linkmargin
