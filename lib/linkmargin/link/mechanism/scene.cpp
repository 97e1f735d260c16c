#include "linkmargin/link/mechanism/scene.hpp"

#include "linkmargin/link/mechanism/corners.hpp"
#include "linkmargin/link/mechanism/detour_graph.hpp"
#include "linkmargin/link/reverberation/diffuse_field.hpp"

namespace linkmargin {

Scene::Scene(const Site& site, Doors doors, int threads) : Building(site, doors) {
  const bool bends = counts_diffraction(radio());
  corners_ = std::make_shared<const Corners>(bends ? find_corners(*this) : Corners());
  detour_graph_ =
      bends ? std::make_shared<const DetourGraph>(*this, threads) : std::make_shared<const DetourGraph>();
  diffuse_field_ = counts_reverberation(radio()) ? std::make_shared<const DiffuseField>(*this, threads)
                                                 : std::make_shared<const DiffuseField>();
  if (diffuse_field_->given_up()) add_warning({.code = WarningCode::echoes_left_out});
}

}  // namespace linkmargin
