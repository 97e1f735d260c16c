#include "linkmargin/link/echo_cells.hpp"

#include "linkmargin/link/scene.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

/// Between nodes. The lengths of walls and doors are reckoned exactly.
constexpr double kPitchM = 0.25;

/// In one storey. Wider between nodes where the plan is larger than some 22 m by 22 m.
constexpr std::size_t kMostNodes = 8000;

/// Walls that share less than this of a storey's height do not stand in it.
constexpr double kLeastShareM = 0.05;

/// Of a floor whose free path has been found, four thirds.
constexpr double kFreePaths = 4.0 / 3;

/// What is known of a closed room, or of several that nothing parts.
struct Region {
  bool indoors = false;
  double area_m2 = 0;
  double edge_m = 0;  ///< length of wall round it and in it
  Box2 box = Box2::nothing();

  double cell_m(double height_m) const {
    return kFreePaths * 4 * area_m2 * height_m / (2 * area_m2 + edge_m * height_m);
  }
};

class CellBuilder {
 public:
  CellBuilder(const Scene& scene, EchoCells& result) : scene_(scene), result_(result) {}

  void build(std::size_t most_cells) {
    if (!add_storeys()) return;
    for (std::uint32_t s = 0; s < result_.storeys.size(); ++s) regions_.push_back(regions_of(s));
    std::size_t rooms = 0;
    for (const auto& regions : regions_) {
      rooms += static_cast<std::size_t>(std::ranges::count(regions, true, &Region::indoors));
    }
    result_.too_many = rooms > most_cells;
    if (result_.too_many) return;
    for (double wider = 1;; wider *= 1.3) {
      result_.cells.clear();
      for (std::uint32_t s = 0; s < result_.storeys.size(); ++s) cut(s, wider);
      if (result_.cells.size() <= most_cells || wider > 1000) break;
    }
    for (EchoCell& cell : result_.cells) look_around(cell);
  }

 private:
  bool add_storeys() {
    Box2 box = Box2::nothing();
    std::vector<std::vector<Segment2>> walls;
    for (const StoreySpace& space : scene_.storeys()) {
      EchoStorey storey{
          .floor_m = space.floor_m, .ceiling_m = space.ceiling_m, .panels = {}, .grid = {}, .cell_of = {}};
      walls.emplace_back();
      const auto add = [&](const Panel& panel) {
        const double shared_m =
            std::min(panel.top_m, space.ceiling_m) - std::max(panel.bottom_m, space.floor_m);
        if (panel.beyond || shared_m < std::min(kLeastShareM, panel.top_m - panel.bottom_m)) return;
        storey.panels.push_back(panel);
        walls.back().push_back(panel.base);
        box.take(panel.base.a);
        box.take(panel.base.b);
      };
      std::ranges::for_each(scene_.panels(), add);
      std::ranges::for_each(scene_.joints(), add);
      result_.storeys.push_back(std::move(storey));
    }
    if (box.min.x > box.max.x) return false;
    const NodeLayout layout = NodeLayout::over(box, kPitchM, kMostNodes);
    for (std::size_t s = 0; s < walls.size(); ++s) {
      result_.storeys[s].grid = RegionGrid(layout, walls[s]);
      result_.storeys[s].cell_of.assign(layout.size(), kNone);
    }
    return true;
  }

