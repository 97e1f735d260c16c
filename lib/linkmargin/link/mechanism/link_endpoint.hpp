#pragma once

#include "linkmargin/link/mechanism/scene.hpp"

#include <memory>

namespace linkmargin {

class DetourTree;
class EchoCurves;
class MapPlane;
struct DiffuseEnd;

/// One end of many links, with what they share: how it takes part in the diffuse field and the cheapest ways
/// from it to every aperture. A hub of a table, or the fixed end of a map. Safe to share between
/// threads. Keeps a reference to the scene.
class LinkEndpoint {
 public:
  LinkEndpoint(const Scene& scene, Point3 at);

  /// The fixed end of a map: links to its cells cost less time. Their losses are those of other links to 1e-4
  /// dB.
  /// @param plane  of the scene; null where its model counts no diffraction
  LinkEndpoint(const Scene& scene, Point3 at, std::shared_ptr<const MapPlane> plane);

  const Scene& scene() const { return *scene_; }
  Point3 at() const { return at_; }  ///< plan coordinates snapped
  const DiffuseEnd& diffuse_end() const { return *diffuse_end_; }
  const DetourTree& detour_tree() const;                                ///< found when it is first asked for
  const MapPlane* plane() const { return plane_.get(); }                ///< null: not the end of a map
  const EchoCurves* echo_curves() const { return echo_curves_.get(); }  ///< null: not the end of a map

 private:
  const Scene* scene_;
  Point3 at_;
  std::shared_ptr<const DiffuseEnd> diffuse_end_;
  struct Detours;
  std::shared_ptr<Detours> detours_;
  std::shared_ptr<const MapPlane> plane_;
  std::shared_ptr<const EchoCurves> echo_curves_;
};

}  // namespace linkmargin
