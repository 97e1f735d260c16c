#pragma once

#include "linkmargin/prediction/uncertainty/reading_spread.hpp"

#include <array>
#include <span>
#include <vector>

namespace linkmargin {

/// Where readings were taken, laid out for questions about all of them.
class ReadingPlaces {
 public:
  ReadingPlaces() = default;
  explicit ReadingPlaces(std::span<const ReadingSpread> readings);

  /// correlation() of a link with each of the first readings, as many as there is room for. The same bits on
  /// any processor.
  /// @param length_m  in kCorrelationLengthM
  void correlations(const ReadingSpread& link, double length_m, std::span<double> found) const;

 private:
  std::array<std::vector<double>, 7> columns_;  // device x, y, z, hub x, y, z, site
};

}  // namespace linkmargin
