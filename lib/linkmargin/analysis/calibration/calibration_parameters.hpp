#pragma once

#include "linkmargin/analysis/calibration/calibration_result.hpp"
#include "linkmargin/prediction/reading_prediction.hpp"

#include <Eigen/Core>

#include <optional>

/// What a calibration fits. Not installed.
namespace linkmargin::calibrating {

enum class ParameterKind { offset, exponent, zero, full, material, radio };

struct Parameter {
  ParameterKind what = ParameterKind::offset;
  std::vector<std::size_t> jobs;
  std::string name;  ///< of the material or radio
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

/// An offset for each radio of a job that can be told from the offset of all: read with two far ends, or at
/// two places farther apart than shadows are alike; and not the only one on its side.
void add_radios(std::vector<Parameter>& parameters, const CalibrationJob& job, const ReadingLinks& links,
                std::size_t position);

/// Whether a radio's offset is part of a reading's level.
bool is_of(const Parameter& radio, const Site& site, const AskedLink& link);

/// A job's site with these values, and their priors' deviations where the site carries deviations.
Site site_at(const CalibrationJob& job, std::size_t position, const std::vector<Parameter>& parameters,
             const Eigen::VectorXd& values);

}  // namespace linkmargin::calibrating
