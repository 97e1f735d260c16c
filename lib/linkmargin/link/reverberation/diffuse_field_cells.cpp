#include "linkmargin/link/reverberation/diffuse_field_cells.hpp"

#include "linkmargin/geometry/overlap.hpp"
#include "linkmargin/link/building/building.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <map>
#include <utility>

namespace linkmargin {
namespace {

/// Walls that share less of a storey's height do not stand in it; an end so far inside a slab is in the room.
constexpr double kLeastShareM = 0.05;  ///< assumption; doubled, halved: 3.9, 12 dB at most, 0.3, 0.5 rms

/// Of a floor whose free path has been found, four thirds.
constexpr double kFreePaths = 4.0 / 3;  ///< doubled, halved: 4.9, 8.0 dB at most, 0.6, 1.3 rms

/// What walls enclose and no room holds is closed all the same where it is narrower: the air between two
/// leaves.
constexpr double kCavityM = 0.3;  ///< assumption; doubled, halved: 0.02 dB at most

/// A block as wide as any room.
constexpr double kOneBlockM = 1e9;

/// A piece of a room narrower than this part of a block counts with its neighbour, the more the narrower.
constexpr double kSliver = 0.25;  ///< assumption; doubled, halved: 0.2, 0.1 dB at most

/// No cut is given less resistance: pieces that are one are tied this closely.
constexpr double kLeastResistance = 1e-6;  ///< doubled or halved, no loss moves

/// Whether a plan of walls does not hold a point by rounding only: on a wall the half-open rule of crosses()
/// decides, and lies this far off.
constexpr Point2 kOffWalls{-0x1p-20, 0x1p-15};

/// Points of a line through a face at which its edges cross it, ascending, as lengths from `from`.
std::vector<double> stops(const Arrangement& plan, std::uint32_t face, Point2 from, Point2 along) {
  std::vector<double> result;
  for (const std::uint32_t i : plan.faces()[face].edges) {
    const Arrangement::Edge& edge = plan.edges()[i];
    if (edge.left == edge.right) continue;
    const double a = cross(along, edge.line.a - from), b = cross(along, edge.line.b - from);
    if ((a > 0) == (b > 0)) continue;
    result.push_back(dot(along, at_fraction(edge.line, a / (a - b)) - from));
  }
  std::ranges::sort(result);
  return result;
}

class CellBuilder {
 public:
  CellBuilder(const Building& building, DiffuseFieldCells& result) : building_(building), result_(result) {}

  void build(std::size_t most_cells) {
    for (const StoreySpace& space : building_.storeys()) add_storey(space);
    for (std::uint32_t s = 0; s < walls_.size(); ++s) add_regions(s);
    result_.too_many = result_.regions.size() > most_cells;
    if (result_.too_many || result_.regions.empty()) return;
    for (double wider = 1;; wider *= 1.3) {
      result_.cells.clear();
      result_.joints.clear();
      for (DiffuseFieldRegion& region : result_.regions) set_axes(region, wider);
      for (std::uint32_t s = 0; s < walls_.size(); ++s) cut(s, wider);
      if (result_.cells.size() <= most_cells || wider > 1000) break;
    }
    look_around();
  }

 private:
  void add_storey(const StoreySpace& space) {
    DiffuseFieldStorey storey{
        .floor_m = space.floor_m, .ceiling_m = space.ceiling_m, .panels = {}, .plan = {}, .cell_of = {}};
    std::vector<Segment2> lines;
    const auto add = [&](const Panel& panel) {
      const double shared_m =
          std::min(panel.top_m, space.ceiling_m) - std::max(panel.bottom_m, space.floor_m);
      if (panel.beyond || shared_m < std::min(kLeastShareM, panel.top_m - panel.bottom_m)) return;
      storey.panels.push_back(panel);
      lines.push_back(panel.base);
    };
    std::ranges::for_each(building_.panels(), add);
    std::ranges::for_each(building_.joints(), add);
    walls_.emplace_back(lines);
    result_.storeys.push_back(std::move(storey));
  }

