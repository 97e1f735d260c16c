#pragma once

#include "linkmargin/analysis/calibration/calibration_parameters.hpp"

/// The site that a calibration leaves. Not installed.
namespace linkmargin::calibrating {

/// Rounded as a site file carries it.
double as_written(double value);

/// A job's site with the values found and what is left open of them. Correlations are held a little under
/// what was found, and faint ones left out where that leaves a matrix that is a correlation's.
Site calibrated_site(const CalibrationJob& job, std::size_t position,
                     const std::vector<Parameter>& parameters, const Eigen::VectorXd& values,
                     const Eigen::MatrixXd& covariance);

}  // namespace linkmargin::calibrating
