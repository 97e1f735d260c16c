#include "linkmargin/yaml/short_form/room_reader.hpp"

#include "linkmargin/site/limits.hpp"
#include "linkmargin/yaml/fields/field_reader.hpp"
#include "linkmargin/yaml/short_form/sockets_yaml.hpp"
#include "linkmargin/yaml/tree/unit_hint.hpp"

#include <algorithm>
#include <array>
#include <string_view>
#include <vector>

namespace linkmargin::yaml {
namespace {

constexpr std::array<std::string_view, 3> kShapes{"size_m", "rect_m", "corners_m"};
constexpr std::array<std::string_view, 4> kAlignments{"flush", "shift_m", "gap_m", "front_m"};

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
    if (key == "sockets") typed_.room.sockets = read_sockets(value, faults_);
    if (key == "over") sized.over = read_names(value, faults_);
    if (key == "flush") read_flush(value, sized, faults_);
    if (key == "shift_m") take_shift(value);
    if (key == "gap_m") {
      sized.gap_m = read_number(value, limits::kGapM, faults_).value_or(0);
      sized.apart = sized.gap_m > 0;
    }
    if (key == "front_m") sized.front_m = read_number(value, limits::kPlanCoordinateM, faults_);
    if (key == "outer_wall") typed_.walls.outer = read_construction(value, faults_);
    if (key == "inner_wall") {
      typed_.walls.inner = read_construction(value, faults_);
      typed_.walls.mark = value.mark();
    }
    if (key == "ceiling") typed_.ceiling = OwnCeiling{read_construction(value, faults_), value.mark()};
    if (key == "walls") take_walls(value);
  }

  /// Read after the keys that it stands in for.
  void take_walls(const Cursor& value) {
    const Construction all = read_construction(value, faults_);
    OwnWalls& own = typed_.walls;
    if (!own.inner) own.mark = value.mark();
    if (!own.inner) {
      own.inner = all;
      own.inner_key = "walls";
    }
    if (!own.outer) {
      own.outer = all;
      own.outer_key = "walls";
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

}  // namespace

std::optional<Point2> read_pair(const Cursor& list, std::string_view form, const Range& range,
                                Faults& faults) {
  if (!expect(list, Node::Kind::sequence, form, faults)) return {};
  const std::vector<Node>& items = list.node().items;
  if (items.size() != 2) {
    add_fault(list, DiagnosticCode::wrong_count,
              "expected " + std::string(form) + ", found " + std::to_string(items.size()) +
                  (items.size() == 1 ? " value" : " values"),
              split_list_hint(list.node(), 2), faults);
    return {};
  }
  const auto first = read_number(Cursor::at_item(list, 0, items[0]), range, faults);
  const auto second = read_number(Cursor::at_item(list, 1, items[1]), range, faults);
  if (!first || !second) return {};
  return Point2{*first, *second};
}

std::vector<std::string> read_names(const Cursor& cursor, Faults& faults) {
  std::vector<std::string> names;
  for_one_or_each(cursor, limits::kRoomsBelow, faults, [&](const Cursor& one) {
    if (const auto name = read_name(one, faults)) names.push_back(*name);
  });
  return names;
}

TypedRoom read_typed_room(const Cursor& cursor, const std::string& name, bool in_grid, Faults& faults) {
  return RoomReader(cursor, name, in_grid, faults).read();
}

}  // namespace linkmargin::yaml
