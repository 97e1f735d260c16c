#pragma once

#include "prediction.hpp"

#include <string>
#include <vector>

namespace linkmargin::validation {

/// One class of links.
struct Kind {
  std::string name;
  Choice chosen;
};

Choice between(double from_m, double to_m);  ///< by distance
Choice in_sight(bool sight);

/// How each class did, and what share of it lies inside the program's own interval.
std::string by_class(const std::vector<PredictedLink>& links, double offset_db,
                     const std::vector<Kind>& kinds);

/// Chances by tenths beside how often they came true. What is asked of each link: that its level reaches each of
/// the nine deciles of all levels measured.
/// Under kPromised as its heading.
inline constexpr const char* kPromised =
    "Chances promised, that a local mean reaches a level, and how often they came true: each link against nine "
    "levels, the deciles of what was measured. 0.3 stands for 0.3 to 0.4.";
std::string promised_chances(const std::vector<PredictedLink>& links, double offset_db);

}  // namespace linkmargin::validation
