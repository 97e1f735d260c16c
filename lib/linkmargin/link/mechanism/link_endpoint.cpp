#include "linkmargin/link/mechanism/link_endpoint.hpp"

#include "linkmargin/link/mechanism/detour_graph.hpp"
#include "linkmargin/link/reverberation/diffuse_field.hpp"

namespace linkmargin {

LinkEndpoint::LinkEndpoint(const Scene& scene, Point3 at) : scene_(&scene), at_(snapped_in_plan(at)) {
  detour_tree_ = counts_diffraction(scene.radio())
                     ? std::make_shared<const DetourTree>(scene.detour_graph(), scene, at_)
                     : std::make_shared<const DetourTree>();
  diffuse_end_ = std::make_shared<const DiffuseEnd>(
      counts_reverberation(scene.radio()) ? scene.diffuse_field().end(scene, at_) : DiffuseEnd());
}

}  // namespace linkmargin