  void add_regions(std::uint32_t s) {
    std::vector<Outline> rooms;
    for (const RoomSpace& room : building_.rooms()) {
      if (room.storey == s) rooms.push_back(Outline::of(room.outline));
    }
    for (std::uint32_t face = 1; face < walls_[s].faces().size(); ++face) {
      const Arrangement::Face& of = walls_[s].faces()[face];
      double in_rooms_m2 = rooms.empty() ? of.area_m2 : 0;  // without rooms, what walls close in is one
      for_overlaps(Outline::of(walls_[s], face), rooms, [&](const std::vector<bool>& inside, double area_m2) {
        if (std::ranges::find(inside, true) != inside.end()) in_rooms_m2 += area_m2;
      });
      const bool cavity = 2 * of.area_m2 < kCavityM * of.edge_m;
      if (in_rooms_m2 <= of.area_m2 / 2 && !cavity) continue;
      DiffuseFieldRegion region{
          .storey = s, .face = face, .area_m2 = of.area_m2, .edge_m = of.edge_m, .cavity = cavity};
      set_frame(region);
      result_.regions.push_back(region);
    }
  }

  /// Along the walls: their directions, a quarter turn counting for nothing, weighted by length.
  void set_frame(DiffuseFieldRegion& region) const {
    const Arrangement& plan = walls_[region.storey];
    const std::vector<std::uint32_t>& edges = plan.faces()[region.face].edges;
    std::complex<double> sum = 0;
    for (const std::uint32_t i : edges) {
      const Arrangement::Edge& edge = plan.edges()[i];
      const Point2 along = edge.line.b - edge.line.a;
      const double size = length(edge.line);
      if (edge.left != edge.right) sum += size * std::pow(std::complex(along.x / size, along.y / size), 4);
    }
    const double turn = std::abs(sum) > 1e-9 * region.edge_m ? std::arg(sum) / 4 : 0;
    region.along = {std::cos(turn), std::sin(turn)};
    Box2 box = Box2::nothing();
    for (const std::uint32_t i : edges) {
      for (const Point2 p : {plan.edges()[i].line.a, plan.edges()[i].line.b}) {
        box.take(Point2{dot(region.along, p), cross(region.along, p)});
      }
    }
    const Point2 middle = 0.5 * (box.min + box.max);
    region.middle = middle.x * region.along + middle.y * Point2{-region.along.y, region.along.x};
    region.axes = {BlockAxis(box.max.x - box.min.x, kOneBlockM),
                   BlockAxis(box.max.y - box.min.y, kOneBlockM)};
  }

  double block_m(const DiffuseFieldRegion& region, double wider) const {
    if (region.cavity) return kOneBlockM;
    const DiffuseFieldStorey& storey = result_.storeys[region.storey];
    const double height_m = storey.ceiling_m - storey.floor_m;
    return wider * kFreePaths * 4 * region.area_m2 * height_m /
           (2 * region.area_m2 + region.edge_m * height_m);
  }

  void set_axes(DiffuseFieldRegion& region, double wider) const {
    for (BlockAxis& axis : region.axes) axis = BlockAxis(axis.length_m(), block_m(region, wider));
  }

