#pragma once

#include "linkmargin/analysis/coverage/coverage_result.hpp"
#include "linkmargin/base/progress.hpp"
#include "linkmargin/link/mechanism/scene.hpp"
#include "linkmargin/prediction/uncertainty/shadowing_regression.hpp"
#include "linkmargin/site/site.hpp"

#include <optional>
#include <string>

namespace linkmargin {

/// Some rows of a map, from the lowest.
struct CoverageRows {
  int first = 0;
  int count = 0;
};

struct CoverageOptions {
  Doors doors = Doors::armed;
  std::optional<std::string> storey{};  ///< absent: the one with the most devices
  std::optional<std::string> hub{};     ///< that hub alone, directly; absent: at every place the best way
  bool direct = false;                  ///< as though the site had no repeaters
  /// Of the device that is carried about; absent: that of most devices there.
  std::optional<std::string> profile{};
  /// Over the storey's floor; absent: that of most such devices there, of most of any, else 1.5 m.
  std::optional<double> height_m{};
  double step_m = 0.05;
  /// Whether value_at() will be asked for the chance, which needs each cell's spread. Without it the map of a
  /// site whose model counts the straight line alone is found by shadows
  /// (analysis/coverage/direct_path_map.hpp), a hundred times quicker.
  bool chances = true;
  /// Where ways round count: cells between others are filled in where these agree to so many decibels
  /// (analysis/coverage/adaptive_sampling.hpp); 0: every cell is found by itself.
  double within_db = 0;
  /// Of the site: cells near them follow them. With readings every map is found link by link.
  ShadowingRegression nearby{};
  /// Absent: all of them. The cells of others are left at 0 where the map is found link by link; not with
  /// within_db.
  std::optional<CoverageRows> rows{};
  int threads = 1;          ///< >= 1; changes nothing in the result
  ProgressCall progress{};  ///< told after each row, or where shadows are cast after each hub; may be empty
};

/// The map of a storey: its rooms, walls, openings and radios with a metre round them.
/// @param site sound: validate(site) is empty
/// @throws DomainError when a name is unknown, the profile does not transmit, a step is not in
/// kCoverageStepM, rows are none of the map's,
///         or there would be more than kMostCells cells
CoverageMap coverage(const Site& site, const CoverageOptions& options);

/// The same in a scene that is made already. @param scene  of the site, with the doors of the options
CoverageMap coverage(const Site& site, const CoverageOptions& options, const Scene& scene);

inline constexpr Range kCoverageStepM{0.01, 10, "step_m", "common practice"};
inline constexpr Range kCoverageWithinDb{0, 6, "within_db", "common practice"};
inline constexpr std::size_t kMostCells = 20'000'000;

}  // namespace linkmargin
