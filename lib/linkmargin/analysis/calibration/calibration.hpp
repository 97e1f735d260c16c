#pragma once

#include "linkmargin/analysis/calibration/calibration_result.hpp"

namespace linkmargin {

/// @throws DomainError when a reading names what its site does not have: the file was not checked
CalibrationReport calibration(const std::vector<CalibrationJob>& jobs,
                              const CalibrationOptions& options = {});

/// What turns a job's site into the calibrated one, for edited_site() and edited_text(). Values are rounded
/// to 0.001, so that the edited site differs from CalibrationReport::sites by no more.
std::vector<Edit> calibrated_edits(const CalibrationReport& report, std::size_t job);

}  // namespace linkmargin
