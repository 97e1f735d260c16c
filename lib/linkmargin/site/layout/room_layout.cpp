#include "linkmargin/site/layout/room_layout.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/layout/cell_union.hpp"
#include "linkmargin/site/layout/length_text.hpp"
#include "linkmargin/site/trade_words.hpp"
#include "linkmargin/site/wall_plan.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <map>

namespace linkmargin::layout {
namespace {

/// Unknown names whose nearest one is searched for.
constexpr std::size_t kMostHints = 50;

constexpr std::array<std::string_view, 2> kSizeWords{"wide", "deep"};

std::string quoted(std::string_view name) {
  return "'" + std::string(name) + "'";
}

std::size_t axis_of(Relation relation) {
  return relation == Relation::left_of || relation == Relation::right_of ? 0 : 1;
}

/// Whether a room in this relation begins where its neighbour ends.
bool starts_behind(Relation relation) {
  return relation == Relation::right_of || relation == Relation::above;
}

std::string_view relation_word(Relation relation) {
  for (const auto& word : kRelationWords) {
    if (word.meaning == relation) return word.word;
  }
  return {};
}

/// Where an end of a room lies, and by which statement.
struct End {
  double at_m = 0;
  std::string_view key;
  std::string room;
};

struct Ends {
  std::optional<End> low;
  std::optional<End> high;
};

/// The rectangle around a room, or rooms: by the lines of its walls, and by their faces.
struct Faces {
  Faces() = default;
  Faces(const Box2& lines, const Inset& inset)
      : line(lines), inner(grown(lines, inset, -1)), outer(grown(lines, inset, 1)) {}

  void take(const Faces& other) {
    line.take(other.line);
    inner.take(other.inner);
    outer.take(other.outer);
  }

  static Box2 grown(Box2 box, const Inset& inset, double by) {
    box.min = box.min - by * Point2{inset.left_m, inset.bottom_m};
    box.max = box.max + by * Point2{inset.right_m, inset.top_m};
    return box;
  }

  Box2 line = Box2::nothing();
  Box2 inner = Box2::nothing();
  Box2 outer = Box2::nothing();
};

class Layouter {
 public:
  /// @param insets  of the rooms, then of those that are known
  Layouter(std::span<const SizedRoom> rooms, const Surroundings& around, std::span<const Inset> insets)
      : rooms_(rooms), around_(around), insets_(insets), placed_(rooms.size(), false) {
    layout_.corners.resize(rooms.size());
    for (std::size_t i = 0; i < around.known.size(); ++i)
      take(around.known[i].name, around.known[i].corners, insets[rooms.size() + i]);
  }

  RoomLayout run() {
    for (std::size_t i = 0; i < rooms_.size(); ++i) check_names(i);
    while (place_those_ready() || define_house()) {
    }
    report_rings();
    return std::move(layout_);
  }

 private:
  void fault(DiagnosticCode code, Statement at, std::string message, std::optional<Statement> other = {},
             std::string hint = {}) {
    layout_.faults.push_back({code, at, std::move(message), other, std::move(hint)});
  }

  void take(const std::string& name, const Polygon2& corners, const Inset& inset) {
    if (corners.empty()) return;
    boxes_.emplace(name, Faces(bounding_box(as_typed(corners)), inset));
    add_edges(name, as_typed(corners), edges_);
  }

  bool is_room(const std::string& name) const {
    return std::ranges::find(rooms_, name, &SizedRoom::name) != rooms_.end() ||
           std::ranges::find(around_.known, name, &Room::name) != around_.known.end();
  }

  bool is_house(const std::string& name) const { return name == kHouse && !is_room(name); }

  void unknown(std::size_t room, std::string_view key, const std::string& name,
               const std::vector<std::string>& known) {
    fault(DiagnosticCode::unknown_name, {room, key}, "unknown room " + quoted(name), {},
          layout_.faults.size() < kMostHints ? name_hint("room", name, known) : std::string());
  }

