#include "linkmargin/prediction/uncertainty/parameter_spread.hpp"

#include "linkmargin/link/budget.hpp"
#include "linkmargin/link/mechanism/distance_model.hpp"
#include "linkmargin/prediction/uncertainty/covariance_root.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

/// Places in parameters().
enum Parameter : std::size_t { kOffset, kExponent, kZero, kFull, kFirstMaterial };

bool counts_exponent(PathLossModel model) {
  return model == PathLossModel::walls || model == PathLossModel::log_distance;
}

Eigen::MatrixXd covariance(const Calibration& calibration) {
  const std::vector<LearnedParameter> all = parameters(calibration);
  const auto size = static_cast<Eigen::Index>(all.size());
  std::map<std::string, Eigen::Index> positions;
  Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(size, size);
  for (Eigen::Index i = 0; i < size; ++i) {
    const LearnedParameter& parameter = all[static_cast<std::size_t>(i)];
    positions[parameter.pointer] = i;
    matrix(i, i) = parameter.sigma * parameter.sigma;
  }
  for (const auto& [first, second, value] : calibration.correlations) {
    const Eigen::Index a = positions.at(first), b = positions.at(second);
    matrix(a, b) = matrix(b, a) = value * std::sqrt(matrix(a, a)) * std::sqrt(matrix(b, b));
  }
  return matrix;
}

/// Of the power, what came by way of a row of the table.
double share_of(const LossBreakdown& loss, const std::string& row) {
  double share = 0;
  for (const LossItem& item : loss.items) share += item.table_row == row ? item.power_fraction : 0;
  return share;
}

}  // namespace

ParameterSpread::ParameterSpread(const Site& site)
    : scale_(site.reading), has_exponent_(counts_exponent(site.radio.model)) {
  for (const auto& [name, material] : site.materials) {
    const LearnedShift* learned = learned_shift(site.calibration, material);
    const bool of_table = learned != nullptr && material.learned && learned == &*material.learned;
    if (of_table && learned->sigma_db > 0) independent_[name] = learned->sigma_db * learned->sigma_db;
  }
  if (!site.calibration) return;
  const Eigen::MatrixXd matrix = covariance(*site.calibration);
  if ((matrix.diagonal().array() == 0).all()) return;
  covariance_.assign(matrix.data(), matrix.data() + matrix.size());
  std::size_t row = kFirstMaterial;
  for (const auto& [name, shift] : site.calibration->materials) rows_[name] = row++;
}

std::vector<double> ParameterSpread::derivatives(const LossBreakdown& loss, double reading_share) const {
  const double q = std::clamp(reading_share, 0.0, 1.0);
  std::vector<double> by(kFirstMaterial + rows_.size());
  by[kOffset] = 1;
  if (has_exponent_)
    by[kExponent] =
        -10 * std::log10(std::max(loss.distance_m, kNearestM)) * loss.items.front().power_fraction;
  by[kZero] = -(1 - q);
  by[kFull] = -q;
  for (const LossItem& item : loss.items) {
    const auto row = rows_.find(item.table_row);
    if (row != rows_.end()) by[row->second] -= item.power_fraction;
  }
  return by;
}

double ParameterSpread::variance_db2(const LossBreakdown& loss, double reading_share) const {
  double variance = 0;
  if (!covariance_.empty()) {
    const std::vector<double> by = derivatives(loss, reading_share);
    const auto size = static_cast<Eigen::Index>(by.size());
    const Eigen::Map<const Eigen::VectorXd> j(by.data(), size);
    variance = j.dot(Eigen::Map<const Eigen::MatrixXd>(covariance_.data(), size, size) * j);
  }
  for (const auto& [name, of_shift] : independent_) {
    const double share = share_of(loss, name);
    variance += share * share * of_shift;
  }
  return std::max(variance, 0.0);
}

double ParameterSpread::sigma_db(const LossBreakdown& loss, Dbm level) const {
  if (empty()) return loss.sigma_db;
  const double variance = variance_db2(loss, reading_percent(scale_, level) / 100);
  return std::hypot(loss.sigma_db, std::sqrt(variance));
}

ParameterCauses::ParameterCauses(const ParameterSpread& spread) : spread_(spread) {
  const auto size = static_cast<Eigen::Index>(std::lround(std::sqrt(spread.covariance_.size())));
  if (size == 0) return;
  const Eigen::MatrixXd root =
      covariance_root(Eigen::Map<const Eigen::MatrixXd>(spread.covariance_.data(), size, size));
  root_.assign(root.data(), root.data() + root.size());
}

std::vector<double> ParameterCauses::of(const LossBreakdown& loss, double reading_share) const {
  std::vector<double> causes;
  if (!root_.empty()) {
    const std::vector<double> by = spread_.derivatives(loss, reading_share);
    const auto size = static_cast<Eigen::Index>(by.size());
    const Eigen::VectorXd along = Eigen::Map<const Eigen::MatrixXd>(root_.data(), size, size) *
                                  Eigen::Map<const Eigen::VectorXd>(by.data(), size);
    causes.assign(along.begin(), along.end());
  }
  for (const auto& [name, variance] : spread_.independent_)
    causes.push_back(share_of(loss, name) * std::sqrt(variance));
  return causes;
}

}  // namespace linkmargin
