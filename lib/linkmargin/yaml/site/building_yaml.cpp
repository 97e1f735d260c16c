#include "linkmargin/yaml/site/building_yaml.hpp"

#include "linkmargin/site/layout/length_text.hpp"
#include "linkmargin/site/layout/room_cover.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/yaml/fields/field_reader.hpp"
#include "linkmargin/yaml/short_form/rooms_yaml.hpp"
#include "linkmargin/yaml/short_form/usual_tables.hpp"
#include "linkmargin/yaml/site/fixtures_yaml.hpp"

#include <algorithm>
#include <map>

namespace linkmargin::yaml {
namespace {

void fill(Construction& made, const Construction& usual) {
  if (made.material.empty()) made = usual;
}

/// What the storey does not say of its walls and slabs.
void fill_constructions(Storey& storey, const layout::HouseConstruction* usual, bool lowest) {
  if (usual == nullptr) return;
  const layout::HouseConstruction& house = *usual;
  fill(storey.outer_wall, house.outer_wall);
  fill(storey.inner_wall, house.inner_wall);
  if (!storey.floor) storey.floor = lowest ? house.ground_floor : house.floor;
  if (!storey.roof) storey.roof = house.roof;
}

class StoreyReader {
 public:
  StoreyReader(const Cursor& cursor, std::size_t position, const HouseDefaults& house,
               TypedBuilding& building, Faults& faults)
      : cursor_(cursor), position_(position), house_(house), building_(building), faults_(faults) {}

  void read() {
    ObjectReader reader(cursor_, item_label("storey", cursor_), faults_);
    Storey storey;
    read_fields(reader, storey, {faults_},
                [this](std::string_view key, const Cursor& value) { parts_.emplace(key, value); });
    if (storey.name.empty()) storey.name = std::to_string(position_);
    reader.finish();
    const auto own = part("construction");
    const layout::HouseConstruction* construction = own ? read_house(*own, faults_) : nullptr;
    if (part("rooms") || part("grid")) {
      const bool lowest = position_ == 0;
      fill_constructions(storey, construction, lowest);
      fill(storey.outer_wall, house_.outer_wall);
      fill(storey.inner_wall, house_.inner_wall);
      fill_constructions(storey, house_.construction, lowest);
    }
    StoreyMeasures measures;
    read_parts(storey, measures);
    building_.storeys.push_back(std::move(storey));
    building_.measures.push_back(std::move(measures));
  }

 private:
  std::optional<Cursor> part(std::string_view key) const {
    const auto found = parts_.find(key);
    return found == parts_.end() ? std::nullopt : std::optional(found->second);
  }

  /// Rooms before what stands in their walls.
  void read_parts(Storey& storey, StoreyMeasures& measures) {
    std::optional<Beneath> beneath;
    if (position_ > 0) beneath.emplace(Beneath{building_.storeys.back(), building_.measures.back()});
    const auto measured = part("measured");
    const RoomSources sources{part("rooms"), part("grid"),
                              measured ? read_measured_inside(*measured, faults_) : house_.measured_inside};
    if (const auto list = part("boundaries")) storey.boundaries = read_boundaries(*list, faults_);
    const auto own_walls = read_rooms(sources, position_, beneath, storey, measures, faults_);
    add_own_walls(own_walls, cursor_.pointer(), storey, faults_);
    if (const auto list = part("walls")) storey.walls = read_walls(*list, faults_);
    if (const auto list = part("openings")) storey.openings = read_openings(*list, storey, measures, faults_);
    if (const auto list = part("obstacles")) storey.obstacles = read_obstacles(*list, faults_);
    if (const auto list = part("floor_openings")) storey.floor_openings = read_floor_openings(*list, faults_);
  }

  const Cursor& cursor_;
  std::size_t position_;
  const HouseDefaults& house_;
  TypedBuilding& building_;
  Faults& faults_;
  std::map<std::string_view, Cursor> parts_;
};

double slab_m(const Storey& storey) {
  if (!storey.floor) return layout::kUsualSlabM;
  const double unstated_m = storey.floor->material == kNoMaterial ? 0 : layout::kUsualSlabM;
  return storey.floor->thickness_m.value_or(unstated_m);
}

/// The levels that were not typed.
void derive_levels(std::vector<Storey>& storeys, const std::vector<bool>& typed) {
  const auto first = std::ranges::find(typed, true);
  if (first == typed.end() && !storeys.empty()) storeys.front().level_m = 0;
  const auto anchor = first == typed.end() ? 0U : static_cast<std::size_t>(first - typed.begin());
  for (std::size_t i = anchor; i-- > 0;)
    storeys[i].level_m =
        layout::rounded_m(storeys[i + 1].level_m - slab_m(storeys[i + 1]) - storeys[i].height_m);
  for (std::size_t i = anchor + 1; i < storeys.size(); ++i) {
    if (!typed[i]) storeys[i].level_m = layout::rounded_m(storeys[i - 1].ceiling_m() + slab_m(storeys[i]));
  }
}

/// A ceiling is the roof of its room, and the floor of the rooms that lie on it and say none.
void apply_ceilings(TypedBuilding& building, Faults& faults) {
  for (std::size_t i = 0; i < building.storeys.size(); ++i) {
    Storey& storey = building.storeys[i];
    Storey* upper = i + 1 < building.storeys.size() ? &building.storeys[i + 1] : nullptr;
    for (Room& room : storey.rooms) {
      const auto own = building.measures[i].ceilings.find(room.name);
      if (own == building.measures[i].ceilings.end()) continue;
      if (!room.roof) room.roof = own->second.made;
      if (upper == nullptr || building.measures[i].unplaced.contains(room.name)) continue;
      for (Room& above : upper->rooms) {
        if (above.floor || building.measures[i + 1].unplaced.contains(above.name)) continue;
        const layout::Cover cover = layout::cover_of(room.corners, above.corners);
        if (cover == layout::Cover::whole) above.floor = own->second.made;
        if (cover == layout::Cover::part) {
          faults.add(
              own->second.mark, DiagnosticCode::impossible,
              "/storeys/" + pointer_token(storey.name) + "/rooms/" + pointer_token(room.name) + "/ceiling",
              "ceiling: " + quoted(above.name) + " lies over " + quoted(room.name) + " in part only",
              "say the floor of " + quoted(above.name) + " at " + quoted(above.name));
        }
      }
    }
  }
}

}  // namespace

TypedBuilding read_storeys(const Cursor& list, const HouseDefaults& house, Faults& faults) {
  TypedBuilding building;
  std::vector<bool> typed_levels;
  for_each_item(list, limits::kStoreys, faults, [&](const Cursor& item) {
    typed_levels.push_back(find(item.node(), "level_m") != nullptr);
    StoreyReader(item, building.storeys.size(), house, building, faults).read();
  });
  derive_levels(building.storeys, typed_levels);
  apply_ceilings(building, faults);
  report_repeated_names(list, faults);
  return building;
}

}  // namespace linkmargin::yaml
