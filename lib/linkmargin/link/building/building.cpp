#include "linkmargin/link/building/building.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/link/building/box_index.hpp"
#include "linkmargin/link/building/panel_index.hpp"
#include "linkmargin/link/building/slab_level.hpp"
#include "linkmargin/link/building/wall_builder.hpp"
#include "linkmargin/site/site_radios.hpp"
#include "linkmargin/site/wall_plan.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <span>
#include <utility>

namespace linkmargin {

namespace {

/// By how much a radio may stand under the floor or over the ceiling and still be in the room: what
/// validate() overlooks.
constexpr double kHeightSlackM = 0.001;

double half_m(const std::optional<Construction>& slab) {
  return slab ? slab->thickness_m.value_or(0) / 2 : 0;
}

/// Turns the nouns of a site into the panels, slabs and obstacles of a building.
class BuildingBuilder {
 public:
  BuildingBuilder(const Site& site, const PropagationSettings& radio, Doors doors)
      : site_(site), radio_(radio), doors_(doors) {}

  BuildingParts build() {
    for (const Storey& storey : site_.storeys) {
      parts_.storeys.push_back({storey.level_m, storey.ceiling_m()});
      add_walls(storey);
      add_rooms(storey);
      add_floors(storey);
      add_roofs(storey);
      for (const Obstacle& obstacle : storey.obstacles) {
        if (obstacle.construction.material == kNoMaterial) continue;
        const double bottom_m = storey.level_m + obstacle.base_m;
        parts_.obstacles.push_back(
            {obstacle.corners, bounding_box(obstacle.corners), bottom_m, bottom_m + obstacle.height_m,
             barrier(LossCause::obstacle, own_name(obstacle.name), obstacle.construction)});
      }
    }
    std::ranges::stable_sort(parts_.slabs, {}, &Slab::z_m);
    return std::move(parts_);
  }

  /// What was used outside of its frequencies.
  const std::set<StatedBand>& out_of_range() const { return out_of_range_; }

 private:
  std::uint32_t barrier(LossCause cause, PartName name, const Construction& construction) {
    const Transmission& transmission = transmission_of(construction);
    std::string material = construction.material;
    const Material& entry = site_.materials.at(construction.material);
    if (construction.thickness_m && std::holds_alternative<ElectricalProperties>(entry.kind)) {
      material += " " + shortest_text(*construction.thickness_m) + " m";
    }
    parts_.barriers.push_back({cause, std::move(name), material, construction.material, transmission});
    return static_cast<std::uint32_t>(parts_.barriers.size() - 1);
  }

  const Transmission& transmission_of(const Construction& construction) {
    const auto key = std::pair(construction.material, construction.thickness_m.value_or(0));
    const auto known = transmissions_.find(key);
    if (known != transmissions_.end()) return known->second;
    auto made = Transmission::of(construction, site_.materials, radio_.frequency_hz,
                                 learned_shift(site_.calibration, site_.materials.at(construction.material)));
    out_of_range_.insert(made.out_of_range().begin(), made.out_of_range().end());
    return transmissions_.emplace(key, std::move(made)).first->second;
  }

  void add_walls(const Storey& storey) {
    const std::vector<WallPiece> plan = wall_plan(storey);
    std::vector<WallBuilder::Made> made(plan.size());
    for (std::size_t i = 0; i < storey.openings.size(); ++i) {
      const Opening& opening = storey.openings[i];
      if (const auto place = locate_opening(plan, storey, i))
        made[place->piece].cuts.push_back({place->from, place->to, &opening, leaf(opening)});
    }
    std::map<std::string, std::uint32_t> linings;
    std::vector<std::uint32_t> roof;
    for (std::size_t i = 0; i < plan.size(); ++i) {
      std::ranges::sort(made[i].cuts, {}, &WallBuilder::Cut::from);
      if (const auto& construction = plan[i].construction)
        made[i].barrier = barrier(LossCause::wall, wall_name(plan[i]), *construction);
      roof.push_back(eaves(storey, plan[i], linings));
    }
    WallBuilder builder(parts_, storey, plan, reach_of(storey));
    for (const std::vector<StraightPart>& wall : straight_walls(plan, roof))
      builder.add(wall, made, roof[wall.front().piece]);
  }

