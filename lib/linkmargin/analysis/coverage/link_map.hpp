#pragma once

#include "linkmargin/analysis/coverage/adaptive_sampling.hpp"
#include "linkmargin/analysis/coverage/coverage_result.hpp"
#include "linkmargin/link/mechanism/link_endpoint.hpp"
#include "linkmargin/prediction/serving/serving.hpp"
#include "linkmargin/prediction/uncertainty/parameter_spread.hpp"
#include "linkmargin/prediction/uncertainty/shadowing_regression.hpp"

#include <cstddef>
#include <cstdint>
#include <map>
#include <string>
#include <vector>

// Inside analysis/coverage only.
namespace linkmargin {

/// The cells of a map whose links are calculated one by one. Safe to share between threads that put different
/// cells; keeps references to all it is made of but the stations.
class LinkMap {
 public:
  /// @param map  with its hubs and its size; the cells are put there
  LinkMap(CoverageMap& map, const Site& site, std::size_t storey, const Scene& scene,
          const ParameterSpread& spread, const ShadowingRegression& nearby, Stations stations);

  MapCell find(Point2 at) const { return stations_.repeaters.empty() ? by_hub(at) : by_best_way(at); }

  /// Whether a wall or an obstacle stands in a block or ends there, or a reading was taken there.
  bool parted(const Box2& block) const;

  void put(std::size_t cell, const MapCell& value) const;

 private:
  MapCell by_best_way(Point2 at) const;
  MapCell by_hub(Point2 at) const;
  Point3 at_height(Point2 at) const { return {at.x, at.y, map_.z_m}; }
  double nearby_shift_db(Point2 at, const MapCell& cell) const;
  double spread_db(std::size_t hub, Point2 at, const LossBreakdown& loss) const;
  bool stands_at(double bottom_m, double top_m) const { return map_.z_m >= bottom_m && map_.z_m < top_m; }

  CoverageMap& map_;
  const Site& site_;
  const Scene& scene_;
  const ParameterSpread& spread_;
  const ShadowingRegression& nearby_;
  Stations stations_;
  std::vector<LinkEndpoint> endpoints_;
  Device carried_;                               // but for where it is
  std::map<std::string, std::uint16_t> number_;  // of a hub or repeater, in CoverageMap::hubs
};

/// Whether a hub that comes later has more margin at a place than one before it.
bool is_better_hub(const CoverageMap& map, Point2 at, std::size_t later, double later_db, std::size_t before,
                   double before_db);

}  // namespace linkmargin
