#include "linkmargin/analysis/calibration/calibration_warnings.hpp"

#include "linkmargin/site/calibration.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin::calibrating {
namespace {

/// An offset farther from what was believed is hardly one of equipment and mounting: three deviations of one
/// whose power is stated.
constexpr double kStrangeDb = 18;

Warning offset_warning(const CalibratedParameter& offset) {
  const double db = offset.value - offset.prior;
  return {.code = db < 0 ? WarningCode::levels_lower : WarningCode::levels_higher,
          .arguments = {{"offset", Figure{std::abs(db), 0}}}};
}

}  // namespace

std::vector<Warning> warnings_of(const CalibrationReport& report) {
  std::vector<Warning> warnings;
  for (const CalibratedParameter& parameter : report.parameters) {
    if (parameter.path == kOffsetPointer && std::abs(parameter.value - parameter.prior) > kStrangeDb)
      warnings.push_back(offset_warning(parameter));
  }
  const bool held_back = std::ranges::any_of(report.readings, [](const CalibratedReading& reading) {
    return reading.outlier != OutlierReason::none;
  });
  if (held_back) warnings.push_back({.code = WarningCode::outliers_held_back});
  return warnings;
}

}  // namespace linkmargin::calibrating
