#pragma once

#include "linkmargin/analysis/calibration/calibration_result.hpp"

#include <Eigen/Core>

#include <optional>

/// What a calibration fits. Not installed.
namespace linkmargin::calibrating {

enum class ParameterKind { offset, exponent, zero, full, material };

struct Parameter {
  ParameterKind what = ParameterKind::offset;
  std::vector<std::size_t> jobs;
  std::string material;  ///< for a material's shift
  double prior = 0;
  double sigma = 1;
  bool heavy_tail = false;

  /// What a look at a site beside it differs by; nothing where the slope is known.
  std::optional<double> look_step() const;
  /// The value cut to what a site file may hold.
  double held(double value) const;
  bool plays_in(std::size_t job) const;
  std::string path() const;
};

/// Every parameter of the jobs: an offset and an exponent for each; the scale's ends for each scale that
/// percentages were read on; each material in use, by its row of the table.
std::vector<Parameter> parameters_of(const std::vector<CalibrationJob>& jobs);

/// A job's site with these values, and their priors' deviations where the site carries deviations.
Site site_at(const CalibrationJob& job, std::size_t position, const std::vector<Parameter>& parameters,
             const Eigen::VectorXd& values);

}  // namespace linkmargin::calibrating
