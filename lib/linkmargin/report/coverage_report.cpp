#include "linkmargin/report/coverage_report.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/geometry/polygon.hpp"
#include "linkmargin/report/cautions.hpp"
#include "linkmargin/report/coverage_words.hpp"
#include "linkmargin/report/phrases.hpp"
#include "linkmargin/report/rounding.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>

namespace linkmargin {
namespace {

/// A room's cells in few figures.
struct RoomCover {
  std::string room;
  double lowest = 0;  ///< the weakest: of a loss the greatest
  double median = 0;
  Point2 lowest_at;
  double weak_percent = 0;
};

/// The cells whose centres may lie in a box, along one axis: first to last.
std::pair<int, int> cells_between(double from, double to, double origin, double step_m, int count) {
  const auto cell = [&](double at) {
    return static_cast<int>(std::clamp(std::floor((at - origin) / step_m), 0.0, count - 1.0));
  };
  return {cell(from), cell(to)};
}

std::optional<RoomCover> room_cover(const CoverageMap& map, CoverageValue value, const Room& room) {
  const Box2 box = bounding_box(room.corners);
  const auto [left, right] = cells_between(box.min.x, box.max.x, map.origin.x, map.step_m, map.columns);
  const auto [lower, upper] = cells_between(box.min.y, box.max.y, map.origin.y, map.step_m, map.rows);
  const double sign = value == CoverageValue::loss ? -1 : 1;
  std::vector<double> values;
  RoomCover cover;
  cover.room = room.name;
  std::size_t weak = 0;
  for (int row = lower; row <= upper; ++row) {
    for (int column = left; column <= right; ++column) {
      const auto cell = static_cast<std::size_t>(row) * static_cast<std::size_t>(map.columns) +
                        static_cast<std::size_t>(column);
      if (!contains(room.corners, snapped(map.centre(cell)))) continue;
      const double shown = shown_value(map, cell, value);
      const double v = std::isfinite(shown) ? sign * shown : -std::numeric_limits<double>::infinity();
      if (values.empty() || v < cover.lowest) {
        cover.lowest = v;
        cover.lowest_at = map.centre(cell);
      }
      values.push_back(v);
      weak += weak_at(map, cell) ? 1 : 0;
    }
  }
  if (values.empty()) return {};
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::ranges::nth_element(values, middle);
  cover.median = sign * *middle;
  cover.lowest *= sign;
  cover.weak_percent = 100 * static_cast<double>(weak) / static_cast<double>(values.size());
  return cover;
}

std::vector<RoomCover> rooms_worst_first(const Site& site, const CoverageMap& map, CoverageValue value) {
  std::vector<RoomCover> covers;
  const auto storey = std::ranges::find(site.storeys, map.storey, &Storey::name);
  if (storey == site.storeys.end()) return covers;
  for (const Room& room : storey->rooms) {
    if (auto cover = room_cover(map, value, room)) covers.push_back(std::move(*cover));
  }
  const double sign = value == CoverageValue::loss ? -1 : 1;
  std::ranges::stable_sort(covers, [sign](const RoomCover& left, const RoomCover& right) {
    return std::tuple(-left.weak_percent, sign * left.lowest) <
           std::tuple(-right.weak_percent, sign * right.lowest);
  });
  return covers;
}

std::string verdict(const std::vector<RoomCover>& rooms, const CoverageMap& map, double share_percent) {
  const std::string threshold = shortest_text(map.reading.weak_below_percent) + " %";
  if (rooms.empty())
    return fixed_text(share_percent, 1) + " % of the map is weak: a reading under " + threshold + ".";
  if (rooms.front().weak_percent == 0)
    return "No spot in a room is weak: each reads " + threshold + " or more.";
  return fixed_text(share_percent, 1) + " % of the rooms is weak: a reading under " + threshold +
         ". Worst: " + rooms.front().room + ", " + fixed_text(rooms.front().weak_percent, 0) + " % of it.";
}

Table room_table(const std::vector<RoomCover>& rooms, CoverageValue value, double weak_below_percent) {
  const auto shown = [&](double v) {
    return value == CoverageValue::reading ? whole_percent(v, weak_below_percent) : v;
  };
  const std::string unit = value_unit(value);
  const bool loss = value == CoverageValue::loss;
  Table table{
      {{.key = "mark"},
       {.key = "room", .title = "Room", .shrinks = true},
       {.key = "weak_share_percent", .title = "Weak", .unit = "%", .kind = ColumnKind::number},
       {.key = "lowest", .title = loss ? "Greatest" : "Lowest", .unit = unit, .kind = ColumnKind::number},
       {.key = "lowest_at", .title = "at x, y", .unit = "m", .right_aligned = true, .drop = 1},
       {.key = "median", .title = "Median", .unit = unit, .kind = ColumnKind::number}},
      {}};
  for (const RoomCover& room : rooms) {
    const bool weak = room.weak_percent > 0;
    table.rows.push_back({{{weak ? "!" : " "},
                           {room.room},
                           {weak ? std::max(1.0, room.weak_percent) : 0},
                           {shown(room.lowest)},
                           {fixed_text(room.lowest_at.x, 1) + ", " + fixed_text(room.lowest_at.y, 1)},
                           {shown(room.median)}},
                          weak ? Tone::weak : Tone::plain});
  }
  return table;
}

}  // namespace

Document coverage_document(const Site& site, const CoverageMap& map, CoverageValue value) {
  const std::vector<RoomCover> rooms = rooms_worst_first(site, map, value);
  const double share_percent = weak_share_percent(map, site);
  Document document;
  auto& blocks = document.blocks;
  blocks.emplace_back(Paragraph{map.site + ": " + shortest_text(mhz_from_hz(map.frequency_hz)) + " MHz, " +
                                    doors_phrase(map.doors) + ", storey " + map.storey,
                                Tone::strong});
  blocks.emplace_back(
      Paragraph{verdict(rooms, map, share_percent), share_percent > 0 ? Tone::weak : Tone::strong});
  blocks.emplace_back(Paragraph{"The " + value_phrase(map, value) + " of a device of the profile " +
                                quoted_name(map.profile) + " " + shortest_text(map.height_m) +
                                " m over the floor, every " + shortest_text(map.step_m) + " m; " +
                                hubs_phrase(map) + "."});
  if (!rooms.empty()) blocks.emplace_back(room_table(rooms, value, map.reading.weak_below_percent));
  blocks.emplace_back(
      Paragraph{"! marks rooms with weak spots. --output FILE.svg or FILE.png draws the map.", Tone::faint});
  if (!map.cautions.empty()) {
    blocks.emplace_back(Heading{"Cautions"});
    blocks.emplace_back(caution_list(map.cautions));
  }
  blocks.emplace_back(Paragraph{short_caution()});
  return document;
}

}  // namespace linkmargin
