#pragma once

#include "linkmargin/analysis/calibration/calibration.hpp"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// The radio whose offset stands at a JSON Pointer into a site, as radio_pointer() has it; nothing where no
/// radio's does.
std::optional<std::string> radio_with_offset(const std::string& pointer);

/// The material whose shift stands at a JSON Pointer into a site, as shift_pointer() has it; nothing where no
/// such stands there.
std::optional<std::string> shifted_material(const std::string& pointer);

/// What is known of materials for other sites.
struct LearnedMaterials {
  std::map<std::string, LearnedShift> shifts;  ///< by name, all of them rows of the common table
  std::vector<std::string> own;  ///< learned, but of materials that only these sites know, by name
};

/// What a calibration shows of materials, with what was known of the table's others before. A material that
/// it learned in several ways, because the sites' own knowledge differed, goes by the surest. Values are
/// rounded to 0.001 dB; readings are counted by site, whether or not they crossed such a wall.
/// @param report  of the jobs
/// @param known   the sites' table, with what it brings along as learned
/// @param common  the table of those who will use it: a material counts only where both tables and the site
///                mean the same by its name
LearnedMaterials learned_materials(const std::vector<CalibrationJob>& jobs, const CalibrationReport& report,
                                   const MaterialTable& known, const MaterialTable& common);

}  // namespace linkmargin
