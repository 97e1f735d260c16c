#include "linkmargin/yaml/short_form/opening_places.hpp"

#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/site/layout/length_text.hpp"
#include "linkmargin/site/layout/room_spot.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/yaml/short_form/usual_tables.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace linkmargin::yaml {
namespace {

using layout::Side;

struct FromKey {
  std::string_view key;
  Side side;
};
constexpr std::array<FromKey, 4> kFromKeys{{{"from_left_m", Side::left},
                                            {"from_right_m", Side::right},
                                            {"from_bottom_m", Side::bottom},
                                            {"from_top_m", Side::top}}};

std::optional<Side> from_side(std::string_view key) {
  for (const FromKey& from : kFromKeys) {
    if (from.key == key) return from.side;
  }
  return {};
}

/// A wall that an opening is in, from left to right or from bottom to top.
struct HostWall {
  Segment2 line;
  double start_inset_m = 0;
  double end_inset_m = 0;
};

/// Whether a wall that is not along an axis counts as one along x.
bool runs_along_x(Segment2 line) {
  return std::abs(line.b.x - line.a.x) >= std::abs(line.b.y - line.a.y);
}

Segment2 rising(Segment2 line) {
  const bool turned = runs_along_x(line) ? line.b.x < line.a.x : line.b.y < line.a.y;
  return turned ? Segment2{line.b, line.a} : line;
}

class OpeningCompleter {
 public:
  OpeningCompleter(const Cursor& item, const OpeningKeys& keys, const Storey& storey,
                   StoreyMeasures& measures, ObjectReader& reader, Opening& opening, Faults& faults)
      : item_(item),
        keys_(keys),
        storey_(storey),
        measures_(measures),
        reader_(reader),
        opening_(opening),
        faults_(faults) {}

  void complete() {
    apply_kind();
    check_keys();
    const bool whole = reader_.sound() && complete_;
    if (keys_.room) {
      if (whole) place_in_room();
      if (!whole) opening_.wall.clear();  // the side of a room, which names no wall
      if (!whole || !reader_.sound()) faults_.doubt(item_.pointer_to("between"));
      return;
    }
    if (whole && !given("at_m")) place_on_wall();
  }

 private:
  bool given(std::string_view key) const { return find(item_.node(), key) != nullptr; }

  void apply_kind() {
    const layout::OpeningKind* kind = keys_.kind ? read_opening_kind(*keys_.kind, faults_) : kind_by_name();
    if (kind != nullptr) {
      if (!given("width_m")) opening_.width_m = kind->width_m;
      if (!given("sill_m")) opening_.sill_m = kind->sill_m;
      if (!given("height_m")) opening_.height_m = kind->height_m;
      if (!given("leaf")) opening_.leaf.material = kind->leaf.material;
      if (!given("leaf") && !given("leaf_thickness_m")) opening_.leaf.thickness_m = kind->leaf.thickness_m;
      if (!given("opens")) opening_.opens = kind->opens;
      measures_.contact_m[opening_.name] = kind->contact_m;
    }
    if (keys_.kind || kind != nullptr) return;
    if (!given("width_m") && !given("height_m") && !given("leaf")) return missing("kind");
    for (const std::string_view key : {"width_m", "height_m", "leaf"}) {
      if (given(key)) continue;
      reader_.missing({key, "kind"});
      complete_ = false;
    }
  }

  /// The kind that its name ends in, where figures are left out.
  const layout::OpeningKind* kind_by_name() const {
    if (given("width_m") && given("height_m") && given("leaf")) return nullptr;
    const auto kind = opening_kinds().find(std::string(kind_in_name(opening_kinds(), opening_.name)));
    return kind == opening_kinds().end() ? nullptr : &kind->second;
  }

  void missing(std::string_view key) {
    reader_.missing({key});
    complete_ = false;
  }

  void conflict(std::string_view key, const std::string& why, std::string hint = {}) {
    if (given(key)) reader_.fault(DiagnosticCode::conflicting_keys, key, why, std::move(hint));
  }

