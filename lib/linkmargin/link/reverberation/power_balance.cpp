#include "linkmargin/link/reverberation/power_balance.hpp"

#include "linkmargin/geometry/overlap.hpp"
#include "linkmargin/link/building/building.hpp"
#include "linkmargin/link/building/wall_builder.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <utility>

namespace linkmargin {
namespace {

/// How far over a ceiling or under a floor the slab between may end, and how far a storey may overlap the
/// next.
constexpr double kThickestSlabM = 1.0;  ///< assumption; doubled or halved, no loss moves
constexpr double kSlackM = 0.05;        ///< assumption; doubled or halved, no loss moves

constexpr DiffuseShares kOpenAir{.transmitted = 1, .reflected = 0};

/// Adds up the faces of every cell and solves the balance.
class BalanceBuilder {
 public:
  BalanceBuilder(const Building& building, const DiffuseFieldCells& field)
      : building_(building), field_(field) {
    const auto count = static_cast<Eigen::Index>(cells().size());
    area_ = Eigen::VectorXd::Zero(count);
    reflected_ = Eigen::VectorXd::Zero(count);
    passing_ = Eigen::MatrixXd::Zero(count, count);
    wall_m2_.resize(cells().size());
    wall_reflected_m2_.resize(cells().size());
  }

  PowerBalance solve() {
    for (std::uint32_t s = 0; s < storeys().size(); ++s) add_walls(s);
    find_plain_floors();
    add_joints();
    for (std::uint32_t cell = 0; cell < cells().size(); ++cell) add_floors(cell);
    // What hits each cell's faces, per m2, for power sent: with all reflections, less what never was
    // reflected.
    const Eigen::MatrixXd whole = area_.asDiagonal();
    Eigen::MatrixXd balance = whole - passing_;
    const auto one = Eigen::MatrixXd::Identity(area_.size(), area_.size());
    Eigen::MatrixXd coupling = -balance.llt().solve(one);
    balance.diagonal() -= reflected_;
    coupling += balance.llt().solve(one);
    result_.coupling.assign(coupling.data(), coupling.data() + coupling.size());
    return std::move(result_);
  }

 private:
  using Key = std::pair<std::uint32_t, std::uint32_t>;

  const std::vector<DiffuseFieldStorey>& storeys() const { return field_.storeys; }
  const std::vector<DiffuseFieldCell>& cells() const { return field_.cells; }

  /// Of an barrier; one construction is computed once.
  DiffuseShares diffuse(std::uint32_t barrier) {
    const Barrier& of = building_.barriers()[barrier];
    const auto known = diffuse_.find(of.material);
    if (known != diffuse_.end()) return known->second;
    return diffuse_.emplace(of.material, of.transmission.diffuse()).first->second;
  }

  static Eigen::Index at(std::uint32_t cell) { return static_cast<Eigen::Index>(cell); }

  void add_face(std::uint32_t cell, double area_m2, DiffuseShares shares) {
    if (cell == kNone) return;
    area_[at(cell)] += area_m2;
    reflected_[at(cell)] += area_m2 * shares.reflected;
  }

  /// Both faces of something between two cells, either of which may be out of doors.
  void add_between(std::uint32_t one, std::uint32_t other, double area_m2, DiffuseShares shares) {
    add_face(one, area_m2, shares);
    add_face(other, area_m2, shares);
    if (one == kNone || other == kNone) return;
    passing_(at(one), at(other)) += area_m2 * shares.transmitted;
    passing_(at(other), at(one)) += area_m2 * shares.transmitted;
  }

  /// What stands in a wall over a part of a storey's height.
  struct Slice {
    double bottom_m;
    double top_m;
    DiffuseShares shares;

    double height_m() const { return top_m - bottom_m; }
  };

