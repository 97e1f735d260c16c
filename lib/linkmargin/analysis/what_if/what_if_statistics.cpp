#include "linkmargin/analysis/what_if/what_if_statistics.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {

void ReadingHistogram::add(double percent) {
  constexpr std::size_t classes = 1001;
  if (classes_.empty()) classes_.resize(classes);
  const double place = std::clamp(percent / kClassPercent, 0.0, classes - 1.0);
  ++classes_[static_cast<std::size_t>(std::lround(place))];
  ++count_;
}

std::optional<double> ReadingHistogram::quantile(double share) const {
  if (count_ == 0) return {};
  const double wanted = std::max(1.0, std::ceil(share * static_cast<double>(count_)));
  std::uint64_t below = 0;
  std::size_t at = 0;
  while (at + 1 < classes_.size() && static_cast<double>(below += classes_[at]) < wanted) ++at;
  return kClassPercent * static_cast<double>(at);
}

std::vector<double> ReadingHistogram::shares(std::size_t parts) const {
  std::vector<double> shares(parts, 0.0);
  for (std::size_t at = 0; at < classes_.size(); ++at) {
    const std::size_t part = std::min(parts - 1, at * parts / (classes_.size() - 1));
    shares[part] += static_cast<double>(classes_[at]) / static_cast<double>(count_);
  }
  return shares;
}

WhatIfStatistics::WhatIfStatistics(const WhatIf& what_if)
    : runs_(what_if), cases_(what_if.sites.front().cases.size() + 1) {}

void WhatIfStatistics::add(std::uint64_t run, double worst_reading_percent, std::size_t weak_count) {
  ++added_;
  CaseStatistics& of = cases_.at(runs_.variant((run - 1) / runs_.runs_each()).of_case);
  const bool passes = weak_count == 0;
  if ((run - 1) % runs_.runs_each() == 0) {
    ++of.predicted;
    of.predicted_pass += passes ? 1 : 0;
    of.predictions.add(worst_reading_percent);
  } else {
    ++of.drawn;
    of.drawn_pass += passes ? 1 : 0;
    of.draws.add(worst_reading_percent);
  }
}

}  // namespace linkmargin
