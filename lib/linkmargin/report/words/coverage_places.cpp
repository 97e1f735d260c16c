#include "linkmargin/report/words/coverage_places.hpp"

#include "linkmargin/report/words/coverage_words.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>

namespace linkmargin {
namespace {

/// The cells whose centres may lie in a box, along one axis: first to last.
std::pair<int, int> cells_between(double from, double to, double origin, double step_m, int count) {
  const auto cell = [&](double at) {
    return static_cast<int>(std::clamp(std::floor((at - origin) / step_m), 0.0, count - 1.0));
  };
  return {cell(from), cell(to)};
}

/// Calls visit with each cell whose centre lies inside.
template <typename Visit>
void for_cells_in(const CoverageMap& map, const Polygon2& corners, Visit visit) {
  const Box2 box = bounding_box(corners);
  const auto [left, right] = cells_between(box.min.x, box.max.x, map.origin.x, map.step_m, map.columns);
  const auto [lower, upper] = cells_between(box.min.y, box.max.y, map.origin.y, map.step_m, map.rows);
  for (int row = lower; row <= upper; ++row) {
    for (int column = left; column <= right; ++column) {
      const auto cell = static_cast<std::size_t>(row) * static_cast<std::size_t>(map.columns) +
                        static_cast<std::size_t>(column);
      if (contains(corners, snapped(map.centre(cell)))) visit(cell);
    }
  }
}

/// Of a box cut into nine, the part that holds a place.
std::string_view part_of(const Box2& box, Point2 at) {
  constexpr std::string_view parts[3][3] = {{"bottom_left", "bottom", "bottom_right"},
                                            {"left", "middle", "right"},
                                            {"top_left", "top", "top_right"}};
  const auto third = [](double from, double to, double here) {
    return static_cast<std::size_t>(std::clamp(std::floor(3 * (here - from) / (to - from)), 0.0, 2.0));
  };
  return parts[third(box.min.y, box.max.y, at.y)][third(box.min.x, box.max.x, at.x)];
}

double better_is_more(CoverageValue value) {
  return value == CoverageValue::loss ? -1 : 1;
}

}  // namespace

std::optional<PlaceCover> place_cover(const CoverageMap& map, CoverageValue value, const Polygon2& corners) {
  const double sign = better_is_more(value);
  std::vector<double> values;
  PlaceCover cover;
  Point2 lowest_at;
  std::size_t weak = 0;
  for_cells_in(map, corners, [&](std::size_t cell) {
    const double shown = shown_value(map, cell, value);
    const double v = std::isfinite(shown) ? sign * shown : -std::numeric_limits<double>::infinity();
    if (values.empty() || v < cover.lowest) {
      cover.lowest = v;
      lowest_at = map.centre(cell);
    }
    values.push_back(v);
    weak += weak_at(map, cell) ? 1 : 0;
  });
  if (values.empty()) return {};
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::ranges::nth_element(values, middle);
  cover.median = sign * *middle;
  cover.lowest *= sign;
  cover.lowest_in = part_of(bounding_box(corners), lowest_at);
  cover.weak_percent = 100 * static_cast<double>(weak) / static_cast<double>(values.size());
  return cover;
}

CoveragePlaces coverage_places(const Site& site, const CoverageMap& map, CoverageValue value) {
  CoveragePlaces places;
  const auto storey = std::ranges::find(site.storeys, map.storey, &Storey::name);
  if (storey == site.storeys.end()) return places;
  for (const Room& room : storey->rooms) {
    if (auto cover = place_cover(map, value, room.corners)) {
      cover->name = room.name;
      places.rooms.push_back(std::move(*cover));
    } else {
      places.missed.push_back(room.name);
    }
  }
  for (const Area& area : site.areas) {
    if (area.storey != static_cast<std::size_t>(storey - site.storeys.begin())) continue;
    if (const auto cover = place_cover(map, value, area.corners)) {
      places.areas.push_back({area.name, cover->weak_percent, 100 - area.share_percent});
    } else {
      places.missed.push_back(area.name);
    }
  }
  const double sign = better_is_more(value);
  std::ranges::stable_sort(places.rooms, [sign](const PlaceCover& left, const PlaceCover& right) {
    return std::tuple(-left.weak_percent, sign * left.lowest) <
           std::tuple(-right.weak_percent, sign * right.lowest);
  });
  return places;
}

}  // namespace linkmargin
