#pragma once

#include "linkmargin/analysis/what_if/what_if_runs.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

namespace linkmargin {

/// How the lowest readings of many runs are spread: counted in classes of a tenth of a percent, so that
/// memory does not grow with their number.
class ReadingHistogram {
 public:
  static constexpr double kClassPercent = 0.1;

  /// @param percent  0..100
  void add(double percent);
  std::uint64_t count() const { return count_; }

  /// The reading that a share of the runs stays at or under, to kClassPercent; nothing without runs.
  /// @param share  0..1
  std::optional<double> quantile(double share) const;

  /// The share of the runs in each of so many equal parts of 0 to 100 %; all 0 without runs. @param parts >=
  /// 1
  std::vector<double> shares(std::size_t parts) const;

 private:
  std::vector<std::uint64_t> classes_;
  std::uint64_t count_ = 0;
};

/// What the runs of one case came to, over all sites and swept values.
struct CaseStatistics {
  std::uint64_t predicted = 0;       ///< runs without draws
  std::uint64_t predicted_pass = 0;  ///< of them, those in which no device is weak
  std::uint64_t drawn = 0;
  std::uint64_t drawn_pass = 0;
  ReadingHistogram predictions;  ///< lowest readings
  ReadingHistogram draws;
};

/// Adds up runs, one at a time and in any order.
class WhatIfStatistics {
 public:
  explicit WhatIfStatistics(const WhatIf& what_if);

  /// @param run  from 1
  void add(std::uint64_t run, double worst_reading_percent, std::size_t weak_count);

  std::uint64_t runs() const { return added_; }
  const std::vector<CaseStatistics>& cases() const { return cases_; }  ///< the site as it is first

 private:
  WhatIfRuns runs_;
  std::vector<CaseStatistics> cases_;
  std::uint64_t added_ = 0;
};

}  // namespace linkmargin