  WallBuilder::Reach reach_of(const Storey& storey) const {
    WallBuilder::Reach reach{storey.level_m - half_m(storey.floor), storey.ceiling_m() + half_m(storey.roof)};
    for (const Room& room : storey.rooms)
      reach.top_m = std::max(reach.top_m, storey.ceiling_m() + half_m(room.roof));
    for (const Storey& above : site_.storeys) {
      const double gap_m = above.level_m - storey.ceiling_m();
      if (gap_m < 0 || gap_m > kSlabBetweenM) continue;
      reach.top_m = std::max(reach.top_m, above.level_m - half_m(above.floor));
    }
    return reach;
  }

  /// What closes the eaves over an outer wall: the lining of the roof that ends on it, one a room.
  std::uint32_t eaves(const Storey& storey, const WallPiece& piece,
                      std::map<std::string, std::uint32_t>& linings) {
    if (piece.second != kOutside) return kNone;
    const auto room = std::ranges::find(storey.rooms, piece.first, &Room::name);
    const std::optional<Construction>& roof = storey.roof_of(*room);
    if (!roof || roof->material == kNoMaterial || is_covered(storey, piece)) return kNone;
    const auto [known, fresh] = linings.try_emplace(room->name, kNone);
    if (fresh) {
      known->second = barrier(LossCause::floor, {.kind = PartKind::roof, .first = room->name}, *roof);
      Transmission& transmission = parts_.barriers[known->second].transmission;
      transmission = transmission.lining();
    }
    return known->second;
  }

  /// Whether a room of a storey above stands over a wall or beside its line.
  bool is_covered(const Storey& storey, const WallPiece& piece) const {
    const Point2 middle = at_fraction(piece.line, 0.5);
    return std::ranges::any_of(site_.storeys, [&](const Storey& above) {
      return stands_on(above, storey) && std::ranges::any_of(above.rooms, [&](const Room& cover) {
               return contains(cover.corners, middle) || distance_to_edges(cover.corners, middle) < kJointM;
             });
    });
  }

  /// A roof covers what no room of a storey above covers. Where one covers a part, the roof lies at the
  /// height of that one's floor, so that no line slips out between the two.
  void add_roofs(const Storey& storey) {
    std::uint32_t of_storey = kNone;
    for (const Room& room : storey.rooms) {
      const std::optional<Construction>& roof = storey.roof_of(room);
      if (!roof || roof->material == kNoMaterial) continue;
      PartName name{.kind = PartKind::roof, .first = room.roof ? room.name : storey.name};
      std::uint32_t of = room.roof ? kNone : of_storey;
      if (of == kNone) of = barrier(LossCause::floor, std::move(name), *roof);
      if (!room.roof) of_storey = of;
      Slab slab{.outline = room.corners,
                .z_m = storey.ceiling_m() + half_m(roof),
                .barrier = of,
                .box = bounding_box(room.corners)};
      cut_out_covers(storey, slab);
      parts_.slabs.push_back(std::move(slab));
    }
  }

  void cut_out_covers(const Storey& storey, Slab& roof) const {
    for (const Storey& above : site_.storeys) {
      if (!stands_on(above, storey)) continue;
      const double floor_m = above.level_m - half_m(above.floor);
      for (const Room& cover : above.rooms) {
        if (!roof.box.meets(bounding_box(cover.corners)) || shared_area(roof.outline, cover.corners) <= 0)
          continue;
        roof.z_m = roof.holes.empty() ? floor_m : std::min(roof.z_m, floor_m);
        roof.holes.push_back(cover.corners);
      }
    }
  }

  std::uint32_t leaf(const Opening& opening) {
    const bool stands_open = doors_ == Doors::open && opening.opens;
    if (stands_open || opening.leaf.material == kNoMaterial) return kNone;
    return barrier(LossCause::opening, own_name(opening.name), opening.leaf);
  }

