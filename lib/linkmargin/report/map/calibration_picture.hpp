#pragma once

#include "linkmargin/analysis/calibration/calibration.hpp"
#include "linkmargin/messages/language.hpp"

#include <string>
#include <vector>

namespace linkmargin {

/// An SVG sheet: every reading as a point, what is read to the right and what is expected of it on the
/// calibrated site upwards, with the interval in which it lies with a chance of 90 %; where both agree runs a
/// line. Values, bounds and outliers differ by shape and colour; outliers carry numbers, by which they
/// are listed below. The same report gives the same bytes. @param report of the jobs
std::string calibration_svg(const Language& language, const std::vector<CalibrationJob>& jobs,
                            const CalibrationReport& report);

}  // namespace linkmargin
