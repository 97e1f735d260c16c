#include "linkmargin/yaml/short_form/rooms_yaml.hpp"

#include "linkmargin/base/joined.hpp"
#include "linkmargin/site/layout/grid_layout.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/wall_plan.hpp"
#include "linkmargin/yaml/fields/field_reader.hpp"

#include <algorithm>
#include <array>
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

constexpr std::array<std::string_view, 3> kShapes{"size_m", "rect_m", "corners_m"};
constexpr std::array<std::string_view, 4> kAlignments{"flush", "shift_m", "gap_m", "front_m"};

/// [a, b], both in a range.
std::optional<Point2> read_pair(const Cursor& list, std::string_view form, const Range& range,
                                Faults& faults) {
  if (!expect(list, Node::Kind::sequence, form, faults)) return {};
  const std::vector<Node>& items = list.node().items;
  if (items.size() != 2) {
    add_fault(list, DiagnosticCode::wrong_count,
              "expected " + std::string(form) + ", found " + std::to_string(items.size()) +
                  (items.size() == 1 ? " value" : " values"),
              "", faults);
    return {};
  }
  const auto first = read_number(Cursor::at_item(list, 0, items[0]), range, faults);
  const auto second = read_number(Cursor::at_item(list, 1, items[1]), range, faults);
  if (!first || !second) return {};
  return Point2{*first, *second};
}

std::vector<std::string> read_names(const Cursor& cursor, Faults& faults) {
  std::vector<std::string> names;
  const auto take = [&](const Cursor& one) {
    if (const auto name = read_name(one, faults)) names.push_back(*name);
  };
  if (cursor.node().kind == Node::Kind::sequence) {
    for_each_item(cursor, limits::kRoomsBelow, faults, take);
  } else {
    take(cursor);
  }
  return names;
}

/// "left", or "top left" of a room over another.
void read_flush(const Cursor& cursor, layout::SizedRoom& room, Faults& faults) {
  const auto text = read_name(cursor, faults);
  if (!text) return;
  std::size_t begin = 0;
  bool known = true;
  while (known && begin < text->size()) {
    const std::size_t end = std::min(text->find(' ', begin), text->size());
    const std::string_view word = std::string_view(*text).substr(begin, end - begin);
    known = false;
    for (const auto& side : layout::kSideWords) {
      if (side.word != word) continue;
      auto& flush = layout::is_upright(side.meaning) ? room.flush_x : room.flush_y;
      known = !flush;
      flush = side.meaning;
    }
    begin = end + 1;
  }
  if (known) return;
  add_fault(
      cursor, DiagnosticCode::unknown_word,
      "expected left, right, bottom or top, or two of them such as top left, found " + quoted(*text, '"'), "",
      faults);
}

/// What one room of the map `rooms` says.
struct TypedRoom {
  Room room;
  layout::SizedRoom sized;
  bool by_size = false;
  OwnWalls walls;
};

class RoomReader {
 public:
  RoomReader(const Cursor& cursor, const std::string& name, bool in_grid, Faults& faults)
      : cursor_(cursor), in_grid_(in_grid), faults_(faults), reader_(cursor, label("room", name), faults) {
    typed_.room.name = typed_.sized.name = typed_.walls.room = name;
  }

  TypedRoom read() {
    read_fields(reader_, typed_.room, {faults_},
                [this](std::string_view key, const Cursor& value) { take(key, value); });
    if (cursor_.node().kind == Node::Kind::mapping) check();
    reader_.finish();
    return std::move(typed_);
  }

 private:
  bool given(std::string_view key) const { return find(cursor_.node(), key) != nullptr; }

  void take(std::string_view key, const Cursor& value) {
    layout::SizedRoom& sized = typed_.sized;
    for (const auto& word : layout::kRelationWords) {
      if (word.word != key) continue;
      if (const auto name = read_name(value, faults_)) sized.neighbours.push_back({word.meaning, *name});
    }
    if (key == "size_m") sized.size = read_pair(value, "[width, depth]", limits::kRoomSideM, faults_);
    if (key == "over") sized.over = read_names(value, faults_);
    if (key == "flush") read_flush(value, sized, faults_);
    if (key == "shift_m") take_shift(value);
    if (key == "gap_m") sized.gap_m = read_number(value, limits::kGapM, faults_).value_or(0);
    if (key == "front_m") sized.front_m = read_number(value, limits::kPlanCoordinateM, faults_);
    if (key == "outer_wall") typed_.walls.outer = read_construction(value, faults_);
    if (key == "inner_wall") {
      typed_.walls.inner = read_construction(value, faults_);
      typed_.walls.mark = value.mark();
    }
  }

