#pragma once

#include "linkmargin/analysis/calibration/calibration.hpp"
#include "linkmargin/analysis/survey/reading_advice.hpp"

#include <optional>
#include <string>
#include <vector>

/// What readings taught, in plain words. Not installed.
namespace linkmargin {

/// The reading that a row of the report is of.
const Reading& reading_of(const std::vector<CalibrationJob>& jobs, const CalibratedReading& found);

/// A job's site by its name; sites of one name by their places too.
std::string site_words(const std::vector<CalibrationJob>& jobs, std::size_t job);

/// " at 'a' and 'b'": where a parameter plays, where that is not everywhere; else nothing.
std::string at_sites(const std::vector<CalibrationJob>& jobs, const CalibratedParameter& parameter);

/// "the offset of all levels", "the loss of 'brick'", without at_sites().
std::string parameter_name(const CalibratedParameter& parameter);

/// "'brick'"; empty for what is no material's loss.
std::string loss_name(const CalibratedParameter& parameter);

/// "'brick' loses 2.1 dB more than its table says, give or take 0.9 dB (1.8 dB before)", without at_sites()
/// and full stop, the first letter a small one.
std::string parameter_words(const CalibratedParameter& parameter);

/// A text with its first letter as a sentence begins.
std::string begun(std::string text);

/// That the readings cannot tell two parameters apart: a sentence.
std::string pair_words(const std::vector<CalibrationJob>& jobs, const CalibrationReport& report,
                       const CalibratedPair& pair);

/// "line 15, 'loft smoke'"; with several sites, of which.
std::string row_words(const std::vector<CalibrationJob>& jobs, const CalibratedReading& found);

/// What was shown: "35 %", "-48 dBm".
std::string read_words(const Reading& reading);

/// What it should show: in percent of the scale where the reading is in percent, else in dBm.
std::string expected_words(const Reading& reading, const ReadingScale& scale, double level_dbm);

/// By how much a reading lies off; a bound only by what breaks it.
std::optional<double> off_db(const CalibratedReading& found);

std::string outlier_word(OutlierReason reason);  ///< as in JSON; empty for none

/// What an outlier is likely to be, and what to look at: sentences.
std::string look_words(OutlierReason reason);

/// How far off it is, and for how much it counted: sentences.
std::string outlier_words(const std::vector<CalibrationJob>& jobs, const CalibrationReport& report,
                          const CalibratedReading& found);

/// Where to read, and what is open then: a sentence.
std::string advised_words(const Site& site, const AdvisedReading& advised);

/// "off by 7.1 dB before, 4.3 dB now"; nothing without readings that are values.
std::string misfit_words(const CalibrationReport& report);

/// The report's own, and what holds of the jobs: sites that were calibrated before, a search that did not
/// settle, a misfit on the readings that it was learned from.
std::vector<std::string> calibration_warnings(const std::vector<CalibrationJob>& jobs,
                                              const CalibrationReport& report);

/// Readings that are values, not bounds.
std::size_t count_values(const CalibrationReport& report);

/// The level lies within so many deviations of what is expected with a chance of 90 %.
double interval_deviations();

}  // namespace linkmargin