  std::vector<Region> regions_of(std::uint32_t s) const {
    const RegionGrid& grid = result_.storeys[s].grid;
    const NodeLayout& layout = grid.layout();
    std::vector<Region> regions(grid.region_count());
    std::vector<double> inside(regions.size());
    const std::vector<char> in_room = nodes_in_rooms(s);
    for (std::uint32_t node = 0; node < layout.size(); ++node) {
      Region& region = regions[grid.region(node)];
      const Point2 p = layout.at(node);
      region.area_m2 += layout.pitch_m * layout.pitch_m;
      region.box.min = {std::min(region.box.min.x, p.x), std::min(region.box.min.y, p.y)};
      region.box.max = {std::max(region.box.max.x, p.x), std::max(region.box.max.y, p.y)};
      inside[grid.region(node)] += in_room[node] ? 1 : 0;
      for (const bool right : {true, false}) {
        const auto walls = right ? grid.walls_right(node) : grid.walls_above(node);
        if (walls.empty()) continue;
        const std::uint32_t other = node + (right ? 1 : static_cast<std::uint32_t>(layout.columns));
        const Point2 normal = result_.storeys[s].panels[walls.front()].normal;
        const double length_m = layout.pitch_m * std::abs(right ? normal.x : normal.y);
        regions[grid.region(node)].edge_m += length_m;
        regions[grid.region(other)].edge_m += length_m;
      }
    }
    for (std::uint32_t i = 1; i < regions.size(); ++i) {  // 0 lies outside all walls
      const double count = regions[i].area_m2 / (layout.pitch_m * layout.pitch_m);
      regions[i].indoors = inside[i] > count / 2;
    }
    return regions;
  }

  /// Without rooms, what walls close in is one.
  std::vector<char> nodes_in_rooms(std::uint32_t s) const {
    const NodeLayout& layout = result_.storeys[s].grid.layout();
    const bool none = std::ranges::none_of(scene_.rooms(), [&](const RoomSpace& r) { return r.storey == s; });
    std::vector<char> inside(layout.size(), none ? 1 : 0);
    for (const RoomSpace& room : scene_.rooms()) {
      if (room.storey != s) continue;
      layout.for_nodes_in(room.box, [&](std::uint32_t node) {
        if (contains(room.outline, layout.at(node))) inside[node] = 1;
      });
    }
    return inside;
  }

  /// Flood within each block of each region.
  void cut(std::uint32_t s, double wider) {
    EchoStorey& storey = result_.storeys[s];
    const NodeLayout& layout = storey.grid.layout();
    std::ranges::fill(storey.cell_of, kNone);
    const auto columns = static_cast<std::uint32_t>(layout.columns);
    std::vector<std::uint32_t> open;
    for (std::uint32_t start = 0; start < layout.size(); ++start) {
      const std::uint32_t region = storey.grid.region(start);
      if (storey.cell_of[start] != kNone || !regions_[s][region].indoors) continue;
      const Block block = block_at(s, region, layout.at(start), wider);
      const auto cell = static_cast<std::uint32_t>(result_.cells.size());
      double area_m2 = 0;
      const auto reach = [&](std::uint32_t node, bool joined) {
        if (!joined || storey.cell_of[node] != kNone || !block.holds(layout.at(node))) return;
        storey.cell_of[node] = cell;
        area_m2 += layout.pitch_m * layout.pitch_m;
        open.push_back(node);
      };
      reach(start, true);
      while (!open.empty()) {
        const std::uint32_t node = open.back();
        open.pop_back();
        // No node of a closed region lies on the layout's rim.
        reach(node + 1, storey.grid.walls_right(node).empty());
        reach(node - 1, storey.grid.walls_right(node - 1).empty());
        reach(node + columns, storey.grid.walls_above(node).empty());
        reach(node - columns, storey.grid.walls_above(node - columns).empty());
      }
      EchoCell made{.storey = s,
                    .region = region,
                    .around = {},
                    .middle = block.middle,
                    .size = block.size,
                    .area_m2 = area_m2,
                    .height_m = storey.ceiling_m - storey.floor_m};
      made.around.fill(kNone);
      result_.cells.push_back(made);
    }
  }

  struct Block {
    Point2 middle;
    Point2 size;
    bool holds(Point2 p) const {
      return std::abs(p.x - middle.x) <= size.x / 2 + 1e-9 && std::abs(p.y - middle.y) <= size.y / 2 + 1e-9;
    }
  };

