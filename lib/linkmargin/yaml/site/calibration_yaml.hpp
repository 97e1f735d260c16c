#pragma once

#include "linkmargin/site/calibration.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

#include <map>
#include <string>

namespace linkmargin::yaml {

/// The section `calibration` of a site.
Calibration read_calibration(const Cursor& cursor, Faults& faults);

/// A map from materials to what was learned of each: the section `learned` of a table file, and `materials`
/// of a calibration. Whether there are such materials is not looked at.
std::map<std::string, LearnedShift> read_learned(const Cursor& map, const Range& count, Faults& faults);

}  // namespace linkmargin::yaml
