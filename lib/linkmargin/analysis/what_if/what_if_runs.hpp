#pragma once

#include "linkmargin/site/edit/what_if.hpp"

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

namespace linkmargin {

/// Which variant of which site a run is of.
struct WhatIfVariant {
  std::size_t site = 0;
  std::size_t of_case = 0;        ///< 0: the site as it is; else its position in WhatIfSite::cases, from 1
  std::uint64_t combination = 0;  ///< of the swept values, the last axis fastest
  friend bool operator==(const WhatIfVariant&, const WhatIfVariant&) = default;
};

/// How the runs of a WhatIf are numbered: by site, case, combination, and draw last. The first run of every
/// variant is the prediction, its draws follow.
class WhatIfRuns {
 public:
  /// @throws DomainError when there is no site, when the sites have not the same number of cases, and when an
  /// axis has no value or there are more than kWhatIfRuns
  explicit WhatIfRuns(const WhatIf& what_if);

  std::uint64_t count() const { return variants_ * runs_each_; }
  std::uint64_t variants() const { return variants_; }
  std::uint64_t runs_each() const { return runs_each_; }  ///< of a variant

  /// @param variant  from 0
  WhatIfVariant variant(std::uint64_t variant) const;

  /// The position of each axis' value.
  std::vector<std::size_t> values(std::uint64_t combination) const;

  /// The edits of a variant: those of its case, then the swept values.
  std::vector<Edit> edits(const WhatIf& what_if, const WhatIfVariant& variant) const;

 private:
  std::size_t cases_ = 1;
  std::vector<std::size_t> axes_;  // how many values each has
  std::uint64_t combinations_ = 1;
  std::uint64_t variants_ = 1;
  std::uint64_t runs_each_ = 1;
};

}  // namespace linkmargin