  /// All at the height of the storey's own slab, so that no line slips out between two of them.
  void add_floors(const Storey& storey) {
    std::uint32_t of_storey = kNone;
    for (const Room& room : storey.rooms) {
      const std::optional<Construction>& floor = storey.floor_of(room);
      if (!floor || floor->material == kNoMaterial) continue;
      std::uint32_t of = room.floor ? kNone : of_storey;
      if (of == kNone) {
        of = barrier(LossCause::floor,
                     {.kind = PartKind::floor, .first = room.floor ? room.name : storey.name}, *floor);
      }
      if (!room.floor) of_storey = of;
      Slab piece{.outline = room.corners,
                 .z_m = storey.level_m - half_m(storey.floor),
                 .barrier = of,
                 .box = bounding_box(room.corners)};
      for (const FloorOpening& opening : storey.floor_openings) {
        if (piece.box.meets(bounding_box(opening.corners))) piece.holes.push_back(opening.corners);
      }
      parts_.slabs.push_back(std::move(piece));
    }
  }

  void add_rooms(const Storey& storey) {
    const auto thickness_m = [](const std::optional<Construction>& slab) {
      return slab ? slab->thickness_m.value_or(0) : 0;
    };
    const double bottom_m = storey.level_m - std::max(thickness_m(storey.floor), kHeightSlackM);
    const auto of = static_cast<std::uint32_t>(parts_.storeys.size() - 1);
    for (const Room& room : storey.rooms) {
      const double top_m = storey.ceiling_m() + std::max(thickness_m(storey.roof_of(room)), kHeightSlackM);
      parts_.rooms.push_back({of, room.corners, bounding_box(room.corners), bottom_m, top_m});
    }
  }

  const Site& site_;
  const PropagationSettings& radio_;
  Doors doors_;
  BuildingParts parts_;
  std::map<std::pair<std::string, double>, Transmission> transmissions_;
  std::set<StatedBand> out_of_range_;
};

template <typename Nouns>
std::vector<Box2> boxes_of(const Nouns& nouns) {
  std::vector<Box2> boxes;
  for (const auto& noun : nouns) boxes.push_back(noun.box);
  return boxes;
}

std::vector<SlabLevel> levels_of(std::span<const Slab> slabs) {
  std::vector<SlabLevel> levels;
  for (std::size_t first = 0, next = 0; first < slabs.size(); first = next) {
    while (next < slabs.size() && slabs[next].z_m == slabs[first].z_m) ++next;
    levels.push_back({slabs[first].z_m, static_cast<std::uint32_t>(first),
                      BoxIndex(boxes_of(slabs.subspan(first, next - first)))});
  }
  return levels;
}

}  // namespace

Building::Building(const Site& site, Doors doors) : doors_(doors), radio_(radio_with_equipment(site)) {
  BuildingBuilder builder(site, radio_, doors);
  parts_ = builder.build();
  std::vector<double> floors_m;
  for (const StoreySpace& space : parts_.storeys) floors_m.push_back(space.floor_m);
  panel_index_ = std::make_shared<const PanelIndex>(parts_.panels, std::move(floors_m));
  obstacle_index_ = std::make_shared<const BoxIndex>(boxes_of(parts_.obstacles));
  room_index_ = std::make_shared<const BoxIndex>(boxes_of(parts_.rooms));
  slab_levels_ = std::make_shared<const std::vector<SlabLevel>>(levels_of(parts_.slabs));
  if (!builder.out_of_range().empty())
    warnings_.push_back(out_of_range_warning(builder.out_of_range(), radio_.frequency_hz));
}

bool Building::indoors(Point3 p) const {
  const Point2 plan = snapped(p.plan());
  thread_local std::vector<std::uint32_t> near;  // asked millions of times: no memory asked for each
  room_index_->near({plan, plan}, near);
  return std::ranges::any_of(near, [&](std::uint32_t position) {
    const RoomSpace& room = parts_.rooms[position];
    return p.z >= room.bottom_m && p.z <= room.top_m && room.box.holds(plan) && contains(room.outline, plan);
  });
}

}  // namespace linkmargin
