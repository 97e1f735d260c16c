#pragma once

#include "linkmargin/analysis/what_if/what_if_changes.hpp"

#include <string>
#include <vector>

namespace linkmargin {

/// What one site's cases and swept values come to.
struct SiteSummary {
  std::string file;
  ReadingScale reading;
  std::vector<CaseChange> cases;  ///< what_if_changes()
  std::vector<Sensitivity> sensitivity;
};

}  // namespace linkmargin
