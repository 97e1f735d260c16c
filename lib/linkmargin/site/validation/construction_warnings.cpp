#include "linkmargin/site/constructions.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace linkmargin::checks {
namespace {

/// A part of a room so small is the wall of the storey above that stands a little beside (common practice).
constexpr double kOpenM2 = 1;

/// How much of a room no room of a storey that stands on its own covers.
double open_m2(const Site& site, const Storey& storey, const Room& room) {
  double open = std::abs(signed_area(room.corners));
  const Box2 box = bounding_box(room.corners);
  for (const Storey& above : site.storeys) {
    if (!stands_on(above, storey)) continue;
    for (const Room& cover : above.rooms) {
      if (box.meets(bounding_box(cover.corners))) open -= shared_area(room.corners, cover.corners);
    }
  }
  return open;
}

/// Whether something may look down on a storey: a higher one with rooms or radios.
bool overlooked(const Site& site, const Storey& storey) {
  for (std::size_t i = 0; i < site.storeys.size(); ++i) {
    const Storey& above = site.storeys[i];
    if (above.level_m <= storey.level_m) continue;
    const bool radio =
        std::ranges::any_of(site_radios(site), [i](const SiteRadio& one) { return one.place.storey == i; });
    if (radio || !above.rooms.empty()) return true;
  }
  return false;
}

bool is_layer_alone(const Material& material) {
  return !material.use.empty() &&
         std::ranges::all_of(material.use, [](const std::string& use) { return use == "layer"; });
}

}  // namespace

void say_open_rooms(const Site& site, std::vector<Warning>& warnings) {
  for (const Storey& storey : site.storeys) {
    std::vector<std::string> open;
    for (const Room& room : storey.rooms) {
      if (!storey.roof_of(room) && open_m2(site, storey, room) > kOpenM2) open.push_back(room.name);
    }
    const bool others_roofed =
        std::ranges::any_of(storey.rooms, [](const Room& room) { return room.roof.has_value(); });
    if (open.empty() || !(others_roofed || overlooked(site, storey))) continue;
    warnings.push_back({.code = WarningCode::nothing_over_rooms,
                        .arguments = {{"rooms", QuotedList{open}}, {"storey", Quoted{storey.name}}},
                        .storeys = {storey.name}});
  }
}

void say_layers_alone(const Site& site, std::vector<Warning>& warnings) {
  struct Found {
    std::vector<PartName> parts;
    std::vector<std::string> storeys;
  };
  std::map<std::string, Found> found;
  for (const Storey& storey : site.storeys) {
    for_each_construction(storey, [&](const Construction& construction, PartName part) {
      const auto material = site.materials.find(construction.material);
      if (material == site.materials.end() || !is_layer_alone(material->second)) return;
      Found& of = found[construction.material];
      of.parts.push_back(std::move(part));
      if (of.storeys.empty() || of.storeys.back() != storey.name) of.storeys.push_back(storey.name);
    });
  }
  for (const auto& [material, of] : found) {
    warnings.push_back({.code = WarningCode::layer_alone,
                        .arguments = {{"material", Quoted{material}}, {"parts", PartList{of.parts}}},
                        .storeys = of.storeys});
  }
}

}  // namespace linkmargin::checks