  void take_shift(const Cursor& value) {
    if (given("over")) {
      typed_.sized.shift_over = read_pair(value, "[to the right, up]", limits::kPlanCoordinateM, faults_);
    } else {
      typed_.sized.shift_m = read_number(value, limits::kPlanCoordinateM, faults_);
    }
  }

  void check() {
    reader_.at_most_one_of({kShapes.begin(), kShapes.end()});
    const bool by_coordinates = given("rect_m") || given("corners_m");
    const bool sized = given("size_m");
    const std::string_view relation = first_relation();
    if (in_grid_) {
      for (const std::string_view key : kShapes) clash(key, "the grid gives the room its place");
      clash(relation, "the grid gives the room its place");
    } else if (by_coordinates) {
      clash(relation, "goes with size_m: coordinates give the room its place");
    } else if (!sized && (relation.empty() || relation != "over")) {
      reader_.missing({kShapes.begin(), kShapes.end()});
    }
    check_alignments(relation);
    typed_.by_size = !in_grid_ && !by_coordinates;
  }

  void clash(std::string_view key, const std::string& why) {
    if (!key.empty() && given(key)) reader_.fault(DiagnosticCode::conflicting_keys, key, why);
  }

  std::string_view first_relation() const {
    for (const auto& word : layout::kRelationWords) {
      if (given(word.word)) return word.word;
    }
    return given("over") ? "over" : std::string_view();
  }

  void check_alignments(std::string_view relation) {
    if (relation.empty()) {
      for (const std::string_view key : kAlignments) clash(key, "goes with a neighbour, such as left_of");
      return;
    }
    const auto& neighbours = typed_.sized.neighbours;
    const bool beside = given("left_of") || given("right_of");
    if (!beside) clash("front_m", "goes with left_of or right_of");
    if (beside && given("front_m")) {
      clash("flush", "stands beside front_m, which says it");
      clash("shift_m", "stands beside front_m, which says it");
    }
    if (neighbours.size() != 1) clash("gap_m", "goes with one neighbour on the same storey");
    if (!given("size_m") && given("over")) {
      for (const std::string_view key : kAlignments) clash(key, "goes with size_m");
      if (!neighbours.empty()) reader_.missing({"size_m"});
    }
  }

  const Cursor& cursor_;
  bool in_grid_;
  Faults& faults_;
  ObjectReader reader_;
  TypedRoom typed_;
};

class StoreyRooms {
 public:
  StoreyRooms(const RoomSources& sources, std::size_t position, const Storey* beneath, Storey& storey,
              StoreyMeasures& measures, Faults& faults)
      : sources_(sources),
        position_(position),
        beneath_(beneath),
        storey_(storey),
        measures_(measures),
        faults_(faults) {}

