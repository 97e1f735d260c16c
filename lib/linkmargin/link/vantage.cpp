#include "linkmargin/link/vantage.hpp"

#include "linkmargin/link/routes.hpp"

namespace linkmargin {
namespace {

Point3 snapped_point(Point3 p) {
  const Point2 plan = snapped(p.plan());
  return {plan.x, plan.y, p.z};
}

}  // namespace

Vantage::Vantage(const Scene& scene, Point3 at) : scene_(&scene), at_(snapped_point(at)) {
  if (counts_routes(scene.radio())) origin_ = RouteMap::Origin(scene.route_map(), scene, at_);
  if (counts_echoes(scene.radio())) echo_end_ = scene.echoes().end(at_);
}

}  // namespace linkmargin
