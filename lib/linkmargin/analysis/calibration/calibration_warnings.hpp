#pragma once

#include "linkmargin/analysis/calibration/calibration_result.hpp"

#include <string>
#include <vector>

/// What the reader of a calibration should know. Not installed.
namespace linkmargin::calibrating {

/// Of parameters found where walls and data sheets hardly put them, and of readings that were held back.
std::vector<Warning> warnings_of(const CalibrationReport& report);

}  // namespace linkmargin::calibrating
