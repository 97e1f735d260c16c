#include "linkmargin/yaml/short_form/rooms_yaml.hpp"

#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/site/layout/grid_layout.hpp"
#include "linkmargin/site/layout/length_text.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/wall_plan.hpp"
#include "linkmargin/yaml/short_form/room_reader.hpp"

#include <algorithm>
#include <set>

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

class StoreyRooms {
 public:
  StoreyRooms(const RoomSources& sources, std::size_t position, const std::optional<Beneath>& beneath,
              Storey& storey, StoreyMeasures& measures, Faults& faults)
      : sources_(sources),
        position_(position),
        beneath_(beneath),
        storey_(storey),
        measures_(measures),
        faults_(faults) {}

  std::vector<OwnWalls> read() {
    const auto rows = sources_.grid ? read_grid(*sources_.grid) : std::vector<layout::GridRow>();
    if (sources_.rooms) read_map(*sources_.rooms);
    if (sources_.measured_inside) inside_ = walls_as_typed();
    if (grid_sound_) lay_out_grid(rows);
    lay_out_sized();
    for (std::size_t i = 0; i < storey_.rooms.size(); ++i) {
      if (!storey_.rooms[i].corners.empty()) continue;
      storey_.rooms[i].corners = unread_room(position_, i);
      measures_.unplaced.insert(storey_.rooms[i].name);
    }
    if (inside_) note_insets();
    return std::move(walls_);
  }

 private:
  /// How thick the storey's walls are, and where they differ.
  layout::MeasuredInside walls_as_typed() const {
    const auto thickness_m = [](const Construction& made) {
      return made.thickness_m.value_or(layout::kUsualWallM);
    };
    layout::MeasuredInside inside{thickness_m(storey_.outer_wall), thickness_m(storey_.inner_wall)};
    for (const OwnWalls& own : walls_) {
      layout::OwnThickness& of_room = inside.own[own.room];
      if (own.outer) of_room.outer_m = thickness_m(*own.outer);
      if (own.inner) of_room.inner_m = thickness_m(*own.inner);
    }
    for (const Boundary& boundary : storey_.boundaries) {
      inside.between_m.emplace(std::minmax(boundary.first, boundary.second),
                               thickness_m(boundary.construction));
    }
    return inside;
  }

  /// The rows, whose rooms join those of the storey without a place as yet.
  std::vector<layout::GridRow> read_grid(const Cursor& list) {
    std::vector<layout::GridRow> rows;
    const std::size_t before = faults_.count();
    std::set<std::string> names;
    for_each_item(list, limits::kGridRows, faults_, [&](const Cursor& row) {
      rows.push_back(read_row(row));
      for (const layout::GridCell& cell : rows.back().cells) {
        if (cell.room != kOutside && names.insert(cell.room).second)
          storey_.rooms.push_back({.name = cell.room, .corners = {}});
      }
    });
    grid_sound_ = faults_.count() == before;
    if (!grid_sound_) faults_.doubt(list.pointer().substr(0, list.pointer().rfind('/')) + "/rooms");
    return rows;
  }

  void lay_out_grid(const std::vector<layout::GridRow>& rows) {
    layout::GridLayout grid = layout::lay_out_grid(rows, inside_);
    storey_.closed_sizes = std::move(grid.closed);
    const Cursor& list = *sources_.grid;
    for (layout::GridRoom& room : grid.rooms) {
      if (room.corners.empty()) {
        faults_.add(list.node().items[room.row].mark, DiagnosticCode::impossible, room_path(list, room.name),
                    "the cells of " + quoted(room.name) +
                        " make no one outline: they must touch by an edge, "
                        "without a court between them");
      }
      std::ranges::find(storey_.rooms, room.name, &Room::name)->corners = std::move(room.corners);
    }
  }

  layout::GridRow read_row(const Cursor& row) {
    layout::GridRow read;
    if (!expect(row, Node::Kind::mapping, "a row such as {depth_m: 3.2, hall: 2.2}", faults_)) return read;
    report_repeats(row, "name", faults_);
    const Node* depth = find(row.node(), "depth_m");
    if (depth == nullptr) {
      faults_.add(row.mark(), DiagnosticCode::missing_key, row.pointer_to("depth_m"),
                  "missing key 'depth_m' in this row of the grid");
    } else if (const auto m =
                   read_number(Cursor::at_key(row, "depth_m", *depth), limits::kRoomSideM, faults_)) {
      read.depth_m = *m;
    }
    for (const Entry& entry : row.node().entries) {
      if (entry.key == "depth_m" || !check_entry_name(row, entry, faults_)) continue;
      const auto width_m =
          read_length(Cursor::at_key(row, entry.key, entry.value), limits::kRoomSideM, faults_);
      if (width_m) read.cells.push_back({entry.key, *width_m});
    }
    (void)expect_count(row, row.node().entries.size() - (depth == nullptr ? 0 : 1), limits::kGridCells,
                       faults_);
    return read;
  }

