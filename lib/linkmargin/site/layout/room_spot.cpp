#include "linkmargin/site/layout/room_spot.hpp"

#include "linkmargin/base/length_unit.hpp"
#include "linkmargin/base/letter_case.hpp"
#include "linkmargin/site/layout/length_text.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

namespace linkmargin::layout {
namespace {

std::optional<Side> side_of(std::string_view word) {
  for (const auto& side : kSideWords) {
    if (side.word == word) return side.meaning;
  }
  return {};
}

/// Words in small letters. A comma ends a word where a blank or nothing follows.
std::vector<std::string> words_of(std::string_view text) {
  std::vector<std::string> words;
  std::string word;
  const auto end_word = [&] {
    if (!word.empty() && word != "and" && word != "the") words.push_back(word);
    word.clear();
  };
  const std::string small = lower_case(text);
  for (std::size_t i = 0; i < small.size(); ++i) {
    const bool separates = small[i] == ',' && (i + 1 == small.size() || small[i + 1] == ' ');
    if (small[i] == ' ' || separates) {
      end_word();
    } else {
      word += small[i];
    }
  }
  end_word();
  return words;
}

/// Reads words one after the other.
class Words {
 public:
  explicit Words(std::vector<std::string> words) : words_(std::move(words)) {}

  bool take(std::string_view word) {
    if (at_ == words_.size() || words_[at_] != word) return false;
    ++at_;
    return true;
  }
  std::optional<Side> take_side() {
    const auto side = at_ < words_.size() ? side_of(words_[at_]) : std::nullopt;
    if (side) ++at_;
    return side;
  }
  /// "1.2 m from left wall", its last word left out or not; the length in any unit of parse_length_m().
  std::optional<std::pair<double, Side>> take_distance() {
    std::string length;
    std::size_t at = at_;
    for (; at < words_.size() && words_[at] != "from"; ++at) length += words_[at] + " ";
    const auto length_m = parse_length_m(length);
    if (!length_m || *length_m < 0 || at == words_.size()) return {};
    at_ = at + 1;
    const auto side = take_side();
    (void)take("wall");
    if (!side) return {};
    return std::pair{*length_m, *side};
  }
  bool done() const { return at_ == words_.size(); }

 private:
  std::vector<std::string> words_;
  std::size_t at_ = 0;
};

std::optional<RoomSpot> corner_of(std::optional<Side> first, std::optional<Side> second) {
  if (!first || !second || is_upright(*first) == is_upright(*second)) return {};
  if (!is_upright(*first)) std::swap(first, second);
  return Corner{*first, *second};
}

std::optional<RoomSpot> parse_words(Words& words) {
  if (words.take("centre")) return Centre{};
  if (words.take("corner")) {
    const auto first = words.take_side();
    return corner_of(first, words.take_side());
  }
  if (const auto wall = words.take_side()) {
    if (!words.take("wall")) {
      const auto corner = corner_of(wall, words.take_side());
      return words.take("corner") ? corner : std::nullopt;
    }
    if (words.done()) return OnWall{*wall};
    const auto from = words.take_distance();
    if (!from || is_upright(from->second) == is_upright(*wall)) return {};
    return OnWall{*wall, from->second, from->first};
  }
  auto first = words.take_distance();
  auto second = first ? words.take_distance() : std::nullopt;
  if (!second || is_upright(first->second) == is_upright(second->second)) return {};
  if (!is_upright(first->second)) std::swap(first, second);
  return FromWalls{first->second, first->first, second->second, second->first};
}

/// A corner that holds the coordinates of two sides.
Point2 meet(Side across, Side along, const Box2& box) {
  return {across == Side::left ? box.min.x : box.max.x, along == Side::bottom ? box.min.y : box.max.y};
}

/// Into the room, from a wall on a side.
double inwards(Side side, double distance_m) {
  return is_lower(side) ? distance_m : -distance_m;
}

struct Placer {
  using Place = std::variant<Point2, std::string>;

  const Polygon2& room;
  const Inset& inset;
  LengthUnit unit;

  Place operator()(const Centre&) const {
    const Point2 middle = centroid(room);
    return contains(room, middle) ? middle : label_point(room);
  }

