#pragma once

#include "linkmargin/site/calibration.hpp"
#include "linkmargin/yaml/writer/new_entry.hpp"

#include <map>
#include <string>

/// What was learned from readings, as it is written into a file: the other way round of calibration_yaml.hpp.
namespace linkmargin::yaml {

/// How far such a section is spread over lines: its keys, and the parts of its lists and maps.
inline constexpr int kCalibrationLines = 2;

/// The section `calibration` of a site.
NewValue calibration_value(const Calibration& learned);

/// A map from materials to what was learned of each.
NewValue learned_value(const std::map<std::string, LearnedShift>& learned);

}  // namespace linkmargin::yaml
