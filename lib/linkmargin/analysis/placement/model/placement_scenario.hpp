#pragma once

#include "linkmargin/analysis/placement/model/chance_table.hpp"
#include "linkmargin/analysis/placement/model/placement_places.hpp"
#include "linkmargin/link/budget.hpp"
#include "linkmargin/link/fading_model.hpp"
#include "linkmargin/link/mechanism/link_endpoint.hpp"
#include "linkmargin/prediction/uncertainty/parameter_spread.hpp"

#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

// Inside analysis/ only: the chances of links to many places in one state of a site.
namespace linkmargin {

/// One state of the scenario that a choice has to hold in.
struct PlacementCase {
  std::string name;  ///< of the case of edits; empty: the site as it is
  Site site;         ///< with the same devices, areas, hubs and repeaters by name
  Doors doors = Doors::armed;
  std::shared_ptr<const Scene> scene;  ///< of both
};

/// One end of links: a device, or a sample point of an area.
struct FarEnd {
  Point3 at;
  RadioEnd radio;        ///< with its metal, not turned
  bool answered = true;  ///< the downlink counts too
};

/// What the way to a place loses.
struct WayLoss {
  float loss_db = 0;
  float sigma_db = 0;
  float k_db = 0;  ///< of the fading, kFadingKDb
};

/// What a calibrated site is not sure of over one way, by the share q of the reading's scale that is read:
/// the variance is constant + by_share q + by_square q^2.
struct SpreadByReading {
  float constant = 0;
  float by_share = 0;
  float by_square = 0;

  float variance(float share) const { return constant + share * (by_share + share * by_square); }
};

/// Working memory for the ways from one point: kept from one to the next.
struct WayMemory {
  std::function<bool()>
      stop{};  ///< asked now and then where links are calculated: true leaves the rest as it is
  std::vector<WayLoss> ways;
  std::vector<SpreadByReading> spreads;  ///< empty where every parameter of the site is sure
};

/// One case made ready.
class PlacementScenario {
 public:
  /// @param of outlives this
  explicit PlacementScenario(const PlacementCase& of);

  const Site& site() const { return site_; }
  const Scene& scene() const { return scene_; }

  /// Whether paths other than the straight line are looked for, which takes most of the time.
  bool diffracts() const;

  /// The ends of an item's links: of devices in order, then of areas.
  std::vector<FarEnd> ends(std::size_t item) const;

  /// A repeater at a place, as the end of a link to another radio.
  FarEnd end_of(const Hub& repeater, const Placement& place) const;

  /// What the ways from one point to all places lose, into memory.ways.
  void find_losses(Point3 from, const PlacementPlaces& places, WayMemory& memory) const;

  /// Adds the chance of an end with a radio at each of some places. @param memory with the ways to all places
  /// @param exact calculated, else looked up
  void add_chances(const FarEnd& end, const Hub& radio, const PlacementPlaces& places,
                   std::span<const std::uint32_t> points, const WayMemory& memory, bool exact,
                   std::span<float> sums) const;

  /// The chance of an end with a radio at a place, were the level so much higher.
  /// @param from either end
  float chance(const FarEnd& end, const Hub& radio, const Placement& place, const LinkEndpoint& from,
               double gain_db = 0) const;

 private:
  void find_loss(const LinkEndpoint& endpoint, Point3 to, std::size_t i, WayMemory& memory) const;
  float looked_up(float lack_db, const WayLoss& way) const;
  float calculated(double lack_db, const WayLoss& way) const;

  const Site& site_;
  const Scene& scene_;
  FadingModel fading_model_;
  ParameterSpread spread_;
  double least_sigma_db_ = 0;
  mutable ChanceTables tables_;
};

/// Sample points of an area while places are searched for: fewer than `check` takes.
inline constexpr int kPlacementAreaPoints = 24;

}  // namespace linkmargin
