#include "linkmargin/yaml/site/building_yaml.hpp"

#include "linkmargin/site/limits.hpp"
#include "linkmargin/yaml/site/field_reader.hpp"
#include "linkmargin/yaml/site/fixtures_yaml.hpp"

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

std::vector<Room> read_rooms(const Cursor& map, std::size_t storey, Faults& faults) {
  std::vector<Room> rooms;
  for_each_named(map, limits::kRooms, faults, [&](const Cursor& cursor, const Entry& entry) {
    Room room = read_noun(cursor, label("room", entry.key), faults, Room{entry.key, {}});
    if (room.corners.empty()) room.corners = unread_room(storey, rooms.size());
    rooms.push_back(std::move(room));
  });
  return rooms;
}

Storey read_storey(const Cursor& cursor, std::size_t position, Faults& faults) {
  ObjectReader reader(cursor, item_label("storey", cursor), faults);
  Storey storey;
  read_fields(reader, storey, {faults}, [&](std::string_view key, const Cursor& value) {
    if (key == "rooms") storey.rooms = read_rooms(value, position, faults);
    if (key == "boundaries") storey.boundaries = read_boundaries(value, faults);
    if (key == "walls") storey.walls = read_walls(value, faults);
    if (key == "openings") storey.openings = read_openings(value, faults);
    if (key == "obstacles") storey.obstacles = read_obstacles(value, faults);
    if (key == "floor_openings") storey.floor_openings = read_floor_openings(value, faults);
  });
  if (storey.name.empty()) storey.name = std::to_string(position);
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