  static std::string room_path(const Cursor& beside, const std::string& room) {
    const std::string list = beside.pointer();
    return list.substr(0, list.rfind('/')) + "/rooms/" + pointer_token(room);
  }

  void read_map(const Cursor& map) {
    for_each_named(map, limits::kRooms, faults_, [&](const Cursor& cursor, const Entry& entry) {
      const auto known = std::ranges::find(storey_.rooms, entry.key, &Room::name);
      const bool in_grid = sources_.grid && known != storey_.rooms.end();
      TypedRoom typed = read_typed_room(cursor, entry.key, in_grid, faults_);
      if (typed.walls.outer || typed.walls.inner) walls_.push_back(std::move(typed.walls));
      if (typed.ceiling) measures_.ceilings.insert_or_assign(entry.key, std::move(*typed.ceiling));
      if (in_grid) {
        typed.room.corners = std::move(known->corners);
        *known = std::move(typed.room);
        return;
      }
      note_by_house(typed.sized);
      if (typed.by_size) {
        sized_.push_back(std::move(typed.sized));
        places_.push_back(storey_.rooms.size());
      }
      storey_.rooms.push_back(std::move(typed.room));
    });
  }

  /// "house" is no room that is called so; rooms of this name are told below.
  void note_by_house(const layout::SizedRoom& room) {
    const auto by_house = [](const layout::Neighbour& one) { return one.room == layout::kHouse; };
    if (std::ranges::any_of(room.neighbours, by_house)) measures_.beside_house.insert(room.name);
  }

  void lay_out_sized() {
    if (sized_.empty()) return;
    std::vector<Room> known;
    for (std::size_t i = 0; i < storey_.rooms.size(); ++i) {
      if (!storey_.rooms[i].corners.empty()) known.push_back(storey_.rooms[i]);
    }
    layout::Surroundings around{.known = known,
                                .beneath = {},
                                .wall_m = storey_.inner_wall.thickness_m.value_or(layout::kUsualWallM),
                                .inside = inside_,
                                .unit = sources_.rooms->node().length_unit};
    std::vector<layout::Inset> beneath_insets;
    if (beneath_) {
      around.beneath = beneath_->storey.rooms;
      if (inside_) beneath_insets = beneath_->measures.insets_of(beneath_->storey.rooms);
      around.beneath_insets = beneath_insets;
    }
    drop_unread();
    layout::RoomLayout found = layout::lay_out(sized_, around);
    for (const layout::LayoutFault& fault : found.faults) report(fault);
    for (std::size_t i = 0; i < sized_.size(); ++i) {
      if (found.corners[i].empty()) {
        faults_.doubt(sources_.rooms->pointer_to(sized_[i].name));
      } else {
        storey_.rooms[places_[i]].corners = std::move(found.corners[i]);
        measures_.insets[sized_[i].name] = found.insets[i];
      }
    }
    storey_.closed_sizes.insert(storey_.closed_sizes.end(), found.closed.begin(), found.closed.end());
  }

  /// Rooms whose own keys could not be read have no place, and no more is said of them.
  void drop_unread() {
    std::vector<layout::SizedRoom> sized;
    std::vector<std::size_t> places;
    for (std::size_t i = 0; i < sized_.size(); ++i) {
      if (is_unread(sized_[i])) {
        faults_.doubt(sources_.rooms->pointer_to(sized_[i].name));
        lost_.insert(sized_[i].name);
      } else {
        sized.push_back(std::move(sized_[i]));
        places.push_back(places_[i]);
      }
    }
    sized_ = std::move(sized);
    places_ = std::move(places);
  }

  bool is_unread(const layout::SizedRoom& room) const {
    const Node* typed = find(sources_.rooms->node(), room.name);
    std::size_t relations = 0;
    for (const auto& word : layout::kRelationWords) relations += find(*typed, word.word) != nullptr ? 1U : 0U;
    const bool size_lost = find(*typed, "size_m") != nullptr && !room.size;
    const bool over_lost = find(*typed, "over") != nullptr && room.over.empty();
    const bool shapeless = !room.size && room.over.empty();
    return size_lost || over_lost || shapeless || relations > room.neighbours.size();
  }

  /// The name nearest to an unknown one among the rooms that were left out of the layout.
  std::string lost_hint(const layout::LayoutFault& fault) const {
    const std::string_view before = "unknown room '";
    if (!fault.message.starts_with(before) || !fault.message.ends_with('\'')) return {};
    const std::string name = fault.message.substr(before.size(), fault.message.size() - before.size() - 1);
    return nearest_hint(name, std::vector<std::string>(lost_.begin(), lost_.end()));
  }

  Mark mark_of(const layout::Statement& at) const {
    const Node* room = find(sources_.rooms->node(), sized_[at.room].name);
    const Node* key = at.key.empty() ? nullptr : find(*room, at.key);
    return key == nullptr ? room->mark : key->mark;
  }