  /// Notes rooms that cannot be placed whatever the others do.
  void check_names(std::size_t i) {
    const SizedRoom& room = rooms_[i];
    const std::size_t before = layout_.faults.size();
    for (const Neighbour& one : room.neighbours) {
      const std::string_view key = relation_word(one.relation);
      if (one.room == room.name) {
        fault(DiagnosticCode::impossible, {i, key},
              quoted(room.name) + " is " + std::string(key) + " itself");
      } else if (!is_room(one.room) && !is_house(one.room)) {
        std::vector<std::string> known;
        for (const SizedRoom& other : rooms_) known.push_back(other.name);
        for (const Room& other : around_.known) known.push_back(other.name);
        unknown(i, key, one.room, known);
      }
    }
    for (const std::string& name : room.over) {
      if (std::ranges::find(around_.beneath, name, &Room::name) != around_.beneath.end()) continue;
      std::vector<std::string> known;
      for (const Room& other : around_.beneath) known.push_back(other.name);
      unknown(i, "over", name, known);
    }
    const bool alone = room.neighbours.empty() && room.over.empty();
    if (alone && (i > 0 || !around_.known.empty()) && !is_first_alone(i)) {
      fault(DiagnosticCode::missing_key, {i, ""},
            "room " + quoted(room.name) + " has no place: it is beside no other room", {},
            "say what it is left_of, right_of, above, below or over");
    }
    placed_[i] = layout_.faults.size() > before;
  }

  bool is_first_alone(std::size_t room) const {
    if (!around_.known.empty()) return false;
    const auto alone = [](const SizedRoom& one) { return one.neighbours.empty() && one.over.empty(); };
    return std::ranges::find_if(rooms_, alone) - rooms_.begin() == static_cast<std::ptrdiff_t>(room);
  }

  const Faces* box_of(const std::string& name) const {
    if (is_house(name)) return house_ ? &*house_ : nullptr;
    const auto found = boxes_.find(name);
    return found == boxes_.end() ? nullptr : &found->second;
  }

  bool is_ready(const SizedRoom& room) const {
    return std::ranges::all_of(room.neighbours,
                               [this](const Neighbour& one) { return box_of(one.room) != nullptr; });
  }

  bool place_those_ready() {
    bool any = false;
    for (std::size_t i = 0; i < rooms_.size(); ++i) {
      if (placed_[i] || !is_ready(rooms_[i])) continue;
      placed_[i] = true;
      any = true;
      layout_.corners[i] = place(i);
      take(rooms_[i].name, layout_.corners[i], insets_[i]);
    }
    return any;
  }

  bool define_house() {
    if (house_ || boxes_.empty()) return false;
    Faces house;
    for (const auto& [name, one] : boxes_) house.take(one);
    house_ = house;
    return true;
  }

  Faces box_beneath(const SizedRoom& room) const {
    Faces box;
    for (std::size_t i = 0; i < around_.beneath.size(); ++i) {
      const Room& one = around_.beneath[i];
      if (std::ranges::find(room.over, one.name) == room.over.end()) continue;
      const Inset inset = i < around_.beneath_insets.size() ? around_.beneath_insets[i] : Inset();
      box.take(Faces(bounding_box(as_typed(one.corners)), inset));
    }
    return box;
  }

  /// The shape of the rooms that a room without a size is over.
  Polygon2 shape_beneath(std::size_t i) {
    std::vector<Polygon2> shapes;
    for (const Room& one : around_.beneath) {
      if (std::ranges::find(rooms_[i].over, one.name) != rooms_[i].over.end()) shapes.push_back(one.corners);
    }
    if (shapes.size() == 1) return shapes.front();
    auto shape = united(shapes);
    if (shape) return *shape;
    fault(DiagnosticCode::impossible, {i, "over"}, "these rooms make no one outline together", {},
          "give the room a size_m or corners_m");
    return {};
  }

