#pragma once

#include <Eigen/Core>

// Inside analysis/ only.
namespace linkmargin {

/// A matrix R with R' R = C: its rows are causes that have nothing in common, each of variance 1. C may be
/// singular; what rounding puts below zero counts as none.
/// @param covariance  symmetric, positive semidefinite
Eigen::MatrixXd covariance_root(const Eigen::MatrixXd& covariance);

}  // namespace linkmargin
