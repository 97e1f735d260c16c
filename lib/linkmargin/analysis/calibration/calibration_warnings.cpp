#include "linkmargin/analysis/calibration/calibration_warnings.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/calibration.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin::calibrating {
namespace {

/// An offset farther from what was believed, in its deviations, is hardly one of equipment and mounting.
constexpr double kStrangeDeviations = 3;

std::string offset_warning(const CalibratedParameter& offset) {
  const double db = offset.value - offset.prior;
  return "every level is " + fixed_text(std::abs(db), 0) + " dB " + (db < 0 ? "lower" : "higher") +
         " than data sheets and tables make it: more than equipment and mounting explain. Look at the hub "
         "and its "
         "aerial, at the powers and the scale in the site file and at the readings file before anything is "
         "built on it";
}

}  // namespace

std::vector<std::string> warnings_of(const CalibrationReport& report) {
  std::vector<std::string> warnings;
  for (const CalibratedParameter& parameter : report.parameters) {
    const double off = std::abs(parameter.value - parameter.prior) / parameter.prior_sigma;
    if (parameter.path == kOffsetPointer && off > kStrangeDeviations)
      warnings.push_back(offset_warning(parameter));
  }
  const bool held_back = std::ranges::any_of(report.readings, [](const CalibratedReading& reading) {
    return reading.outlier != OutlierReason::none;
  });
  if (held_back) {
    warnings.push_back(
        "what lies far off is held back: the calibrated site does not tell of it. Take it up with relocate "
        "or explain, "
        "which are given the reading itself");
  }
  return warnings;
}

}  // namespace linkmargin::calibrating