  Polygon2 place(std::size_t i) {
    const SizedRoom& room = rooms_[i];
    if (!room.size) return shape_beneath(i);
    std::array<Interval, 2> box;
    for (std::size_t axis = 0; axis < 2; ++axis) {
      const auto found = interval(i, axis);
      if (!found) return {};
      box[axis] = *found;
    }
    close(i, box);
    Polygon2 corners = rectangle({box[0].low, box[1].low}, box[0].length(), box[1].length());
    for (Point2& corner : corners) corner = snapped(corner);
    return corners;
  }

  /// The length on an axis as it is drawn.
  double drawn_m(std::size_t i, std::size_t axis) const {
    const Inset& inset = insets_[i];
    const double beside_m = axis == 0 ? inset.left_m + inset.right_m : inset.bottom_m + inset.top_m;
    return along(axis, *rooms_[i].size) + beside_m;
  }

  /// Half the wall of a room at its lower end on an axis, and at its upper one.
  Interval half_walls_of(std::size_t i, std::size_t axis) const {
    const Inset& inset = insets_[i];
    return axis == 0 ? Interval{inset.left_m, inset.right_m} : Interval{inset.bottom_m, inset.top_m};
  }

  Ends ends_by_neighbours(std::size_t i, std::size_t axis) const {
    const SizedRoom& room = rooms_[i];
    const Interval own = half_walls_of(i, axis);
    Ends ends;
    for (const Neighbour& one : room.neighbours) {
      if (axis_of(one.relation) != axis) continue;
      const Faces& other = *box_of(one.room);
      const Interval end = extent(room.apart ? other.outer : other.line, axis);
      if (starts_behind(one.relation)) {
        const double gap_m = room.apart ? room.gap_m + own.low : room.gap_m;
        ends.low = End{end.high + gap_m, relation_word(one.relation), one.room};
      } else {
        const double gap_m = room.apart ? room.gap_m + own.high : room.gap_m;
        ends.high = End{end.low - gap_m, relation_word(one.relation), one.room};
      }
    }
    return ends;
  }

  /// The end that lies level with that of a neighbour across the axis, or of the rooms beneath.
  Ends ends_by_alignment(std::size_t i, std::size_t axis) const {
    const SizedRoom& room = rooms_[i];
    const bool on_storey = !room.neighbours.empty();
    const bool is_over = !room.over.empty();
    if (!on_storey && !is_over) return {.low = End{0, "", ""}, .high = {}};
    const Faces other = is_over ? box_beneath(room) : *box_of(room.neighbours.front().room);
    const std::string& name = is_over ? room.over.front() : room.neighbours.front().room;
    const Interval own = half_walls_of(i, axis);
    if (axis == 1 && room.front_m)
      return {.low = End{extent(other.outer, axis).low + own.low + *room.front_m, "front_m", name},
              .high = {}};
    const double shift_m =
        is_over ? along(axis, room.shift_over.value_or(Point2{})) : room.shift_m.value_or(0);
    // What is flush stands in line; a shift is measured from face to face.
    const bool in_line = shift_m == 0 && !room.apart;
    const Interval end = extent(in_line ? other.line : room.apart ? other.outer : other.inner, axis);
    const double to_line = in_line ? 0 : room.apart ? 1 : -1;
    const auto flush = axis == 0 ? room.flush_x : room.flush_y;
    if (flush && !is_lower(*flush))
      return {.low = {}, .high = End{end.high + shift_m - to_line * own.high, "flush", name}};
    return {.low = End{end.low + shift_m + to_line * own.low, "flush", name}, .high = {}};
  }

