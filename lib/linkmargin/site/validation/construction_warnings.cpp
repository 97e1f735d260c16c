#include "linkmargin/site/constructions.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

namespace linkmargin::checks {
namespace {

/// A part of a room so small is the wall of the storey above that stands a little beside (common practice).
constexpr double kOpenM2 = 1;

/// How much of a room lies under rooms of another storey.
double covered_m2(const Room& room, const Storey& above) {
  double covered = 0;
  const Box2 box = bounding_box(room.corners);
  for (const Room& cover : above.rooms) {
    if (box.meets(bounding_box(cover.corners))) covered += shared_area(room.corners, cover.corners);
  }
  return covered;
}

/// How much of a room no room of a storey that stands on its own covers.
double open_m2(const Site& site, const Storey& storey, const Room& room) {
  double open = std::abs(signed_area(room.corners));
  for (const Storey& above : site.storeys) {
    if (stands_on(above, storey)) open -= covered_m2(room, above);
  }
  return open;
}

/// The rectangle around all rooms of a storey.
Polygon2 outline(const Storey& storey) {
  Box2 box = Box2::nothing();
  for (const Room& room : storey.rooms) box.take(bounding_box(room.corners));
  return rectangle(box.min, box.max.x - box.min.x, box.max.y - box.min.y);
}

std::string made_text(const std::optional<Construction>& made) {
  return made ? made->material : std::string(kNoMaterial);
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

void say_roofs_beside_rooms(const Site& site, std::vector<Warning>& warnings) {
  for (const Storey& above : site.storeys) {
    for (const Storey& storey : site.storeys) {
      if (above.rooms.empty() || !stands_on(above, storey)) continue;
      const Polygon2 around = outline(above);
      std::vector<std::string> rooms;
      double sum_m2 = 0;
      for (const Room& room : storey.rooms) {
        if (room.roof || !storey.roof) continue;
        const double covered = covered_m2(room, above);
        const double open = shared_area(room.corners, around) - covered;
        if (open <= kOpenM2 || covered <= kOpenM2) continue;
        rooms.push_back(room.name);
        sum_m2 += open;
      }
      if (rooms.empty()) continue;
      warnings.push_back({.code = WarningCode::roof_beside_rooms,
                          .arguments = {{"rooms", QuotedList{rooms}},
                                        {"open", Figure{sum_m2, 1}},
                                        {"storey", Quoted{storey.name}},
                                        {"above", Quoted{above.name}}},
                          .storeys = {storey.name, above.name}});
    }
  }
}

void say_apart_like_house(const Site& site, const Storey& storey, const std::vector<WallPiece>& plan,
                          std::vector<Warning>& warnings) {
  std::set<std::string> joined;
  for (const WallPiece& piece : plan) {
    if (!piece.traced.empty() || piece.second == kOutside) continue;
    joined.insert(piece.first);
    joined.insert(piece.second);
  }
  if (joined.empty() || !(storey.floor || storey.roof)) return;
  for (const Room& room : storey.rooms) {
    if (warnings.size() >= kMostOfAKind) return;
    const bool own = room.floor || room.roof || joined.contains(room.name);
    if (own || open_m2(site, storey, room) < std::abs(signed_area(room.corners))) continue;
    warnings.push_back({.code = WarningCode::apart_like_house,
                        .arguments = {{"room", Quoted{room.name}},
                                      {"storey", Quoted{storey.name}},
                                      {"floor", made_text(storey.floor)},
                                      {"roof", made_text(storey.roof)}},
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