  /// From the floor up; what no panel fills is open.
  std::vector<Slice> slices(const DiffuseFieldStorey& storey, std::span<const std::uint32_t> panels) {
    std::vector<Slice> result;
    for (const std::uint32_t p : panels) {
      const Panel& panel = storey.panels[p];
      const double low = std::max(panel.bottom_m, storey.floor_m);
      const double high = std::min(panel.top_m, storey.ceiling_m);
      if (panel.barrier != kNone && low < high) result.push_back({low, high, diffuse(panel.barrier)});
    }
    std::ranges::sort(result, {}, &Slice::bottom_m);
    std::vector<Slice> filled;
    double reached_m = storey.floor_m;
    for (const Slice& slice : result) {
      if (slice.bottom_m - reached_m > kSlackM) filled.push_back({reached_m, slice.bottom_m, kOpenAir});
      filled.push_back(slice);
      reached_m = std::max(reached_m, slice.top_m);
    }
    if (storey.ceiling_m - reached_m > kSlackM) filled.push_back({reached_m, storey.ceiling_m, kOpenAir});
    return filled;
  }

  void add_walls(std::uint32_t s) {
    const DiffuseFieldStorey& storey = storeys()[s];
    for (std::uint32_t i = 0; i < storey.plan.edges().size(); ++i) {
      const Arrangement::Edge& edge = storey.plan.edges()[i];
      const std::uint32_t one = storey.cell_of[edge.left], other = storey.cell_of[edge.right];
      const std::vector<std::uint32_t> walls = walls_of(storey, edge);
      if (walls.empty() || (one == kNone && other == kNone)) continue;
      const std::vector<Slice> all = passed(storey, walls);
      for (const Slice& slice : all) {
        const double area_m2 = length(edge.line) * slice.height_m();
        add_between(one, other, area_m2, slice.shares);
        for (const std::uint32_t cell : {one, other}) note_wall(cell, area_m2, slice.shares);
        if (one == kNone) add_outer(edge.line, true, other, slice, false);
        if (other == kNone) add_outer(edge.line, false, one, slice, false);
      }
      const std::uint32_t lining = building_.walls()[storey.panels[walls.front()].wall].eaves;
      if (lining == kNone) continue;
      if (one == kNone) add_eaves(storey, all, lining, edge.line, true, other);
      if (other == kNone) add_eaves(storey, all, lining, edge.line, false, one);
    }
  }

  /// Blocks of one room: as through air, but that a cut only half made holds back less, down to nothing.
  void add_joints() {
    for (const DiffuseFieldJoint& joint : field_.joints) {
      const double area_m2 = joint.length_m * cells()[joint.one].height_m / joint.resistance;
      add_between(joint.one, joint.other, area_m2, kOpenAir);
    }
  }

  /// The panels that an edge of the plan is a piece of, wall by wall; none for a cut.
  static std::vector<std::uint32_t> walls_of(const DiffuseFieldStorey& storey,
                                             const Arrangement::Edge& edge) {
    std::vector<std::uint32_t> panels;
    for (const std::uint32_t source : storey.plan.sources(edge)) {
      if (source < storey.panels.size()) panels.push_back(source);
    }
    std::ranges::stable_sort(panels, {}, [&](std::uint32_t p) { return storey.panels[p].wall; });
    return panels;
  }

  /// One wall's slices as they are; of several on each other what passes and is thrown back between them,
  /// height by height.
  std::vector<Slice> passed(const DiffuseFieldStorey& storey, std::span<const std::uint32_t> walls) {
    std::vector<std::vector<Slice>> layers;
    for (std::size_t first = 0; first < walls.size();) {
      std::vector<std::uint32_t> same;
      const std::uint32_t wall = storey.panels[walls[first]].wall;
      while (first < walls.size() && storey.panels[walls[first]].wall == wall) same.push_back(walls[first++]);
      layers.push_back(slices(storey, same));
    }
    std::vector<Slice> all = layers.front();
    for (std::size_t i = 1; i < layers.size(); ++i) all = behind(all, layers[i]);
    return all;
  }

  static std::vector<Slice> behind(const std::vector<Slice>& first, const std::vector<Slice>& second) {
    std::vector<Slice> result;
    for (const Slice& one : first) {
      for (const Slice& other : second) {
        const double low = std::max(one.bottom_m, other.bottom_m), high = std::min(one.top_m, other.top_m);
        if (low < high) result.push_back({low, high, behind(one.shares, other.shares)});
      }
    }
    return result;
  }

