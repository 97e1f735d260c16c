#include "linkmargin/yaml/site/building_yaml.hpp"

#include "linkmargin/site/limits.hpp"
#include "linkmargin/yaml/site/fixtures_yaml.hpp"
#include "linkmargin/yaml/site/materials_yaml.hpp"
#include "linkmargin/yaml/site/shapes_yaml.hpp"

namespace linkmargin::yaml {
namespace {

/// Beyond limits::kPlanCoordinateM, a place of its own for each room of each storey.
Polygon2 unread_room(std::size_t storey, std::size_t room) {
  constexpr std::size_t rows_a_storey = 4;  // of limits::kRooms
  constexpr std::size_t columns = 500;
  constexpr double corner_m = 2500;
  constexpr double pitch_m = 1.5;
  const auto column = static_cast<double>(room % columns);
  const std::size_t row_of_storey = room / columns;
  const auto row = static_cast<double>(rows_a_storey * storey + row_of_storey);
  return rectangle({corner_m + pitch_m * column, corner_m + pitch_m * row}, 1, 1);
}

std::optional<Construction> read_construction_if(ObjectReader& reader, std::string_view key, Faults& faults) {
  const auto value = reader.find(key);
  return value ? read_construction(*value, faults) : std::optional<Construction>();
}

std::vector<Room> read_rooms(const Cursor& map, std::size_t storey, Faults& faults) {
  std::vector<Room> rooms;
  for_each_named(map, limits::kRooms, faults, [&](const Cursor& cursor, const Entry& entry) {
    ObjectReader reader(cursor, label("room", entry.key), faults);
    Room room{entry.key, read_shape(reader, limits::kRoomSideM, faults)};
    room.keep_out = reader.flag_or("keep_out", false);
    room.roof = read_construction_if(reader, "roof", faults);
    reader.finish();
    if (room.corners.empty()) room.corners = unread_room(storey, rooms.size());
    rooms.push_back(std::move(room));
  });
  return rooms;
}

Storey read_storey(const Cursor& cursor, std::size_t position, Faults& faults) {
  ObjectReader reader(cursor, item_label("storey", cursor), faults);
  Storey storey;
  storey.name = reader.name("name");
  if (storey.name.empty()) storey.name = std::to_string(position);
  storey.level_m = reader.number("level_m", limits::kLevelM);
  storey.height_m = reader.number("height_m", limits::kStoreyHeightM);
  storey.floor = read_construction_if(reader, "floor", faults);
  storey.roof = read_construction_if(reader, "roof", faults);
  if (const auto rooms = reader.find("rooms")) storey.rooms = read_rooms(*rooms, position, faults);
  storey.outer_wall = read_construction_if(reader, "outer_wall", faults).value_or(Construction{});
  storey.inner_wall = read_construction_if(reader, "inner_wall", faults).value_or(Construction{});
  if (const auto list = reader.find("boundaries")) storey.boundaries = read_boundaries(*list, faults);
  if (const auto list = reader.find("walls")) storey.walls = read_walls(*list, faults);
  if (const auto list = reader.find("openings")) storey.openings = read_openings(*list, faults);
  if (const auto list = reader.find("obstacles")) storey.obstacles = read_obstacles(*list, faults);
  if (const auto list = reader.find("floor_openings")) {
    storey.floor_openings = read_floor_openings(*list, faults);
  }
  reader.finish();
  return storey;
}

}  // namespace

std::vector<Storey> read_storeys(const Cursor& list, Faults& faults) {
  std::vector<Storey> storeys;
  for_each_item(list, limits::kStoreys, faults,
                [&](const Cursor& item) { storeys.push_back(read_storey(item, storeys.size(), faults)); });
  report_repeated_names(list, faults);
  return storeys;
}

}  // namespace linkmargin::yaml
