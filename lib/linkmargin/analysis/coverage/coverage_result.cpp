#include "linkmargin/analysis/coverage/coverage_result.hpp"
#include "linkmargin/geometry/polygon.hpp"
#include "linkmargin/link/radio/metal_mount.hpp"

#include <algorithm>

namespace linkmargin {

Point2 CoverageMap::centre(std::size_t cell) const {
  const auto across = static_cast<std::size_t>(columns);
  return {origin.x + (static_cast<double>(cell % across) + 0.5) * step_m,
          origin.y + (static_cast<double>(cell / across) + 0.5) * step_m};
}

double CoverageMap::total_loss_db(const CoverageHub& of, Point2 at, double path_db) const {
  if (!of.metal) return path_db;
  return path_db + linkmargin::metal_loss_db(*of.metal, of.at, {at.x, at.y, z_m});
}

double CoverageMap::cell_loss_db(std::size_t cell) const {
  const double loss_db = total_loss_db(hub(cell), centre(cell), path_loss_db[cell]);
  return nearby_shift_db.empty() ? loss_db : loss_db - nearby_shift_db[cell];
}

namespace {

double needed_dbm(const CoverageMap& map, double sensitivity_dbm) {
  return std::max(threshold_level(map.reading).value, sensitivity_dbm);
}

}  // namespace

double value_at(const CoverageMap& map, std::size_t cell, CoverageValue value) {
  const CoverageHub& hub = map.hub(cell);
  const double loss_db = map.cell_loss_db(cell);
  const double level_dbm = hub.level_at_no_loss_dbm - loss_db;
  switch (value) {
    case CoverageValue::loss:
      return map.path_loss_db[cell];
    case CoverageValue::level:
      return level_dbm;
    case CoverageValue::margin:
      return level_dbm - hub.sensitivity_dbm;
    case CoverageValue::reading:
      return level_dbm < hub.sensitivity_dbm ? 0 : reading_percent(map.reading, Dbm{level_dbm});
    case CoverageValue::chance: {
      if (map.sigma_db.empty()) throw DomainError("the map was made without chances");
      const auto chance = [&](double level, double sensitivity_dbm) {
        return map.fading_model.chance(Dbm{level}, Dbm{needed_dbm(map, sensitivity_dbm)}, map.sigma_db[cell],
                                       map.k_db[cell]);
      };
      double own = chance(level_dbm, hub.sensitivity_dbm);
      if (hub.other)
        own = std::min(own, chance(hub.other->level_at_no_loss_dbm - loss_db, hub.other->sensitivity_dbm));
      return map.onward_probability.empty() ? own : own * map.onward_probability[cell];
    }
  }
  return 0;
}

double headroom_db(const CoverageMap& map, std::size_t cell) {
  const CoverageHub& hub = map.hub(cell);
  const auto over = [&](double level_dbm, double sensitivity_dbm) {
    const bool any_reading = map.reading.weak_below_percent == 0;  // no reading is under that
    return level_dbm - (any_reading ? sensitivity_dbm : needed_dbm(map, sensitivity_dbm));
  };
  double over_db = over(hub.level_at_no_loss_dbm, hub.sensitivity_dbm);
  if (hub.other) {
    over_db = std::min(over_db, over(hub.other->level_at_no_loss_dbm, hub.other->sensitivity_dbm));
  }
  over_db -= map.cell_loss_db(cell);
  return hub.hub.empty() ? over_db : std::min(over_db, hub.onward_headroom_db);
}

bool weak_at(const CoverageMap& map, std::size_t cell) {
  return headroom_db(map, cell) < 0;
}

WeakShares weak_shares(const CoverageMap& map, const Site& site) {
  struct Count {
    std::size_t cells = 0;
    std::size_t weak = 0;
    std::optional<double> percent() const {
      if (cells == 0) return {};
      return 100 * static_cast<double>(weak) / static_cast<double>(cells);
    }
  };
  const auto storey = std::ranges::find(site.storeys, map.storey, &Storey::name);
  const bool has_rooms = storey != site.storeys.end() && !storey->rooms.empty();
  Count rooms;
  Count outside;
  for (std::size_t cell = 0; cell < map.size(); ++cell) {
    const Point2 p = snapped(map.centre(cell));
    const bool inside = !has_rooms || std::ranges::any_of(storey->rooms, [&](const Room& room) {
      return contains(room.corners, p);
    });
    Count& count = inside ? rooms : outside;
    ++count.cells;
    count.weak += weak_at(map, cell) ? 1 : 0;
  }
  return {rooms.percent(), outside.percent()};
}

}  // namespace linkmargin