  /// Two leaves that throw back and forth what has passed one of them; both sides throw back the mean of the
  /// two.
  static DiffuseShares behind(DiffuseShares first, DiffuseShares second) {
    if (first.transmitted >= 1) return second;
    if (second.transmitted >= 1) return first;
    const double kept = 1 - first.reflected * second.reflected;
    const auto thrown_back = [&](DiffuseShares near, DiffuseShares far) {
      return near.reflected + near.transmitted * near.transmitted * far.reflected / kept;
    };
    return {.transmitted = first.transmitted * second.transmitted / kept,
            .reflected = (thrown_back(first, second) + thrown_back(second, first)) / 2};
  }

  void note_wall(std::uint32_t cell, double area_m2, DiffuseShares shares) {
    if (cell == kNone || shares.transmitted >= 1) return;
    wall_m2_[cell] += area_m2;
    wall_reflected_m2_[cell] += area_m2 * shares.reflected;
  }

  /// @param left  whether the open lies on the left of the line
  void add_outer(Segment2 line, bool left, std::uint32_t cell, const Slice& slice, bool eaves) {
    if (slice.shares.transmitted <= 0) return;
    const double size = length(line);
    const Point2 along = (1 / size) * (line.b - line.a);
    OuterFace face;
    face.cell = cell;
    face.start = line.a;
    face.along = along;
    face.outward = left ? Point2{-along.y, along.x} : Point2{along.y, -along.x};
    face.length_m = size;
    face.bottom_m = slice.bottom_m;
    face.top_m = slice.top_m;
    face.transmitted = slice.shares.transmitted;
    face.eaves = eaves;
    result_.faces.push_back(face);
  }

  /// The open end of a roof on an outer wall shines over the wall. What the room loses there is left out: it
  /// is little, and a balance that mixes steep and level waves finds rooms under metal too quiet already.
  void add_eaves(const DiffuseFieldStorey& storey, const std::vector<Slice>& wall, std::uint32_t lining,
                 Segment2 line, bool left, std::uint32_t cell) {
    const DiffuseShares through = building_.barriers()[lining].transmission.diffuse();
    double wall_passes = 0;
    for (const Slice& slice : wall) wall_passes = std::max(wall_passes, slice.shares.transmitted);
    if (through.transmitted < wall_passes * std::pow(10, kEavesMatterDb / 10)) return;
    add_outer(line, left, cell, {storey.ceiling_m, storey.ceiling_m, through}, true);
  }

  /// A floor or ceiling that the site does not describe reflects as the walls of its room do, and lets
  /// nothing through.
  void find_plain_floors() {
    std::map<Key, std::pair<double, double>> rooms;
    for (std::uint32_t cell = 0; cell < cells().size(); ++cell) {
      auto& [area_m2, reflected_m2] = rooms[{cells()[cell].storey, cells()[cell].region}];
      area_m2 += wall_m2_[cell];
      reflected_m2 += wall_reflected_m2_[cell];
    }
    plain_.resize(cells().size());
    for (std::uint32_t cell = 0; cell < cells().size(); ++cell) {
      const auto& [area_m2, reflected_m2] = rooms[{cells()[cell].storey, cells()[cell].region}];
      plain_[cell] = {.transmitted = 0, .reflected = area_m2 > 0 ? reflected_m2 / area_m2 : kMasonryReflects};
    }
  }

  /// The slabs between two heights, and the cells of other storeys on their far side, that lie over or under
  /// a cell.
  struct Stack {
    struct Slab {
      std::uint32_t barrier;
      std::size_t outline;  // its holes follow
      std::size_t holes;
    };
    std::vector<Outline> outlines;  // first the slabs with their holes, then the cells
    std::vector<Slab> slabs;
    std::size_t first_cell = 0;  // among the outlines
    std::vector<std::uint32_t> cells;

    /// What lies over or under a piece: an barrier, kHole or, where nothing is described, kNone. What is cut
    /// out of one sheet, as a roof is under the storey above, another may close.
    std::uint32_t element_at(const std::vector<bool>& inside) const {
      std::uint32_t barrier = kNone;
      for (const Slab& slab : slabs) {
        if (!inside[slab.outline]) continue;
        bool hole = false;
        for (std::size_t i = 1; i <= slab.holes; ++i) hole = hole || inside[slab.outline + i];
        if (!hole) {
          barrier = slab.barrier;
        } else if (barrier == kNone) {
          barrier = kHole;
        }
      }
      return barrier;
    }

