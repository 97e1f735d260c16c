#pragma once

#include "linkmargin/link/fading_model.hpp"
#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/site/site.hpp"

#include <cstddef>
#include <map>
#include <memory>
#include <optional>
#include <span>
#include <unordered_map>
#include <utility>
#include <vector>

namespace linkmargin {

/// Ends that stay while others come and go, such as the devices of a hub that is tried at many places: a link
/// to one of them is asked for from there, so that what it shares with others is found once.
using StayingEnds = std::map<Point3, std::shared_ptr<const LinkEndpoint>>;

/// One end of many links, with the path losses that were asked for once. For one thread at a time.
class EndpointCache {
 public:
  EndpointCache(const Scene& scene, Point3 at, std::shared_ptr<const StayingEnds> staying)
      : from_(std::make_shared<const LinkEndpoint>(scene, at)), staying_(std::move(staying)) {}

  const std::shared_ptr<const LinkEndpoint>& from() const { return from_; }

  /// path_loss(*from(), to), traced at the first call for a point; from the other end where that stays, which
  /// changes it by rounding only.
  const LossBreakdown& path_loss(Point3 to);

  std::size_t size() const { return losses_.size(); }  ///< losses known

 private:
  struct Hash {
    std::size_t operator()(Point3 p) const { return hash_of(p); }
  };
  std::shared_ptr<const LinkEndpoint> from_;
  std::shared_ptr<const StayingEnds> staying_;
  std::unordered_map<Point3, LossBreakdown, Hash> losses_;
};

/// A scene with what was traced in it, for sites that differ in what the scene does not hold. For one thread
/// at a time.
class SceneCache {
 public:
  /// @param site sound: validate(site) is empty
  SceneCache(const Site& site, Doors doors);

  /// Whether another site's scene is this one: the same building, materials, model and frequency, the same
  /// things learned, the same spread of the equipment. Radios, devices, areas, the reading, fading and noise
  /// may differ.
  bool fits(const Site& site, Doors doors) const;

  const std::shared_ptr<const Scene>& scene() const { return scene_; }

  /// The end at a point, made at the first call for it.
  std::shared_ptr<EndpointCache> end(Point3 at);

  /// @param places  of ends that stay, in place of those before, for all ends that are made from now on
  void let_stay(std::span<const Point3> places);

 private:
  /// Once the ends know so many losses, some 10 MB, they are forgotten before the next one is made; who holds
  /// an end keeps it.
  static constexpr std::size_t kMostLosses = 8192;

  PropagationSettings radio_;  // without noise
  std::optional<Calibration> calibration_;
  MaterialTable materials_;
  std::vector<Storey> storeys_;
  std::shared_ptr<const Scene> scene_;
  std::shared_ptr<const StayingEnds> staying_ = std::make_shared<const StayingEnds>();
  std::map<Point3, std::shared_ptr<EndpointCache>> ends_;
};

/// The scenes of sites that come one after another, the latest few kept with all that was traced in them,
/// and the latest law of fading.
/// For one thread at a time.
class SceneCacheSet {
 public:
  /// @param most  scenes kept, at least 1
  explicit SceneCacheSet(std::size_t most = 4) : most_(most) {}

  /// The one that fits, or a new one. Stays while the store lives or someone holds it.
  std::shared_ptr<SceneCache> scene(const Site& site, Doors doors);

  /// Valid until the next call.
  const FadingModel& fading_model(const Fading& fading);

 private:
  std::size_t most_;
  std::optional<Fading> fading_;
  std::optional<FadingModel> fading_model_;
  std::vector<std::shared_ptr<SceneCache>> latest_first_;
};

}  // namespace linkmargin
