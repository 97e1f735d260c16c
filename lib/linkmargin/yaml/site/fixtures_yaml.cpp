#include "linkmargin/yaml/site/fixtures_yaml.hpp"

#include "linkmargin/site/limits.hpp"
#include "linkmargin/yaml/fields/field_reader.hpp"
#include "linkmargin/yaml/short_form/opening_places.hpp"

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
    add_fault(pair, DiagnosticCode::wrong_count, "expected two names, found " + std::to_string(items.size()),
              "", faults);
    return {};
  }
  std::pair<std::string, std::string> names{
      read_name(Cursor::at_item(pair, 0, items[0]), faults).value_or(""),
      read_name(Cursor::at_item(pair, 1, items[1]), faults).value_or("")};
  if (names.first.empty() || names.second.empty()) return {};
  if (names.first == kOutside) names.first.swap(names.second);
  return names;
}

/// The rooms of `between`, where the noun has some.
template <typename Fixture>
void read_item(ObjectReader& reader, Fixture& fixture, Faults& faults) {
  read_fields(reader, fixture, {faults}, [&](std::string_view, const Cursor& pair) {
    if constexpr (requires { fixture.second; })
      std::tie(fixture.first, fixture.second) = read_between(pair, faults);
  });
  reader.finish();
}

template <typename Fixture>
std::vector<Fixture> read_list(const Cursor& list, std::string_view kind, Faults& faults) {
  std::vector<Fixture> fixtures;
  for_each_item(list, limits::kFixtures, faults, [&](const Cursor& item) {
    ObjectReader reader(item, item_label(kind, item), faults);
    read_item(reader, fixtures.emplace_back(), faults);
  });
  return fixtures;
}

/// A list of things that have names of their own.
template <typename Fixture>
std::vector<Fixture> read_named(const Cursor& list, std::string_view kind, Faults& faults) {
  auto fixtures = read_list<Fixture>(list, kind, faults);
  report_repeated_names(list, faults);
  return fixtures;
}

}  // namespace

std::vector<Boundary> read_boundaries(const Cursor& list, Faults& faults) {
  return read_list<Boundary>(list, "boundary", faults);
}

std::vector<TracedWall> read_walls(const Cursor& list, Faults& faults) {
  return read_named<TracedWall>(list, "wall", faults);
}

std::vector<Opening> read_openings(const Cursor& list, const Storey& storey, StoreyMeasures& measures,
                                   Faults& faults) {
  measures.plan = wall_plan(storey);
  std::vector<Opening> openings;
  for_each_item(list, limits::kFixtures, faults, [&](const Cursor& item) {
    ObjectReader reader(item, item_label("opening", item), faults);
    Opening& opening = openings.emplace_back();
    OpeningKeys keys;
    read_fields(reader, opening, {faults}, [&](std::string_view key, const Cursor& value) {
      if (key == "between") std::tie(opening.first, opening.second) = read_between(value, faults);
      keys.take(key, value);
    });
    complete_opening(item, keys, storey, measures, reader, opening, faults);
    if (!opening.first.empty()) opening.wall.clear();  // both given: a fault
    reader.finish();
  });
  report_repeated_names(list, faults);
  return openings;
}

std::vector<Obstacle> read_obstacles(const Cursor& list, Faults& faults) {
  return read_named<Obstacle>(list, "obstacle", faults);
}

std::vector<FloorOpening> read_floor_openings(const Cursor& list, Faults& faults) {
  return read_named<FloorOpening>(list, "floor opening", faults);
}

void report_repeated_names(const Cursor& list, Faults& faults) {
  std::unordered_map<std::string_view, Mark> firsts;
  for (std::size_t i = 0; i < list.node().items.size(); ++i) {
    const Node* name = find(list.node().items[i], "name");
    if (name == nullptr || name->text.empty()) continue;
    const auto [first, fresh] = firsts.emplace(name->text, name->mark);
    if (fresh) continue;
    faults.add_stray(name->mark, DiagnosticCode::given_twice, list.pointer_to(std::to_string(i)) + "/name",
                     "duplicate name " + quoted(name->text),
                     "it stands on line " + std::to_string(first->second.line) + " already");
  }
}

}  // namespace linkmargin::yaml
