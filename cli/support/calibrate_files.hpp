#pragma once

#include "linkmargin/analysis/calibration/calibration.hpp"

#include "output/files_together.hpp"
#include "support/input.hpp"

#include <optional>
#include <string>
#include <vector>

namespace linkmargin::cli {

/// What a calibration reads: a site file and its readings, pair by pair.
struct CalibrationInput {
  Tables tables;
  std::vector<SiteFile> files;
  std::vector<CalibrationJob> jobs;
  std::vector<Warning> warnings;  ///< of the readings files
};

/// @throws Failure on a name without its pair, on a site that is given twice, and as read_site_file() and
/// read_readings() do
CalibrationInput read_pairs(const Arguments& arguments);

/// What it writes beside its answer.
struct CalibrationOutput {
  std::vector<FileOut> sites;  ///< one a pair, or none
  std::optional<FileOut> learned;
  std::optional<FileOut> picture;
  std::string picture_format;  ///< svg, png or pdf
};

/// Before any work. @throws Failure as check_files_out() does, and when several sites have no folder to go to
CalibrationOutput planned_output(const Arguments& arguments);

/// Whether the scale of percentages stands in the file, both ends of it.
bool states_scale(const SiteFile& file);

}  // namespace linkmargin::cli
