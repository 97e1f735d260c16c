#include "linkmargin/exchange/tracing/traced_openings.hpp"

#include "linkmargin/exchange/tracing/room_names.hpp"
#include "linkmargin/exchange/tracing/wall_tracks.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/wall_plan.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <optional>
#include <utility>

namespace linkmargin::exchange {
namespace {

constexpr double kLeastWidthM = 0.3;
constexpr double kOnWallSine = 0.26;

/// A door to the outside as wide as this is a garage's.
constexpr double kGarageM = 2;

double rounded_mm_of(double value_m) {
  return std::round(value_m * 1000) / 1000;
}

class OpeningPlacer {
 public:
  OpeningPlacer(bool doors_drawn, TracedStorey& storey) : doors_drawn_(doors_drawn), storey_(storey) {
    as_site_.rooms = storey.rooms;
    walls_ = wall_plan(as_site_);
  }

  /// Each by a room of its own and its kind: a door between corridor and office is the office's.
  void name() {
    std::map<std::string, int> doors{{kOutside, std::numeric_limits<int>::max()}};
    for (const TracedOpening& one : storey_.openings) {
      if (one.second != kOutside) ++doors[one.second];
      if (one.first != kOutside) ++doors[one.first];
    }
    std::vector<std::string> taken;
    for (TracedOpening& one : storey_.openings) {
      const std::string room = doors[one.second] < doors[one.first] ? one.second : one.first;
      const std::string kind(one.kind);
      one.name = fresh_name(kind.starts_with(room) ? kind : room + " " + kind, taken);
    }
  }

  bool place(const FoundOpening& found) {
    const auto nearest = wall_at(found);
    if (!nearest || static_cast<double>(storey_.openings.size()) >= limits::kFixtures.max) return false;
    const WallPiece& wall = walls_[*nearest];
    if (is_open(wall)) return false;
    const double long_m = length(wall.line);
    const double middle = nearest_fraction(found.middle, wall.line) * long_m;
    Interval part{std::max(0.0, middle - found.width_m / 2), std::min(long_m, middle + found.width_m / 2)};
    std::vector<Interval>& taken = taken_[*nearest];
    const bool overlaps = std::ranges::any_of(
        taken, [&](const Interval& other) { return other.from < part.to && part.from < other.to; });
    if (overlaps || part.to - part.from < kLeastWidthM) return false;
    const Point2 at = at_fraction(wall.line, (part.from + part.to) / 2 / long_m);
    TracedOpening made{.name = {},
                       .first = wall.first,
                       .second = wall.second,
                       .at = {rounded_mm_of(at.x), rounded_mm_of(at.y)},
                       .width_m = std::floor((part.to - part.from) * 1000 + 1e-6) / 1000,
                       .kind = kind_of(found, wall.second == kOutside || wall.first == kOutside),
                       .drawn = found.sort != OpeningSort::gap};
    if (!fits(made)) return false;
    taken.push_back(part);
    storey_.openings.push_back(std::move(made));
    return true;
  }

 private:
  std::optional<std::size_t> wall_at(const FoundOpening& found) const {
    std::optional<std::size_t> nearest;
    double nearest_m = kOpeningReachM;
    for (std::size_t i = 0; i < walls_.size(); ++i) {
      const Segment2 line = walls_[i].line;
      if (std::abs(cross(found.along, line.b - line.a)) > kOnWallSine * length(line)) continue;
      const double off_m = distance_to_segment(found.middle, line);
      if (off_m >= nearest_m) continue;
      nearest_m = off_m;
      nearest = i;
    }
    return nearest;
  }

  bool is_open(const WallPiece& wall) const {
    return std::ranges::any_of(storey_.boundaries, [&](const TracedBoundary& one) {
      return one.open && ((one.first == wall.first && one.second == wall.second) ||
                          (one.first == wall.second && one.second == wall.first));
    });
  }

  std::string_view kind_of(const FoundOpening& found, bool outer) const {
    if (found.sort == OpeningSort::window) return "window";
    if (found.sort == OpeningSort::gap && doors_drawn_) return "passage";
    if (!outer) return "inner door";
    return found.width_m >= kGarageM ? "garage door" : "front door";
  }

  /// As the reader of the site file sees it.
  bool fits(const TracedOpening& made) {
    as_site_.openings.assign(1, {.name = "opening",
                                 .first = made.first,
                                 .second = made.second,
                                 .wall = {},
                                 .at = snapped(made.at),
                                 .width_m = made.width_m,
                                 .height_m = 2,
                                 .leaf = {}});
    return locate_opening(walls_, as_site_, 0).has_value();
  }

  bool doors_drawn_;
  TracedStorey& storey_;
  Storey as_site_;
  std::vector<WallPiece> walls_;
  std::map<std::size_t, std::vector<Interval>> taken_;  // of each wall
};

}  // namespace

std::size_t place_openings(const std::vector<FoundOpening>& found, bool doors_drawn, TracedStorey& storey) {
  OpeningPlacer placer(doors_drawn, storey);
  // What is drawn goes before what is only guessed from a gap.
  std::vector<FoundOpening> in_order = found;
  std::ranges::stable_sort(in_order, {}, [](const FoundOpening& one) { return one.sort; });
  std::size_t left_out = 0;
  for (const FoundOpening& one : in_order) left_out += placer.place(one) ? 0 : 1;
  placer.name();
  return left_out;
}

}  // namespace linkmargin::exchange