  /// The walls of a storey and the cuts through its rooms; each face within a room is a cell.
  void cut(std::uint32_t s, double wider) {
    DiffuseFieldStorey& storey = result_.storeys[s];
    std::vector<Segment2> lines;
    for (const Panel& panel : storey.panels) lines.push_back(panel.base);
    std::vector<double> weights;
    std::map<std::uint32_t, std::uint32_t> region_of;
    for (std::uint32_t r = 0; r < result_.regions.size(); ++r) {
      if (result_.regions[r].storey != s) continue;
      region_of[result_.regions[r].face] = r;
      add_cuts(result_.regions[r], lines, weights);
    }
    storey.plan = Arrangement(lines);
    storey.cell_of.assign(storey.plan.faces().size(), kNone);
    for (std::uint32_t face = 1; face < storey.plan.faces().size(); ++face) {
      const auto region = region_of.find(walls_[s].face_of(point_in(storey.plan, face)));
      if (region == region_of.end()) continue;
      const Arrangement::Face& of = storey.plan.faces()[face];
      DiffuseFieldCell cell{.storey = s, .region = region->second, .face = face, .area_m2 = of.area_m2};
      const DiffuseFieldRegion& home = result_.regions[cell.region];
      const Point2 middle = home.in_frame(of.middle);
      cell.interval = {home.axes[0].interval(middle.x), home.axes[1].interval(middle.y)};
      cell.height_m = storey.ceiling_m - storey.floor_m;
      storey.cell_of[face] = static_cast<std::uint32_t>(result_.cells.size());
      result_.cells.push_back(std::move(cell));
    }
    join(storey, weights, wider);
  }

  void add_cuts(const DiffuseFieldRegion& region, std::vector<Segment2>& lines,
                std::vector<double>& weights) const {
    for (const bool across : {false, true}) {
      for (const BlockAxis::Cut& cut : region.axes[across ? 1 : 0].cuts()) {
        const Point2 from = region.on_sheet(across ? Point2{0, cut.at_m} : Point2{cut.at_m, 0});
        const Point2 along = across ? region.along : Point2{-region.along.y, region.along.x};
        const std::vector<double> met = stops(walls_[region.storey], region.face, from, along);
        for (std::size_t i = 0; i + 1 < met.size(); i += 2) {
          if (met[i + 1] - met[i] <= Arrangement::kWeldedM) continue;
          lines.push_back({from + met[i] * along, from + met[i + 1] * along});
          weights.push_back(cut.weight);
        }
      }
    }
  }

  /// Beside the middle of the face's longest edge.
  static Point2 point_in(const Arrangement& plan, std::uint32_t face) {
    const Arrangement::Face& of = plan.faces()[face];
    const Arrangement::Edge* longest = nullptr;
    for (const std::uint32_t i : of.edges) {
      const Arrangement::Edge& edge = plan.edges()[i];
      if (edge.left == edge.right) continue;
      if (longest == nullptr || length(edge.line) > length(longest->line)) longest = &edge;
    }
    if (longest == nullptr) return of.middle;
    const double off_m = std::min(1e-3, 0.1 * of.area_m2 / of.edge_m);
    const Point2 along = (1 / length(longest->line)) * (longest->line.b - longest->line.a);
    const Point2 left{-along.y, along.x};
    return at_fraction(longest->line, 0.5) + (longest->left == face ? off_m : -off_m) * left;
  }

  void join(const DiffuseFieldStorey& storey, const std::vector<double>& weights, double wider) {
    std::map<std::pair<std::uint32_t, std::uint32_t>, DiffuseFieldJoint> joints;
    for (const Arrangement::Edge& edge : storey.plan.edges()) {
      const std::uint32_t source = storey.plan.sources(edge).front();  // walls come before cuts
      const std::uint32_t one = storey.cell_of[edge.left], other = storey.cell_of[edge.right];
      if (source < storey.panels.size() || one == other || one == kNone || other == kNone) continue;
      DiffuseFieldJoint& joint = joints[std::minmax(one, other)];
      joint.length_m += length(edge.line);
      joint.resistance = weights[source - storey.panels.size()];
    }
    for (auto& [cells, joint] : joints) {
      joint.one = cells.first;
      joint.other = cells.second;
      const DiffuseFieldCell &one = result_.cells[joint.one], &other = result_.cells[joint.other];
      const double narrow_m = std::min(one.area_m2, other.area_m2) / joint.length_m;
      const double block = block_m(result_.regions[one.region], wider);
      joint.resistance =
          std::max(kLeastResistance, joint.resistance * std::min(1.0, narrow_m / (kSliver * block)));
      result_.joints.push_back(joint);
    }
  }

