#pragma once

#include "linkmargin/analysis/placement/model/placement_answer.hpp"
#include "linkmargin/analysis/placement/model/placement_chances.hpp"

#include <vector>

// Inside analysis/ only: layouts told as people need them.
namespace linkmargin {

/// Turns layouts into choices: links, readings and edits, each figure that of `check`.
class ChoiceReport {
 public:
  /// @param cases outlive this
  ChoiceReport(const std::vector<PlacementCase>& cases, int threads) : cases_(cases), threads_(threads) {}

  PlacementChoice tell(const PlacementPlaces& places, const PlacementLayout& layout) const;

  /// A layout of the site as it is: no way is named that is not.
  PlacementChoice tell_present(const PlacementPlaces& places, const PlacementLayout& layout) const;

 private:
  const std::vector<PlacementCase>& cases_;
  int threads_;
};

}  // namespace linkmargin