  /// Exactly one way to say the wall, and at most one to say where along it.
  void check_keys() {
    if (given("in")) {
      conflict("between", "stands beside in", "give only one of between, in");
      if (!given("wall")) missing("wall");
    } else {
      reader_.exactly_one_of({"between", "wall"});
      complete_ = complete_ && (given("between") || given("wall"));
    }
    std::string_view first = given("at_m") ? std::string_view("at_m") : std::string_view();
    for (const FromKey& from : kFromKeys) {
      if (!first.empty()) {
        conflict(from.key, "stands beside " + std::string(first), "one distance from one end is enough");
      } else if (given(from.key)) {
        first = from.key;
      }
    }
  }

  const Room* find_room(const std::string& name) const {
    const auto found = std::ranges::find(storey_.rooms, name, &Room::name);
    return found == storey_.rooms.end() ? nullptr : &*found;
  }

  void place_in_room() {
    const auto side = take_side();
    const auto name = read_name(*keys_.room, faults_);
    if (!name || !side) return;
    const Room* room = find_room(*name);
    if (room == nullptr) {
      std::vector<std::string> known;
      for (const Room& one : storey_.rooms) known.push_back(one.name);
      add_fault(*keys_.room, DiagnosticCode::unknown_name, "unknown room " + quoted(*name),
                nearest_hint(*name, known), faults_);
      return;
    }
    if (measures_.unplaced.contains(*name)) return faults_.doubt(item_.pointer());
    const auto line = layout::wall_on(room->corners, *side);
    if (!line) {
      reader_.fault(DiagnosticCode::misplaced, "wall",
                    quoted(*name) + " has no wall that faces the " + std::string(layout::side_word(*side)) +
                        " squarely",
                    "give between and at_m");
      return;
    }
    const layout::Inset inset = measures_.inset(*name);
    const bool upright = layout::is_upright(*side);
    if (!given("at_m")) {
      place_along({*line, upright ? inset.bottom_m : inset.left_m, upright ? inset.top_m : inset.right_m});
    }
    name_rooms(*name, *line);
  }

  /// The side that `wall` names beside `in`; the noun holds names of traced walls alone.
  std::optional<Side> take_side() {
    const std::string word = std::exchange(opening_.wall, {});
    for (const auto& side : layout::kSideWords) {
      if (side.word == word) return side.meaning;
    }
    reader_.fault(DiagnosticCode::unknown_word, "wall",
                  "expected left, right, bottom or top beside in, found " + quoted(word, '"'));
    return {};
  }

  /// The room, and what lies on the other side of its wall where the opening is.
  void name_rooms(const std::string& room, Segment2 wall) {
    opening_.first = room;
    opening_.second = kOutside;
    double nearest_m = kOpeningReachM;
    for (const WallPiece& piece : measures_.plan) {
      const bool of_room = piece.first == room || piece.second == room;
      const double off_wall_m =
          std::max(distance_to_segment(piece.line.a, wall), distance_to_segment(piece.line.b, wall));
      const double away_m = distance_to_segment(opening_.at, piece.line);
      if (!of_room || off_wall_m > kOpeningReachM || away_m >= nearest_m) continue;
      nearest_m = away_m;
      opening_.second = piece.first == room ? piece.second : piece.first;
    }
  }

  /// On the traced wall, or on the longest wall that the two rooms share.
  void place_on_wall() {
    if (measures_.unplaced.contains(opening_.first) || measures_.unplaced.contains(opening_.second))
      return faults_.doubt(item_.pointer());
    const WallPiece* best = nullptr;
    for (const WallPiece& piece : measures_.plan) {
      const bool same = opening_.wall.empty()
                            ? piece.traced.empty() && std::minmax(piece.first, piece.second) ==
                                                          std::minmax(opening_.first, opening_.second)
                            : piece.traced == opening_.wall;
      if (same && (best == nullptr || length(piece.line) > length(best->line) + layout::kCloseEnoughM))
        best = &piece;
    }
    if (best != nullptr) {
      HostWall wall{rising(best->line)};
      if (const Room* room = find_room(opening_.first)) note_insets(*room, wall);
      place_along(wall);
    } else if (const Room* room = find_room(opening_.first)) {
      opening_.at = snapped(label_point(room->corners));  // that there is no such wall is told by validate()
    }
  }

