#include "linkmargin/link/mechanism/link_endpoint.hpp"

#include "linkmargin/link/mechanism/detour_graph.hpp"
#include "linkmargin/link/mechanism/map_plane.hpp"
#include "linkmargin/link/reverberation/diffuse_field.hpp"
#include "linkmargin/link/reverberation/echo_curves.hpp"

#include <mutex>
#include <utility>

namespace linkmargin {

struct LinkEndpoint::Detours {
  std::once_flag found;
  DetourTree tree;
};

LinkEndpoint::LinkEndpoint(const Scene& scene, Point3 at)
    : scene_(&scene), at_(snapped_in_plan(at)), detours_(std::make_shared<Detours>()) {
  diffuse_end_ = counts_reverberation(scene.radio()) ? scene.diffuse_field().end(scene, at_)
                                                     : std::make_shared<const DiffuseEnd>();
}

LinkEndpoint::LinkEndpoint(const Scene& scene, Point3 at, std::shared_ptr<const MapPlane> plane)
    : LinkEndpoint(scene, at) {
  plane_ = std::move(plane);
  if (counts_reverberation(scene.radio()))
    echo_curves_ = std::make_shared<const EchoCurves>(scene.diffuse_field(), diffuse_end_);
}

const DetourTree& LinkEndpoint::detour_tree() const {
  std::call_once(detours_->found, [&] {
    if (counts_diffraction(scene_->radio()))
      detours_->tree = DetourTree(scene_->detour_graph(), *scene_, at_);
  });
  return detours_->tree;
}

}  // namespace linkmargin