  /// Where a room lies on an axis, before it is closed with others.
  std::optional<Interval> interval(std::size_t i, std::size_t axis) {
    const SizedRoom& room = rooms_[i];
    Ends ends = ends_by_neighbours(i, axis);
    const bool bound = ends.low || ends.high;
    const auto flush = axis == 0 ? room.flush_x : room.flush_y;
    if (bound && flush) {
      const End& by = ends.low ? *ends.low : *ends.high;
      fault(DiagnosticCode::conflicting_keys, {i, "flush"},
            std::string(side_word(*flush)) + " goes with " +
                (axis == 0 ? "above, below or over" : "left_of, right_of or over") + ", not with " +
                std::string(by.key),
            Statement{i, by.key});
      return {};
    }
    if (!bound) ends = ends_by_alignment(i, axis);
    const double wanted_m = drawn_m(i, axis);
    if (!ends.high) return Interval{ends.low->at_m, ends.low->at_m + wanted_m};
    if (!ends.low) return Interval{ends.high->at_m - wanted_m, ends.high->at_m};
    const Interval between{ends.low->at_m, ends.high->at_m};
    if (std::abs(between.length() - wanted_m) <= std::max(kCloseM, around_.wall_m)) {
      note_closed(i, axis, wanted_m, between.length(), ends.high->room);
      return between;
    }
    fault(DiagnosticCode::impossible, {i, "size_m"},
          quoted(room.name) + " is " + length_text(along(axis, *room.size), around_.unit) + " " +
              std::string(kSizeWords[axis]) + ", but " +
              length_text(between.length() - wanted_m + along(axis, *room.size), around_.unit) +
              " lie between " + quoted(ends.low->room) + " (" + std::string(ends.low->key) + ") and " +
              quoted(ends.high->room) + " (" + std::string(ends.high->key) + ")",
          Statement{i, ends.high->key});
    return {};
  }

  void note_closed(std::size_t i, std::size_t axis, double wanted_m, double used_m,
                   const std::string& other) {
    if (std::abs(wanted_m - used_m) <= kWeldM) return;
    const double typed_m = along(axis, *rooms_[i].size);
    layout_.closed.push_back({rooms_[i].name, other, axis == 0, typed_m, typed_m + used_m - wanted_m});
  }

  /// Whether an end follows from a statement and stays.
  bool is_bound(std::size_t i, std::size_t axis, bool high) const {
    const SizedRoom& room = rooms_[i];
    const Ends ends = ends_by_neighbours(i, axis);
    if (ends.low || ends.high) return (high ? ends.high : ends.low).has_value();
    const auto flush = axis == 0 ? room.flush_x : room.flush_y;
    return high == (flush && !is_lower(*flush));
  }

  /// Brings the free ends to edges that they nearly meet.
  void close(std::size_t i, std::array<Interval, 2>& box) {
    for (std::size_t axis = 0; axis < 2; ++axis) {
      for (const bool high : {false, true}) {
        if (is_bound(i, axis, high)) continue;
        double& end_m = high ? box[axis].high : box[axis].low;
        const RoomEdge* edge = edge_to_meet(axis, end_m, high, box[1 - axis]);
        if (edge == nullptr) continue;
        const double before_m = box[axis].length();
        end_m = edge->at_m;
        note_closed(i, axis, before_m, box[axis].length(), edge->room);
      }
    }
  }

  const RoomEdge* edge_to_meet(std::size_t axis, double end_m, bool high, Interval reach) const {
    const RoomEdge* best = nullptr;
    for (const RoomEdge& edge : edges_) {
      if (edge.axis != axis) continue;
      const bool facing = edge.faces_high != high && overlap_m(edge.reach, reach) > around_.wall_m;
      const bool running_on =
          edge.faces_high == high && std::abs(overlap_m(edge.reach, reach)) <= around_.wall_m;
      const double away_m = std::abs(edge.at_m - end_m);
      const bool near = (facing && away_m <= around_.wall_m) || (running_on && away_m <= kCloseM);
      if (near && (best == nullptr || away_m < std::abs(best->at_m - end_m))) best = &edge;
    }
    return best;
  }

