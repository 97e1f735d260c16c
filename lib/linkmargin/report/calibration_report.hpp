#pragma once

#include "linkmargin/analysis/calibration/calibration.hpp"
#include "linkmargin/analysis/calibration/hold_out.hpp"
#include "linkmargin/analysis/survey/reading_advice.hpp"
#include "linkmargin/messages/language.hpp"
#include "linkmargin/report/document/document.hpp"
#include "linkmargin/site/warning.hpp"

#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// What the caller has to add, in its language.
struct CalibrationNotes {
  std::vector<Warning> cautions{};
  std::vector<std::string> files{};  ///< a sentence each file that is written
  std::optional<HoldOut> held_back{};
};

// `report` is what calibration() found of `jobs`; `advice` has one entry a job, or none where it was not
// asked for.

/// What the readings pinned down and what not, which lie far off and why, each reading before and after.
Document calibration_document(const Language& language, const std::vector<CalibrationJob>& jobs,
                              const CalibrationReport& report, const std::vector<ReadingAdvice>& advice = {},
                              const CalibrationNotes& notes = {});

/// One row a reading: site, row, device, hub, kind, reading_percent, read_dbm, before_dbm, after_dbm,
/// low_dbm, high_dbm, residual_db, sigma_db, weight, leverage, outlier, text.
Table calibration_rows(const Language& language, const std::vector<CalibrationJob>& jobs,
                       const CalibrationReport& report);

/// As docs/commands/calibrate.md has it.
std::string calibration_json(const Language& language, const std::vector<CalibrationJob>& jobs,
                             const CalibrationReport& report, const std::vector<ReadingAdvice>& advice = {},
                             const CalibrationNotes& notes = {});

}  // namespace linkmargin
