#include "linkmargin/site/mounting/mounting_rules.hpp"

#include "linkmargin/site/trade_words.hpp"

namespace linkmargin {

double half_thickness_m(const Site& site, const Construction& construction) {
  if (construction.thickness_m) return *construction.thickness_m / 2;
  const auto material = site.materials.find(construction.material);
  const auto* layered =
      material == site.materials.end() ? nullptr : std::get_if<BuildUp>(&material->second.kind);
  if (layered == nullptr) return kUsualHalfWallM;
  double thickness_m = 0;
  for (const Layer& layer : layered->layers) thickness_m += layer.thickness_m;
  return thickness_m / 2;
}

double mounted_off_m(const Site& site, const Construction& construction) {
  const auto material = site.materials.find(construction.material);
  return material != site.materials.end() && is_metal(material->second) ? kBeforeMetalM : kMountedOffM;
}

bool is_wet(const Room& room) {
  if (room.use != RoomUse::unstated) return room.use == RoomUse::wet;
  const bool has_socket = room.sockets && !room.sockets->empty();
  return !has_socket && names_wet_room(room.name);
}

bool is_metal(const Material& material) {
  constexpr double least_metal_s_per_m = 1e5;
  constexpr double metal_reflects_percent = 85;
  if (material.group.starts_with("metal ")) return true;
  if (material.reflects_percent.value_or(0) >= metal_reflects_percent) return true;
  const auto* electrical = std::get_if<ElectricalProperties>(&material.kind);
  return electrical != nullptr && electrical->c >= least_metal_s_per_m;
}

}  // namespace linkmargin