  /// At the corner of the room that comes nearest to that of the rectangle around it.
  Place operator()(const Corner& corner) const {
    const Point2 wanted = meet(corner.across, corner.along, bounding_box(room));
    const auto nearest =
        std::ranges::min_element(room, {}, [wanted](Point2 p) { return distance(p, wanted); });
    const Point2 place{nearest->x + inwards(corner.across, off_wall_m(inset.of(corner.across))),
                       nearest->y + inwards(corner.along, off_wall_m(inset.of(corner.along)))};
    if (contains(room, place)) return place;
    return "has no such corner: its outline runs aslant there";
  }

  Place operator()(const OnWall& spot) const {
    const auto wall = wall_on(room, spot.wall);
    if (!wall) return "has no wall that faces the " + std::string(side_word(spot.wall)) + " squarely";
    const double length_m = length(*wall);
    double from_start_m = length_m / 2;
    if (spot.from) {
      const double measured_m = inset.of(*spot.from) + spot.distance_m;
      if (measured_m > length_m - inset.of(opposite(*spot.from))) {
        return "has a " + std::string(side_word(spot.wall)) + " wall of " +
               length_text(length_m - inset.of(*spot.from) - inset.of(opposite(*spot.from)), unit);
      }
      from_start_m = is_lower(*spot.from) ? measured_m : length_m - measured_m;
    }
    const double off_m = inwards(spot.wall, off_wall_m(inset.of(spot.wall)));
    if (is_upright(spot.wall)) return Point2{wall->a.x + off_m, wall->a.y + from_start_m};
    return Point2{wall->a.x + from_start_m, wall->a.y + off_m};
  }

  Place operator()(const FromWalls& spot) const {
    const Point2 from = meet(spot.across, spot.along, bounding_box(room));
    const Point2 place{from.x + inwards(spot.across, inset.of(spot.across) + spot.across_m),
                       from.y + inwards(spot.along, inset.of(spot.along) + spot.along_m)};
    if (contains(room, place)) return place;
    const Box2 box = bounding_box(room);
    return "does not reach so far: it is " +
           length_text(box.max.x - box.min.x - inset.left_m - inset.right_m, unit) + " wide and " +
           length_text(box.max.y - box.min.y - inset.bottom_m - inset.top_m, unit) + " deep";
  }
};

}  // namespace

std::optional<RoomSpot> parse_room_spot(std::string_view text) {
  Words words(words_of(text));
  auto spot = parse_words(words);
  return words.done() ? spot : std::nullopt;
}

std::string_view room_spot_forms() {
  return "[x, y] within the room, or text such as: centre; corner top left; bottom wall; bottom wall, 1.2 m "
         "from "
         "left; 0.4 m from left and 0.3 m from top";
}

std::optional<Segment2> wall_on(const Polygon2& room, Side side) {
  std::optional<Segment2> best;
  const bool turned = signed_area(room) < 0;
  const auto at = [side](const Segment2& edge) { return is_upright(side) ? edge.a.x : edge.a.y; };
  for (Segment2 edge : edges(room)) {
    if (turned) std::swap(edge.a, edge.b);
    const Point2 run = edge.b - edge.a;
    const bool faces = side == Side::left     ? run.x == 0 && run.y < 0
                       : side == Side::right  ? run.x == 0 && run.y > 0
                       : side == Side::bottom ? run.y == 0 && run.x > 0
                                              : run.y == 0 && run.x < 0;
    if (!faces) continue;
    if (edge.b < edge.a) std::swap(edge.a, edge.b);
    const bool farther = !best || (is_lower(side) ? at(edge) < at(*best) : at(edge) > at(*best));
    const bool longer = best && at(edge) == at(*best) && length(edge) > length(*best);
    if (farther || longer) best = edge;
  }
  return best;
}

std::variant<Point2, std::string> place_of(const RoomSpot& spot, const Polygon2& room, const Inset& inset,
                                           LengthUnit unit) {
  const Polygon2 typed = as_typed(room);
  return std::visit(Placer{typed, inset, unit}, spot);
}

}  // namespace linkmargin::layout
