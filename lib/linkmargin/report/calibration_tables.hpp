#pragma once

#include "linkmargin/analysis/calibration/calibration.hpp"
#include "linkmargin/report/document/document.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <vector>

// Inside report/ only.
namespace linkmargin {

inline constexpr std::size_t kMostReadingRows = 40;  // of one site

/// One row a parameter that readings told something of: what was assumed, what was found, and how sure each
/// is.
Table pinned_table(const Wording& wording, const std::vector<CalibrationJob>& jobs,
                   const CalibrationReport& report);

/// The readings of one site, in the order of the file; of more than kMostReadingRows the farthest off.
Table reading_table(const Wording& wording, const std::vector<CalibrationJob>& jobs,
                    const CalibrationReport& report, std::size_t job);

}  // namespace linkmargin