  /// From every cell to those that lie in the blocks around, by steps that lead away from it.
  void look_around() {
    std::vector<std::vector<std::uint32_t>> touching(result_.cells.size());
    for (const DiffuseFieldJoint& joint : result_.joints) {
      touching[joint.one].push_back(joint.other);
      touching[joint.other].push_back(joint.one);
    }
    for (std::uint32_t home = 0; home < result_.cells.size(); ++home) {
      DiffuseFieldCell& cell = result_.cells[home];
      const DiffuseFieldRegion& region = result_.regions[cell.region];
      const auto away = [&](std::uint32_t other, std::size_t axis) {
        return std::abs(result_.cells[other].interval[axis] - cell.interval[axis]);
      };
      cell.near = {home};
      for (std::size_t i = 0; i < cell.near.size(); ++i) {
        const std::uint32_t from = cell.near[i];
        for (const std::uint32_t next : touching[from]) {
          const bool known = std::ranges::find(cell.near, next) != cell.near.end();
          if (known || away(next, 0) > region.axes[0].reach() || away(next, 1) > region.axes[1].reach())
            continue;
          if (away(next, 0) < away(from, 0) || away(next, 1) < away(from, 1)) continue;
          cell.near.push_back(next);
        }
      }
    }
  }

  const Building& building_;
  DiffuseFieldCells& result_;
  std::vector<Arrangement> walls_;  // of each storey
};

}  // namespace

Point2 DiffuseFieldRegion::in_frame(Point2 p) const {
  const Point2 from = p - middle;
  return {dot(along, from) + axes[0].length_m() / 2, cross(along, from) + axes[1].length_m() / 2};
}

Point2 DiffuseFieldRegion::on_sheet(Point2 in_frame) const {
  const Point2 across{-along.y, along.x};
  return middle + (in_frame.x - axes[0].length_m() / 2) * along +
         (in_frame.y - axes[1].length_m() / 2) * across;
}

DiffuseFieldCells DiffuseFieldCells::of(const Building& building, std::size_t most_cells) {
  DiffuseFieldCells result;
  CellBuilder(building, result).build(most_cells);
  return result;
}

std::optional<DiffuseFieldCells::Place> DiffuseFieldCells::locate(Point3 p) const {
  if (cells.empty()) return std::nullopt;
  const Point2 plan = p.plan() + kOffWalls;
  for (std::uint32_t s = 0; s < storeys.size(); ++s) {
    const DiffuseFieldStorey& storey = storeys[s];
    if (p.z < storey.floor_m - kLeastShareM || p.z > storey.ceiling_m + kLeastShareM) continue;
    const std::uint32_t cell = storey.cell_of[storey.plan.face_of(plan)];
    if (cell != kNone) return Place{s, cell};
  }
  return std::nullopt;
}

std::vector<DiffuseFieldCells::Share> DiffuseFieldCells::shares(const Place& place, Point2 p) const {
  const DiffuseFieldCell& home = cells[place.cell];
  const DiffuseFieldRegion& region = regions[home.region];
  const Point2 at = region.in_frame(p);
  const auto along = region.axes[0].weights(at.x), across = region.axes[1].weights(at.y);
  std::vector<Share> result;
  double sum = 0;
  for (const auto& [v, weight_v] : across) {
    for (const auto& [u, weight_u] : along) {
      std::vector<std::uint32_t> in_block;
      double area_m2 = 0;
      for (const std::uint32_t near : home.near) {
        if (cells[near].interval[0] != u || cells[near].interval[1] != v) continue;
        in_block.push_back(near);
        area_m2 += cells[near].area_m2;
      }
      if (in_block.empty()) continue;
      for (const std::uint32_t near : in_block) {
        result.push_back({near, weight_u * weight_v * cells[near].area_m2 / area_m2});
      }
      sum += weight_u * weight_v;
    }
  }
  if (sum <= 0) return {{place.cell, 1}};
  for (Share& share : result) share.share /= sum;
  return result;
}

}  // namespace linkmargin
