#pragma once

#include "linkmargin/analysis/calibration/calibration_result.hpp"
#include "linkmargin/base/range.hpp"

#include <optional>

namespace linkmargin {

inline constexpr Range kHoldOutShare{0.05, 0.5, "share held back", "what is left must do for a calibration"};

/// What a calibration makes of readings that it has not seen.
struct HoldOut {
  std::size_t readings = 0;   ///< held back; values only, no limits
  double rmse_before_db = 0;  ///< of them about the given sites
  double rmse_after_db = 0;   ///< and about the sites calibrated with the others
  double inside_percent = 0;  ///< in the range that those sites give nine readings of ten
};

/// Calibrates with a part of the readings and looks how the rest fits. Whole links are held back, drawn by
/// their names, so that no reading of a link tells of another.
/// @param share  of the links, kHoldOutShare
/// @return nothing where no value was drawn, or nothing was left to calibrate with
/// @throws DomainError as calibration() does, and for another share
std::optional<HoldOut> hold_out(const std::vector<CalibrationJob>& jobs, const CalibrationOptions& options,
                                double share);

}  // namespace linkmargin