  /// A ring of rooms that wait for each other, told at its first room in the order of the file.
  void report_rings() {
    std::vector<bool> told(rooms_.size(), false);
    for (std::size_t i = 0; i < rooms_.size(); ++i) {
      if (placed_[i] || told[i]) continue;
      std::vector<std::size_t> way;
      std::size_t here = i;
      while (std::ranges::find(way, here) == way.end()) {
        way.push_back(here);
        const auto next = waits_for(here);
        if (!next || told[*next]) break;
        here = *next;
      }
      const auto start = std::ranges::find(way, here);
      const bool is_ring = start != way.end() && waits_for(way.back()) == std::optional(here);
      for (const std::size_t room : way) told[room] = true;
      if (is_ring) report_ring({start, way.end()});
    }
  }

  std::optional<std::size_t> waits_for(std::size_t room) const {
    for (const Neighbour& one : rooms_[room].neighbours) {
      const auto other = std::ranges::find(rooms_, one.room, &SizedRoom::name);
      if (other == rooms_.end()) continue;
      const auto position = static_cast<std::size_t>(other - rooms_.begin());
      if (!placed_[position]) return position;
    }
    return {};
  }

  std::string_view key_towards(std::size_t room, std::size_t other) const {
    for (const Neighbour& one : rooms_[room].neighbours) {
      if (one.room == rooms_[other].name) return relation_word(one.relation);
    }
    return {};
  }

  void report_ring(const std::vector<std::size_t>& ring) {
    constexpr std::size_t most = 6;
    std::string text;
    for (std::size_t k = 0; k < ring.size() && k < most; ++k) {
      const std::size_t next = ring[(k + 1) % ring.size()];
      text += (k == 0 ? "" : ", ") + quoted(rooms_[ring[k]].name) + " is " +
              std::string(key_towards(ring[k], next)) + " " + quoted(rooms_[next].name);
    }
    if (ring.size() > most) text += ", ...";
    const std::size_t first = ring.front();
    const std::size_t second = ring[1 % ring.size()];
    fault(DiagnosticCode::impossible, {first, key_towards(first, second)},
          "these rooms stand by each other in a ring, so none has a place: " + text,
          Statement{second, key_towards(second, ring[2 % ring.size()])});
  }

  std::span<const SizedRoom> rooms_;
  const Surroundings& around_;
  std::span<const Inset> insets_;
  std::vector<bool> placed_;  // or given up
  std::map<std::string, Faces> boxes_;
  std::vector<RoomEdge> edges_;
  std::optional<Faces> house_;
  RoomLayout layout_;
};

}  // namespace

RoomLayout lay_out(std::span<const SizedRoom> rooms, const Surroundings& around) {
  const auto count = static_cast<std::ptrdiff_t>(rooms.size());
  std::vector<Inset> insets(rooms.size() + around.known.size());
  std::ranges::copy(around.known_insets, insets.begin() + count);
  const auto finished = [&](RoomLayout layout) {
    layout.insets.assign(insets.begin(), insets.begin() + count);
    return layout;
  };
  if (!around.inside) return finished(Layouter(rooms, around, insets).run());
  // Which walls are outer ones shows when the rooms stand, and then they stand a little differently. They
  // first stand as if all were inner ones, so that rooms less apart than an outer wall may turn out to share
  // one.
  const double half_m = around.inside->inner_m / 2;
  std::ranges::fill(insets, Inset{half_m, half_m, half_m, half_m});
  constexpr int most_rounds = 8;
  for (int round = 0;; ++round) {
    RoomLayout layout = Layouter(rooms, around, insets).run();
    std::vector<Room> shapes;
    for (std::size_t i = 0; i < rooms.size(); ++i)
      shapes.push_back({.name = rooms[i].name, .corners = layout.corners[i]});
    for (const Room& room : around.known) shapes.push_back({.name = room.name, .corners = room.corners});
    const double meet_m =
        round == 0 ? std::max(around.inside->outer_m, around.inside->inner_m) : around.inside->inner_m;
    std::vector<Inset> found = half_walls(shapes, *around.inside, meet_m);
    const bool settled = round > 0 && found == insets;
    if (settled || round == most_rounds) return finished(std::move(layout));
    insets = std::move(found);
  }
}

}  // namespace linkmargin::layout