  void report(const layout::LayoutFault& fault) {
    const std::string path = sources_.rooms->pointer_to(sized_[fault.at.room].name);
    const bool waits_for_lost = fault.code == DiagnosticCode::unknown_name &&
                                std::ranges::any_of(lost_, [&](const std::string& name) {
                                  return fault.message == "unknown room " + quoted(name);
                                });
    if (waits_for_lost) return faults_.doubt(path);
    const std::string key = fault.at.key.empty() ? std::string() : std::string(fault.at.key) + ": ";
    std::string hint = fault.hint;
    if (fault.code == DiagnosticCode::unknown_name && hint.empty() && !faults_.full())
      hint = lost_hint(fault);
    const Mark here = mark_of(fault.at);
    if (fault.other && mark_of(*fault.other).line != here.line)
      hint = "the other statement is on line " + std::to_string(mark_of(*fault.other).line);
    faults_.add(here, fault.code, fault.at.key.empty() ? path : path + "/" + std::string(fault.at.key),
                key + fault.message, std::move(hint));
  }

  void note_insets() {
    const auto insets = layout::half_walls(storey_.rooms, *inside_, inside_->inner_m);
    for (std::size_t i = 0; i < insets.size(); ++i) {
      Room& room = storey_.rooms[i];
      const layout::Inset& inset = measures_.insets.emplace(room.name, insets[i]).first->second;
      const Box2 box = bounding_box(layout::as_typed(room.corners));
      room.clear_m = Point2{layout::rounded_m(box.max.x - box.min.x - inset.left_m - inset.right_m),
                            layout::rounded_m(box.max.y - box.min.y - inset.bottom_m - inset.top_m)};
    }
  }

  const RoomSources& sources_;
  std::size_t position_;
  const std::optional<Beneath>& beneath_;
  Storey& storey_;
  StoreyMeasures& measures_;
  Faults& faults_;
  std::optional<layout::MeasuredInside> inside_;
  std::vector<layout::SizedRoom> sized_;
  std::vector<std::size_t> places_;  // of each in the storey's rooms
  std::set<std::string> lost_;
  bool grid_sound_ = false;
  std::vector<OwnWalls> walls_;
};

const OwnWalls* walls_of(const std::vector<OwnWalls>& own, const std::string& room) {
  const auto found = std::ranges::find(own, room, &OwnWalls::room);
  return found == own.end() ? nullptr : &*found;
}

/// Boundary::own_key
std::string own_key(const OwnWalls& of, std::string_view key) {
  return "/rooms/" + pointer_token(of.room) + "/" + std::string(key);
}

}  // namespace

bool read_measured_inside(const Cursor& word, Faults& faults) {
  const auto name = read_name(word, faults);
  if (!name || *name == "middle") return false;
  if (*name == "inside") return true;
  add_fault(word, DiagnosticCode::unknown_word, "expected middle or inside, found " + quoted(*name, '"'), "",
            faults);
  return false;
}

std::vector<OwnWalls> read_rooms(const RoomSources& sources, std::size_t position,
                                 const std::optional<Beneath>& beneath, Storey& storey,
                                 StoreyMeasures& measures, Faults& faults) {
  return StoreyRooms(sources, position, beneath, storey, measures, faults).read();
}

void add_own_walls(const std::vector<OwnWalls>& own, const std::string& storey_path, Storey& storey,
                   Faults& faults) {
  if (own.empty()) return;
  std::set<std::pair<std::string, std::string>> seen;
  for (const Boundary& boundary : storey.boundaries)
    seen.insert(std::minmax(boundary.first, boundary.second));
  for (const WallPiece& piece : wall_plan(storey)) {
    if (!piece.traced.empty() || !seen.insert(std::minmax(piece.first, piece.second)).second) continue;
    const OwnWalls* first = walls_of(own, piece.first);
    const OwnWalls* second = walls_of(own, piece.second);
    std::optional<Construction> made;
    std::string key;
    if (piece.second == kOutside) {
      if (first != nullptr) made = first->outer;
      if (made) key = own_key(*first, first->outer_key);
    } else {
      const auto of_first = first == nullptr ? std::nullopt : first->inner;
      const auto of_second = second == nullptr ? std::nullopt : second->inner;
      made = of_first ? of_first : of_second;
      const OwnWalls* by = of_first ? first : second;
      if (made) key = own_key(*by, by->inner_key);
      if (of_first && of_second && *of_first != *of_second) {
        faults.add(second->mark, DiagnosticCode::impossible,
                   storey_path + "/rooms/" + pointer_token(piece.second) + "/inner_wall",
                   "inner_wall: " + quoted(piece.second) + " and " + quoted(piece.first) +
                       " share a wall, and each says that it is of something else: " +
                       quoted(of_second->material) + " and " + quoted(of_first->material),
                   "the other statement is on line " + std::to_string(first->mark.line) +
                       "; a boundary between the two settles it");
      }
    }
    if (made) storey.boundaries.push_back({piece.first, piece.second, *made, key});
  }
}

}  // namespace linkmargin::yaml