  /// Of the first room, where the wall ends with it.
  void note_insets(const Room& room, HostWall& wall) const {
    const layout::Inset inset = measures_.inset(room.name);
    const Box2 box = bounding_box(room.corners);
    const bool along_x = runs_along_x(wall.line);
    const auto at = [along_x](Point2 p) { return along_x ? p.x : p.y; };
    if (at(wall.line.a) == at(box.min)) wall.start_inset_m = along_x ? inset.left_m : inset.bottom_m;
    if (at(wall.line.b) == at(box.max)) wall.end_inset_m = along_x ? inset.right_m : inset.top_m;
  }

  void place_along(HostWall wall) {
    wall.line = {layout::as_typed(wall.line.a), layout::as_typed(wall.line.b)};
    const double length_m = length(wall.line);
    double middle_m = length_m / 2;
    if (keys_.from) {
      const auto found = middle_by_distance(wall, length_m);
      if (!found) return;
      middle_m = *found;
    }
    const double share = length_m > 0 ? middle_m / length_m : 0;
    opening_.at = snapped(wall.line.a + share * (wall.line.b - wall.line.a));
  }

  std::optional<double> middle_by_distance(const HostWall& wall, double length_m) {
    const Cursor& from = *keys_.from;
    const Side side = *from_side(from.key());
    if (layout::is_upright(side) != runs_along_x(wall.line)) {
      reader_.fault(
          DiagnosticCode::misplaced, from.key(),
          runs_along_x(wall.line) ? "this wall runs along x" : "this wall runs along y",
          runs_along_x(wall.line) ? "give from_left_m or from_right_m" : "give from_bottom_m or from_top_m");
      return {};
    }
    const auto distance_m = read_number(from, limits::kFromEndM, faults_);
    if (!distance_m) return {};
    const bool from_start = layout::is_lower(side);
    const double own_m = from_start ? wall.start_inset_m : wall.end_inset_m;
    const double clear_m = length_m - wall.start_inset_m - wall.end_inset_m;
    if (*distance_m + opening_.width_m > clear_m + layout::kCloseEnoughM) {
      reader_.fault(DiagnosticCode::misplaced, from.key(),
                    length_text(*distance_m, item_.node().length_unit) + " and a width of " +
                        length_text(opening_.width_m, item_.node().length_unit) +
                        " reach beyond the end of the wall, which is " +
                        length_text(clear_m, item_.node().length_unit) + " long",
                    fitting_hint(from.key(), clear_m));
      return {};
    }
    const double middle_m = own_m + *distance_m + opening_.width_m / 2;
    return from_start ? middle_m : length_m - middle_m;
  }

  /// What to type where an opening reaches beyond the end of its wall.
  std::string fitting_hint(std::string_view from, double clear_m) const {
    const LengthUnit unit = item_.node().length_unit;
    const double room_m = clear_m - opening_.width_m;
    if (room_m < 0)
      return "it is wider than the wall: check width_m, which is " + length_text(opening_.width_m, unit) +
             ", and the wall";
    const double step_m = unit == LengthUnit::foot ? kMetresAnInch / 8 : 0.01;
    return std::string(from) + " may be " + length_text(std::floor(room_m / step_m + 0.001) * step_m, unit) +
           " at most; without it the opening is in the middle";
  }

  const Cursor& item_;
  const OpeningKeys& keys_;
  const Storey& storey_;
  StoreyMeasures& measures_;
  ObjectReader& reader_;
  Opening& opening_;
  Faults& faults_;
  bool complete_ = true;
};

}  // namespace

void OpeningKeys::take(std::string_view key, const Cursor& value) {
  if (key == "kind") kind = value;
  if (key == "in") room = value;
  if (from_side(key) && !from) from = value;
}

void complete_opening(const Cursor& item, const OpeningKeys& keys, const Storey& storey,
                      StoreyMeasures& measures, ObjectReader& reader, Opening& opening, Faults& faults) {
  if (item.node().kind != Node::Kind::mapping) return;
  OpeningCompleter(item, keys, storey, measures, reader, opening, faults).complete();
}

}  // namespace linkmargin::yaml
