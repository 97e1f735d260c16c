#include "linkmargin/prediction/uncertainty/covariance_root.hpp"

#include <Eigen/Cholesky>

namespace linkmargin {

Eigen::MatrixXd covariance_root(const Eigen::MatrixXd& covariance) {
  const Eigen::LDLT<Eigen::MatrixXd> parts(covariance);
  const Eigen::Index size = covariance.rows();
  const Eigen::MatrixXd root =
      parts.matrixL().transpose() *
      Eigen::MatrixXd(parts.transpositionsP() * Eigen::MatrixXd::Identity(size, size));
  return parts.vectorD().cwiseMax(0).cwiseSqrt().asDiagonal() * root;
}

}  // namespace linkmargin
