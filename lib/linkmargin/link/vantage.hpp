#pragma once

#include "linkmargin/link/scene.hpp"

namespace linkmargin {

/// One end of many links, with what they share: how it takes part in the echoes and the cheapest ways from it
/// to every gap. A hub of a table, or the fixed end of a map. Read-only after construction; safe to share
/// between threads. Keeps a reference to the scene.
class Vantage {
 public:
  Vantage(const Scene& scene, Point3 at);

  const Scene& scene() const { return *scene_; }
  Point3 at() const { return at_; }  ///< plan coordinates snapped
  const Echoes::End& echo_end() const { return echo_end_; }
  const RouteMap::Origin& origin() const { return origin_; }

 private:
  const Scene* scene_;
  Point3 at_;
  Echoes::End echo_end_;
  RouteMap::Origin origin_;
};

}  // namespace linkmargin
