#include "linkmargin/link/vantage.hpp"

#include "linkmargin/link/routes.hpp"

namespace linkmargin {
Vantage::Vantage(const Scene& scene, Point3 at) : scene_(&scene), at_(snapped_in_plan(at)) {
  if (counts_routes(scene.radio())) origin_ = RouteMap::Origin(scene.route_map(), scene, at_);
  if (counts_echoes(scene.radio())) echo_end_ = scene.echoes().end(scene, at_);
}

}  // namespace linkmargin
