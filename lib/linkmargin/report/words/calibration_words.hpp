#pragma once

#include "linkmargin/analysis/calibration/calibration.hpp"
#include "linkmargin/analysis/survey/reading_advice.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <optional>
#include <string>
#include <vector>

/// What a calibration found, in plain words. Not installed.
namespace linkmargin {

/// The reading that a row of the report is of.
const Reading& reading_of(const std::vector<CalibrationJob>& jobs, const CalibratedReading& found);

/// A job's site by its name; sites of one name by their places too.
std::string site_words(const Wording& wording, const std::vector<CalibrationJob>& jobs, std::size_t job);

/// "2 sites", of one its name.
std::string sites_words(const Wording& wording, const std::vector<CalibrationJob>& jobs);

/// "a and b": where a parameter plays, where that is not everywhere; else nothing.
std::string where_words(const Wording& wording, const std::vector<CalibrationJob>& jobs,
                        const CalibratedParameter& parameter);

/// "brick"; empty for what is no material's loss.
std::string material_words(const Wording& wording, const CalibratedParameter& parameter);

/// "offset of all levels", "loss of brick"; without where_words().
std::string unknown_words(const Wording& wording, const CalibratedParameter& parameter);

/// A value of the parameter with its unit: "+1.2 dB", "-105.0 dBm", "2.13".
std::string value_words(const Wording& wording, const CalibratedParameter& parameter, double value);

/// A deviation of the parameter with its unit.
std::string sigma_words(const Wording& wording, const CalibratedParameter& parameter, double sigma);

/// How a parameter was found, and where: a sentence.
std::string finding_words(const Wording& wording, const std::vector<CalibrationJob>& jobs,
                          const CalibratedParameter& parameter);

/// That the readings cannot tell two parameters apart: a sentence.
std::string pair_words(const Wording& wording, const std::vector<CalibrationJob>& jobs,
                       const CalibrationReport& report, const CalibratedPair& pair);

/// "Line 15, loft smoke"; with several sites, of which.
std::string row_words(const Wording& wording, const std::vector<CalibrationJob>& jobs,
                      const CalibratedReading& found);

/// What was shown: "35 %", "-48 dBm".
std::string read_words(const Wording& wording, const Reading& reading);

/// What it should show: in percent of the scale where the reading is in percent, else in dBm.
std::string expected_words(const Wording& wording, const Reading& reading, const ReadingScale& scale,
                           double level_dbm);

/// By how much a reading lies off; a bound only by what breaks it.
std::optional<double> off_db(const CalibratedReading& found);

std::string outlier_code(OutlierReason reason);  ///< as in JSON; empty for none

/// What an outlier is likely to be, and what to check: sentences.
std::string look_words(const Wording& wording, OutlierReason reason);

/// How far off it is, and for how much it counted: sentences.
std::string outlier_words(const Wording& wording, const std::vector<CalibrationJob>& jobs,
                          const CalibrationReport& report, const CalibratedReading& found);

/// Where to read, and what is open then: a sentence.
std::string advised_words(const Wording& wording, const Site& site, const AdvisedReading& advised);

/// By how much the plan misses a reading now and did before, without outliers where others are left: a
/// sentence. Nothing without readings that are values.
std::string misfit_words(const Wording& wording, const CalibrationReport& report);

/// The report's own, and what holds of the jobs: sites that were calibrated before, a search that did not
/// settle, a misfit on the readings that it was learned from.
std::vector<Warning> calibration_warnings(const std::vector<CalibrationJob>& jobs,
                                          const CalibrationReport& report);

/// Readings that are values, not bounds.
std::size_t count_values(const CalibrationReport& report);

/// The level lies within so many deviations of what is expected with a chance of 90 %.
double interval_deviations();

}  // namespace linkmargin
