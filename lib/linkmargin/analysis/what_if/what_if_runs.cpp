#include "linkmargin/analysis/what_if/what_if_runs.hpp"

#include <algorithm>

namespace linkmargin {

WhatIfRuns::WhatIfRuns(const WhatIf& what_if) {
  if (what_if.sites.empty()) throw DomainError("there is no site to make runs of");
  cases_ = what_if.sites.front().cases.size() + 1;
  if (std::ranges::any_of(what_if.sites,
                          [&](const WhatIfSite& site) { return site.cases.size() + 1 != cases_; }))
    throw DomainError("the sites have not the same number of cases");
  runs_each_ += what_if.draws ? what_if.draws->runs : 0;
  double runs = static_cast<double>(what_if.sites.size() * cases_) * static_cast<double>(runs_each_);
  for (const SweepAxis& axis : what_if.sweep) {
    axes_.push_back(axis.values.size());
    runs *= static_cast<double>(axis.values.size());
  }
  require_in(kWhatIfRuns, runs);
  for (const std::size_t values : axes_) combinations_ *= values;
  variants_ = what_if.sites.size() * cases_ * combinations_;
}

WhatIfVariant WhatIfRuns::variant(std::uint64_t variant) const {
  const std::uint64_t case_of_all = variant / combinations_;
  return {static_cast<std::size_t>(case_of_all / cases_), static_cast<std::size_t>(case_of_all % cases_),
          variant % combinations_};
}

std::vector<std::size_t> WhatIfRuns::values(std::uint64_t combination) const {
  std::vector<std::size_t> values(axes_.size());
  for (std::size_t axis = axes_.size(); axis-- > 0;) {
    values[axis] = static_cast<std::size_t>(combination % axes_[axis]);
    combination /= axes_[axis];
  }
  return values;
}

std::vector<Edit> WhatIfRuns::edits(const WhatIf& what_if, const WhatIfVariant& variant) const {
  std::vector<Edit> edits;
  if (variant.of_case > 0) edits = what_if.sites.at(variant.site).cases.at(variant.of_case - 1).edits;
  const std::vector<std::size_t> chosen = values(variant.combination);
  for (std::size_t axis = 0; axis < chosen.size(); ++axis)
    edits.push_back({what_if.sweep[axis].path, what_if.sweep[axis].values[chosen[axis]]});
  return edits;
}

}  // namespace linkmargin
