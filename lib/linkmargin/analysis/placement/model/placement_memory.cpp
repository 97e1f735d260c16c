#include "linkmargin/analysis/placement/model/placement_memory.hpp"

#include "linkmargin/analysis/placement/model/placement_scenario.hpp"
#include "linkmargin/geometry/polygon.hpp"
#include "linkmargin/site/storey_extent.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <utility>

namespace linkmargin {
namespace {

// Bytes of the vectors that placement_places(), PlacementChances and PlacementSearch keep.
constexpr double kEachCell = sizeof(std::uint32_t) + 1;  // its number, and whether it is open
constexpr double kEachCellAndThread = 2 * sizeof(float) + 1;
constexpr double kEachPlace = sizeof(PlacePoint) + sizeof(PlaceCell) + sizeof(std::uint32_t);
constexpr double kEachPlaceAndThread = sizeof(PlaceCell) + sizeof(std::uint32_t) + sizeof(WayLoss);
constexpr double kEachGroupPlace =
    sizeof(std::uint32_t) + 3 * sizeof(double) + 64;  // a set of items on the heap
constexpr double kEachGroupPlaceAndThread = sizeof(float);
constexpr double kEachChance = sizeof(float) + 0.25;  // and bits of sets

double box_m2(const Box2& box) {
  return box.empty() ? 0 : (box.max.x - box.min.x) * (box.max.y - box.min.y);
}

bool has_rooms(const Site& site) {
  return std::ranges::any_of(site.storeys, [](const Storey& storey) { return !storey.rooms.empty(); });
}

/// What a level of a storey is a grid of.
double level_m2(const Site& site, std::size_t storey) {
  Box2 box = Box2::nothing();
  for (const Room& room : site.storeys[storey].rooms) box.take(bounding_box(room.corners));
  return box_m2(box.empty() ? storey_extent(site, storey) : box);
}

/// Where on a storey a radio may go.
double open_m2(const Site& site, const Hub& radio, std::size_t storey) {
  double area_m2 = has_rooms(site) ? 0 : level_m2(site, storey);
  const auto* within = radio.may_move ? std::get_if<Mobility::Within>(&radio.may_move->reach) : nullptr;
  const auto* room_only =
      radio.may_move ? std::get_if<Mobility::WithinRoom>(&radio.may_move->reach) : nullptr;
  if (within != nullptr) area_m2 = std::abs(signed_area(within->corners));
  for (const Room& room : site.storeys[storey].rooms) {
    const bool wanted = within == nullptr && (room_only == nullptr || room.name == room_only->room);
    if (wanted && !room.keep_out) area_m2 += std::abs(signed_area(room.corners));
  }
  if (radio.near_mains_m)
    area_m2 = std::min(area_m2, std::numbers::pi * *radio.near_mains_m * *radio.near_mains_m);
  return area_m2;
}

/// Its places are on no grid.
bool stays(const Hub& radio) {
  return radio.fixed || (radio.may_move && (std::holds_alternative<Mobility::Radius>(radio.may_move->reach) ||
                                            std::holds_alternative<Mobility::Along>(radio.may_move->reach)));
}

}  // namespace

double placement_bytes(const Site& site, const std::vector<PlacedRadio>& radios, double step_m, int threads) {
  const auto items = static_cast<double>(site.devices.size() + site.areas.size());
  const double cell_bytes = kEachCell + threads * kEachCellAndThread;
  const double place_bytes = kEachPlace + threads * kEachPlaceAndThread;
  const double group_bytes = kEachGroupPlace + threads * kEachGroupPlaceAndThread + items * kEachChance;
  std::map<std::pair<std::size_t, double>, double> levels;  // storey and height: where anything may go
  double bytes = 0;
  for (const std::vector<PlacedRadio>& kind : placed_kinds(site, radios)) {
    const Hub& radio = kind.front().radio;
    if (stays(radio)) continue;
    const bool own_storey = radio.may_move.has_value() || radio.near_mains_m.has_value();
    for (std::size_t s = 0; s < site.storeys.size(); ++s) {
      if (own_storey && s != radio.place.storey) continue;
      const double height_m = s == radio.place.storey
                                  ? radio.place.height_m
                                  : std::min(radio.place.height_m, site.storeys[s].height_m);
      const double area_m2 = open_m2(site, radio, s);
      double& open = levels[{s, height_m}];
      open = std::max(open, area_m2);
      bytes +=
          area_m2 * group_bytes * static_cast<double>(kind.size());  // a search goes a step deeper for each
    }
  }
  for (const auto& [level, area_m2] : levels)
    bytes += level_m2(site, level.first) * cell_bytes + area_m2 * place_bytes;
  return bytes / (step_m * step_m);
}

}  // namespace linkmargin
