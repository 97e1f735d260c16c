#include "linkmargin/yaml/site/fixtures_yaml.hpp"

#include "linkmargin/site/limits.hpp"
#include "linkmargin/yaml/site/materials_yaml.hpp"
#include "linkmargin/yaml/site/shapes_yaml.hpp"

#include <tuple>
#include <unordered_map>
#include <utility>

namespace linkmargin::yaml {
namespace {

/// The two names of `between`, `outside` last; both empty when they cannot be read.
std::pair<std::string, std::string> read_between(const Cursor& pair, Faults& faults) {
  if (!expect(pair, Node::Kind::sequence, "[room, room] or [room, outside]", faults)) return {};
  const std::vector<Node>& items = pair.node().items;
  if (items.size() != 2) {
    add_fault(pair, "expected two names, found " + std::to_string(items.size()), "", faults);
    return {};
  }
  std::pair<std::string, std::string> names{
      read_name(Cursor::at_item(pair, 0, items[0]), faults).value_or(""),
      read_name(Cursor::at_item(pair, 1, items[1]), faults).value_or("")};
  if (names.first.empty() || names.second.empty()) return {};
  if (names.first == kOutside) names.first.swap(names.second);
  return names;
}

Opening read_opening(const Cursor& item, Faults& faults) {
  ObjectReader reader(item, item_label("opening", item), faults);
  Opening opening;
  opening.name = reader.name("name");
  reader.exactly_one_of({"between", "wall"});
  if (const auto pair = reader.find("between")) {
    std::tie(opening.first, opening.second) = read_between(*pair, faults);
  }
  const auto wall = reader.name_if("wall");
  if (wall && opening.first.empty()) opening.wall = *wall;
  opening.at = read_point(reader, "at_m", faults);
  opening.width_m = reader.number("width_m", limits::kOpeningWidthM);
  opening.sill_m = reader.number_or("sill_m", limits::kSillM, 0);
  opening.height_m = reader.number("height_m", limits::kHeightM);
  opening.leaf.material = reader.name("leaf");
  opening.leaf.thickness_m = reader.number_if("leaf_thickness_m", limits::kThicknessM);
  opening.opens = reader.flag_or("opens", true);
  reader.finish();
  return opening;
}

TracedWall read_wall(const Cursor& item, Faults& faults) {
  ObjectReader reader(item, item_label("wall", item), faults);
  TracedWall wall;
  wall.name = reader.name("name");
  wall.line.a = read_point(reader, "from_m", faults);
  wall.line.b = read_point(reader, "to_m", faults);
  wall.construction = read_construction(reader);
  wall.height_m = reader.number_if("height_m", limits::kHeightM);
  reader.finish();
  return wall;
}

Obstacle read_obstacle(const Cursor& item, Faults& faults) {
  ObjectReader reader(item, item_label("obstacle", item), faults);
  Obstacle obstacle;
  obstacle.name = reader.name("name");
  obstacle.corners = read_shape(reader, limits::kObstacleSideM, faults);
  obstacle.base_m = reader.number_or("base_m", limits::kSillM, 0);
  obstacle.height_m = reader.number("height_m", limits::kHeightM);
  obstacle.construction = read_construction(reader);
  reader.finish();
  return obstacle;
}

FloorOpening read_floor_opening(const Cursor& item, Faults& faults) {
  ObjectReader reader(item, item_label("floor opening", item), faults);
  FloorOpening opening;
  opening.name = reader.name("name");
  opening.corners = read_shape(reader, limits::kFloorOpeningSideM, faults);
  reader.finish();
  return opening;
}

/// A list of things that have names of their own.
template <typename Fixture>
std::vector<Fixture> read_named(const Cursor& list, Faults& faults, Fixture (*read)(const Cursor&, Faults&)) {
  std::vector<Fixture> fixtures;
  for_each_item(list, limits::kFixtures, faults,
                [&](const Cursor& item) { fixtures.push_back(read(item, faults)); });
  report_repeated_names(list, faults);
  return fixtures;
}

}  // namespace

std::vector<Boundary> read_boundaries(const Cursor& list, Faults& faults) {
  std::vector<Boundary> boundaries;
  for_each_item(list, limits::kFixtures, faults, [&](const Cursor& item) {
    ObjectReader reader(item, item_label("boundary", item), faults);
    Boundary boundary;
    if (const auto pair = reader.need("between")) {
      std::tie(boundary.first, boundary.second) = read_between(*pair, faults);
    }
    boundary.construction = read_construction(reader);
    reader.finish();
    boundaries.push_back(std::move(boundary));
  });
  return boundaries;
}

std::vector<TracedWall> read_walls(const Cursor& list, Faults& faults) {
  return read_named(list, faults, read_wall);
}

std::vector<Opening> read_openings(const Cursor& list, Faults& faults) {
  return read_named(list, faults, read_opening);
}

std::vector<Obstacle> read_obstacles(const Cursor& list, Faults& faults) {
  return read_named(list, faults, read_obstacle);
}

std::vector<FloorOpening> read_floor_openings(const Cursor& list, Faults& faults) {
  return read_named(list, faults, read_floor_opening);
}

void report_repeated_names(const Cursor& list, Faults& faults) {
  std::unordered_map<std::string_view, Mark> firsts;
  for (std::size_t i = 0; i < list.node().items.size(); ++i) {
    const Node* name = find(list.node().items[i], "name");
    if (name == nullptr || name->text.empty()) continue;
    const auto [first, fresh] = firsts.emplace(name->text, name->mark);
    if (fresh) continue;
    faults.add_stray(name->mark, list.pointer_to(std::to_string(i)) + "/name",
                     "duplicate name " + quoted(name->text),
                     "it stands on line " + std::to_string(first->second.line) + " already");
  }
}

}  // namespace linkmargin::yaml