  std::vector<OwnWalls> read() {
    read_measured();
    if (sources_.grid) read_grid(*sources_.grid);
    if (sources_.rooms) read_map(*sources_.rooms);
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
  void read_measured() {
    if (!sources_.measured) return;
    const auto word = read_name(*sources_.measured, faults_);
    if (!word || *word == "middle") return;
    if (*word == "inside") {
      inside_ = layout::MeasuredInside{storey_.outer_wall.thickness_m.value_or(layout::kUsualWallM),
                                       storey_.inner_wall.thickness_m.value_or(layout::kUsualWallM)};
    } else {
      add_fault(*sources_.measured, DiagnosticCode::unknown_word,
                "expected middle or inside, found " + quoted(*word, '"'), "", faults_);
    }
  }

  void read_grid(const Cursor& list) {
    std::vector<layout::GridRow> rows;
    std::vector<Mark> marks;
    const std::size_t before = faults_.count();
    for_each_item(list, limits::kGridRows, faults_, [&](const Cursor& row) {
      rows.push_back(read_row(row));
      marks.push_back(row.mark());
    });
    if (faults_.count() > before) {
      faults_.doubt(list.pointer().substr(0, list.pointer().rfind('/')) + "/rooms");
      return;
    }
    layout::GridLayout grid = layout::lay_out_grid(rows, inside_);
    storey_.closed_sizes = std::move(grid.closed);
    for (layout::GridRoom& room : grid.rooms) {
      if (room.corners.empty()) {
        faults_.add(marks[room.row], DiagnosticCode::impossible, room_path(list, room.name),
                    "the cells of " + quoted(room.name) +
                        " make no one outline: they must touch by an edge, "
                        "without a court between them");
      }
      storey_.rooms.push_back({.name = std::move(room.name), .corners = std::move(room.corners)});
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
          read_number(Cursor::at_key(row, entry.key, entry.value), limits::kRoomSideM, faults_);
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
      TypedRoom typed = RoomReader(cursor, entry.key, in_grid, faults_).read();
      if (typed.walls.outer || typed.walls.inner) walls_.push_back(std::move(typed.walls));
      if (in_grid) {
        typed.room.corners = std::move(known->corners);
        *known = std::move(typed.room);
        return;
      }
      if (typed.by_size) {
        sized_.push_back(std::move(typed.sized));
        places_.push_back(storey_.rooms.size());
      }
      storey_.rooms.push_back(std::move(typed.room));
    });
  }

  void lay_out_sized() {
    if (sized_.empty()) return;
    std::vector<Room> known;
    for (std::size_t i = 0; i < storey_.rooms.size(); ++i) {
      if (!storey_.rooms[i].corners.empty()) known.push_back(storey_.rooms[i]);
    }
    const std::vector<Room> none;
    layout::Surroundings around{.known = known,
                                .beneath = beneath_ == nullptr ? none : beneath_->rooms,
                                .wall_m = storey_.inner_wall.thickness_m.value_or(layout::kUsualWallM),
                                .inside = inside_};
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
    const Mark here = mark_of(fault.at);
    if (fault.other && mark_of(*fault.other).line != here.line)
      hint = "the other statement is on line " + std::to_string(mark_of(*fault.other).line);
    faults_.add(here, fault.code, fault.at.key.empty() ? path : path + "/" + std::string(fault.at.key),
                key + fault.message, std::move(hint));
  }

  void note_insets() {
    std::vector<Polygon2> shapes;
    for (const Room& room : storey_.rooms) shapes.push_back(room.corners);
    for (std::size_t i = 0; i < storey_.rooms.size(); ++i) {
      if (measures_.insets.contains(storey_.rooms[i].name)) continue;
      std::vector<Polygon2> others = shapes;
      others.erase(others.begin() + static_cast<std::ptrdiff_t>(i));
      measures_.insets[storey_.rooms[i].name] = layout::half_walls(shapes[i], others, *inside_);
    }
  }

  const RoomSources& sources_;
  std::size_t position_;
  const Storey* beneath_;
  Storey& storey_;
  StoreyMeasures& measures_;
  Faults& faults_;
  std::optional<layout::MeasuredInside> inside_;
  std::vector<layout::SizedRoom> sized_;
  std::vector<std::size_t> places_;  // of each in the storey's rooms
  std::set<std::string> lost_;
  std::vector<OwnWalls> walls_;
};

const OwnWalls* walls_of(const std::vector<OwnWalls>& own, const std::string& room) {
  const auto found = std::ranges::find(own, room, &OwnWalls::room);
  return found == own.end() ? nullptr : &*found;
}

}  // namespace

std::vector<OwnWalls> read_rooms(const RoomSources& sources, std::size_t position, const Storey* beneath,
                                 Storey& storey, StoreyMeasures& measures, Faults& faults) {
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
    if (piece.second == kOutside) {
      if (first != nullptr) made = first->outer;
    } else {
      const auto of_first = first == nullptr ? std::nullopt : first->inner;
      const auto of_second = second == nullptr ? std::nullopt : second->inner;
      made = of_first ? of_first : of_second;
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
    if (made) storey.boundaries.push_back({piece.first, piece.second, *made});
  }
}

}  // namespace linkmargin::yaml
