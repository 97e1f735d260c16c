#pragma once

#include "linkmargin/base/range.hpp"
#include "linkmargin/site/edit/edit.hpp"
#include "linkmargin/site/site.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// What one site may become: "steel street door".
struct WhatIfCase {
  std::string name;
  std::vector<Edit> edits;
  std::optional<bool> doors_open{};  ///< absent: as the runs are asked for
  friend bool operator==(const WhatIfCase&, const WhatIfCase&) = default;
};

/// A site with its cases. Their edits may differ from site to site: what moves by a distance ends elsewhere.
struct WhatIfSite {
  std::string file;  ///< as the person named it
  Site site;         ///< sound by validate()
  std::vector<WhatIfCase> cases{};
  friend bool operator==(const WhatIfSite&, const WhatIfSite&) = default;
};

/// One value of a site that takes several, one after the other.
struct SweepAxis {
  std::string path;  ///< of an edit
  std::vector<EditValue> values;
  std::vector<std::string> texts;  ///< the values as they are shown, one each
  friend bool operator==(const SweepAxis&, const SweepAxis&) = default;
};

/// Draws of what is not known, on top of every setting.
struct RandomDraws {
  std::uint64_t runs = 0;
  std::uint64_t seed = 0;
  friend bool operator==(const RandomDraws&, const RandomDraws&) = default;
};

/// Runs to be made: every site as it is and in each of its cases; on top of each, every combination of the
/// swept values (the last axis fastest); on top of each of those, every draw.
struct WhatIf {
  std::vector<WhatIfSite> sites;
  std::vector<SweepAxis> sweep{};
  std::optional<RandomDraws> draws{};
  friend bool operator==(const WhatIf&, const WhatIf&) = default;
};

inline constexpr Range kWhatIfSites{1, 10'000, "sites", "common practice"};
inline constexpr Range kWhatIfCases{1, 1'000, "cases", "common practice"};
inline constexpr Range kSweepAxes{1, 8, "sweep", "common practice"};
inline constexpr Range kSweepValues{1, 10'000, "values", "common practice"};
inline constexpr Range kDraws{1, 1'000'000'000, "runs", "common practice"};
inline constexpr Range kWhatIfRuns{1, 1e12, "runs in all", "common practice"};
inline constexpr Range kSeed{0, 2'147'483'647, "seed", "common practice"};
inline constexpr Range kUpM{-100, 100, "up_m", "common practice"};
inline constexpr std::uint64_t kDefaultSeed = 1;

/// How many cases a choice of places may be held to.
inline constexpr Range kCases{1, 100, "cases", "common practice"};

}  // namespace linkmargin