  /// A region's box in equal blocks about as wide as its cells should be.
  Block block_at(std::uint32_t s, std::uint32_t region_index, Point2 p, double wider) const {
    const Region& region = regions_[s][region_index];
    const double pitch_m = result_.storeys[s].grid.layout().pitch_m;
    const double height_m = result_.storeys[s].ceiling_m - result_.storeys[s].floor_m;
    const double cell_m = wider * region.cell_m(height_m);
    const auto along = [&](double low, double high, double at, double& middle, double& size) {
      const double whole = high - low + pitch_m;
      const double count = std::max(1.0, std::round(whole / cell_m));
      size = whole / count;
      const double position = std::clamp(std::floor((at - low + pitch_m / 2) / size), 0.0, count - 1);
      middle = low - pitch_m / 2 + (position + 0.5) * size;
    };
    Block block;
    along(region.box.min.x, region.box.max.x, p.x, block.middle.x, block.size.x);
    along(region.box.min.y, region.box.max.y, p.y, block.middle.y, block.size.y);
    return block;
  }

  /// Finds the cells of the neighbouring blocks that can be reached without passing a third block's.
  void look_around(EchoCell& cell) {
    const auto position = static_cast<std::uint32_t>(&cell - result_.cells.data());
    const std::vector<std::uint32_t> near = neighbours(position);
    const auto place = [&](std::uint32_t other) {
      const EchoCell& that = result_.cells[other];
      const int dx = static_cast<int>(std::lround((that.middle.x - cell.middle.x) / cell.size.x));
      const int dy = static_cast<int>(std::lround((that.middle.y - cell.middle.y) / cell.size.y));
      if (std::abs(dx) > 1 || std::abs(dy) > 1) return;
      std::uint32_t& slot = cell.around[static_cast<std::size_t>((dy + 1) * 3 + dx + 1)];
      if (slot == kNone) slot = other;
    };
    place(position);
    for (const std::uint32_t other : near) place(other);
    for (const std::uint32_t other : near) {
      for (const std::uint32_t further : neighbours(other)) place(further);
    }
  }

  /// Cells of the same region that touch a cell with no wall between, in order.
  const std::vector<std::uint32_t>& neighbours(std::uint32_t cell) {
    if (touching_.empty()) find_touching();
    return touching_[cell];
  }

  void find_touching() {
    touching_.resize(result_.cells.size());
    for (const EchoStorey& storey : result_.storeys) {
      const NodeLayout& layout = storey.grid.layout();
      const auto join = [&](std::uint32_t one, std::uint32_t other, bool open) {
        if (!open || storey.cell_of[one] == storey.cell_of[other]) return;
        if (storey.cell_of[one] == kNone || storey.cell_of[other] == kNone) return;
        touching_[storey.cell_of[one]].push_back(storey.cell_of[other]);
        touching_[storey.cell_of[other]].push_back(storey.cell_of[one]);
      };
      const auto columns = static_cast<std::uint32_t>(layout.columns);
      for (std::uint32_t node = 0; node + columns < layout.size(); ++node) {
        join(node, node + columns, storey.grid.walls_above(node).empty());
        if (layout.column(node) + 1 < layout.columns) {
          join(node, node + 1, storey.grid.walls_right(node).empty());
        }
      }
    }
    for (auto& list : touching_) {
      std::ranges::sort(list);
      list.erase(std::unique(list.begin(), list.end()), list.end());
    }
  }

  const Scene& scene_;
  EchoCells& result_;
  std::vector<std::vector<Region>> regions_;
  std::vector<std::vector<std::uint32_t>> touching_;
};

}  // namespace

EchoCells EchoCells::of(const Scene& scene, std::size_t most_cells) {
  EchoCells result;
  CellBuilder(scene, result).build(most_cells);
  return result;
}

std::optional<EchoCells::Place> EchoCells::locate(Point3 p) const {
  for (std::uint32_t s = 0; s < storeys.size(); ++s) {
    const EchoStorey& storey = storeys[s];
    if (p.z < storey.floor_m - kLeastShareM || p.z > storey.ceiling_m + kLeastShareM) continue;
    const auto node = storey.grid.node_of(p.plan());
    if (!node || storey.cell_of[*node] == kNone) continue;
    return Place{s, storey.cell_of[*node]};
  }
  return std::nullopt;
}

}  // namespace linkmargin