    std::uint32_t cell_at(const std::vector<bool>& inside) const {
      for (std::size_t i = first_cell; i < inside.size(); ++i) {
        if (inside[i]) return cells[i - first_cell];
      }
      return kNone;
    }
  };

  void add_slabs(double low_m, double high_m, const Box2& box, Stack& stack) const {
    for (const Slab& slab : building_.slabs()) {
      if (slab.z_m < low_m || slab.z_m > high_m || !slab.box.meets(box)) continue;
      stack.slabs.push_back({slab.barrier, stack.outlines.size(), slab.holes.size()});
      stack.outlines.push_back(Outline::of(slab.outline));
      for (const Polygon2& hole : slab.holes) stack.outlines.push_back(Outline::of(hole));
    }
  }

  /// The cells of another storey whose ceiling (below) or floor lies across a slab.
  void add_beyond(std::uint32_t s, bool below, const Box2& box, Stack& stack) const {
    stack.first_cell = stack.outlines.size();
    for (std::uint32_t t = 0; t < storeys().size(); ++t) {
      const double gap_m = below ? storeys()[s].floor_m - storeys()[t].ceiling_m
                                 : storeys()[t].floor_m - storeys()[s].ceiling_m;
      if (t == s || gap_m < -kSlackM || gap_m > kThickestSlabM) continue;
      for (std::uint32_t face = 1; face < storeys()[t].cell_of.size(); ++face) {
        const std::uint32_t cell = storeys()[t].cell_of[face];
        if (cell == kNone || !storeys()[t].plan.faces()[face].box.meets(box)) continue;
        stack.outlines.push_back(outline_of(cell));
        stack.cells.push_back(cell);
      }
    }
  }

  Outline outline_of(std::uint32_t cell) const {
    return Outline::of(storeys()[cells()[cell].storey].plan, cells()[cell].face);
  }

  void add_floors(std::uint32_t cell) {
    const DiffuseFieldStorey& storey = storeys()[cells()[cell].storey];
    const Outline outline = outline_of(cell);
    for (const bool below : {true, false}) {
      Stack stack;
      if (below) {
        add_slabs(storey.floor_m - kThickestSlabM, storey.floor_m + kSlackM, outline.box, stack);
      } else {
        add_slabs(storey.ceiling_m - kSlackM, storey.ceiling_m + kThickestSlabM, outline.box, stack);
      }
      add_beyond(cells()[cell].storey, below, outline.box, stack);
      for_overlaps(outline, stack.outlines, [&](const std::vector<bool>& inside, double area_m2) {
        const std::uint32_t barrier = stack.element_at(inside), other = stack.cell_at(inside);
        const bool open = barrier == kHole || (barrier == kNone && other != kNone);
        const DiffuseShares shares = open ? kOpenAir : barrier == kNone ? plain_[cell] : diffuse(barrier);
        add_face(cell, area_m2, shares);
        if (!below || other == kNone) return;  // once for the two storeys
        passing_(at(cell), at(other)) += area_m2 * shares.transmitted;
        passing_(at(other), at(cell)) += area_m2 * shares.transmitted;
      });
    }
  }

  static constexpr std::uint32_t kHole = kNone - 1;

  const Building& building_;
  const DiffuseFieldCells& field_;
  PowerBalance result_;
  Eigen::VectorXd area_;       // m2
  Eigen::VectorXd reflected_;  // m2
  Eigen::MatrixXd passing_;    // m2
  std::vector<double> wall_m2_;
  std::vector<double> wall_reflected_m2_;
  std::vector<DiffuseShares> plain_;
  std::map<std::string, DiffuseShares> diffuse_;
};

}  // namespace

PowerBalance balanced_powers(const Building& building, const DiffuseFieldCells& cells) {
  return BalanceBuilder(building, cells).solve();
}

}  // namespace linkmargin
