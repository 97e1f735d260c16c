#include "linkmargin/link/reverberation/power_balance.hpp"

#include "linkmargin/base/parallel.hpp"
#include "linkmargin/base/units.hpp"
#include "linkmargin/geometry/overlap.hpp"
#include "linkmargin/link/building/building.hpp"
#include "linkmargin/link/building/wall_builder.hpp"

#include <Eigen/Core>
#include <Eigen/Eigenvalues>

#include <algorithm>
#include <array>
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

/// A field that nothing takes would last for ever, 1/m.
constexpr double kSlowest = 1e-9;  ///< doubled or halved, no loss moves

/// What is reflected once, and by a slab, is a wave of its own (link/mechanism/slab_reflection.hpp). It is
/// what the field grows by for a little reflection of the slabs alone: this part of theirs.
constexpr double kLittle = 0.1;  ///< takes so much of the second bounce off as well

constexpr DiffuseShares kAir{.transmitted = 1, .reflected = 0};
constexpr ElevationShares kOpenAir{kAir, kAir, kAir, kAir};

bool is_open(const ElevationShares& shares) {
  return shares.front().transmitted >= 1;
}

/// Adds up the faces of every cell and solves the balance.
class BalanceBuilder {
 public:
  BalanceBuilder(const Building& building, const DiffuseFieldCells& field)
      : building_(building), field_(field) {
    const auto count = static_cast<Eigen::Index>(cells().size());
    for (Sums& sums : sums_) {
      sums.met = Eigen::VectorXd::Zero(count);
      sums.reflected = Eigen::VectorXd::Zero(count);
      sums.by_slabs = Eigen::VectorXd::Zero(count);
      sums.passing = Eigen::MatrixXd::Zero(count, count);
    }
  }

  PowerBalance solve(int threads) {
    for (std::uint32_t s = 0; s < storeys().size(); ++s) add_walls(s);
    add_joints();
    for (std::uint32_t cell = 0; cell < cells().size(); ++cell) add_floors(cell);
    add_bodies();
    Eigen::VectorXd volume(static_cast<Eigen::Index>(cells().size()));
    for (std::uint32_t cell = 0; cell < cells().size(); ++cell)
      volume[at(cell)] = cells()[cell].area_m2 * cells()[cell].height_m;
    const Eigen::VectorXd root = volume.cwiseSqrt().cwiseInverse();
    result_.modes.resize(3 * kElevations);
    parallel_for(result_.modes.size(), threads, [&](std::size_t m) {
      const std::size_t i = m / 3;
      const Sums& sums = sums_[i];
      Eigen::VectorXd kept = Eigen::VectorXd::Zero(volume.size());
      if (m % 3 == 1) kept = kLittle * sums.by_slabs;
      if (m % 3 == 2) kept = sums.reflected;
      Eigen::MatrixXd lost = -sums.passing;
      lost.diagonal() += sums.met - kept;
      constexpr std::array<double, 3> kWeights{1 / kLittle - 1, -1 / kLittle, 1};
      result_.modes[m] = modes_of(lost, root);
      result_.modes[m].elevation = i;
      result_.modes[m].weight = kWeights[m % 3];
      result_.modes[m].whole = m % 3 == 2;
    });
    find_houses();
    return std::move(result_);
  }

 private:
  const std::vector<DiffuseFieldStorey>& storeys() const { return field_.storeys; }
  const std::vector<DiffuseFieldCell>& cells() const { return field_.cells; }

  struct Sums {
    Eigen::VectorXd met;        // m2, by cell
    Eigen::VectorXd reflected;  // m2
    Eigen::VectorXd by_slabs;   // m2, of it
    Eigen::MatrixXd passing;    // m2
  };

  /// @param lost  what each cell loses of its flux, m2, less what it gets of the others'
  /// @param root  of each volume, one over it
  static DiffuseModes modes_of(const Eigen::MatrixXd& lost, const Eigen::VectorXd& root) {
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solved(root.asDiagonal() * lost * root.asDiagonal());
    DiffuseModes modes;
    modes.rate = solved.eigenvalues().cwiseMax(kSlowest);
    modes.shape = solved.eigenvectors().transpose() * root.asDiagonal();
    return modes;
  }

  /// Of a barrier; one construction is computed once.
  const ElevationShares& diffuse(std::uint32_t barrier, bool level) {
    const Barrier& of = building_.barriers()[barrier];
    const auto known = diffuse_.find({of.material, level});
    if (known != diffuse_.end()) return known->second;
    return diffuse_.emplace(std::pair(of.material, level), of.transmission.diffuse_by_elevation(level))
        .first->second;
  }

  void find_houses() {
    result_.house.assign(cells().size(), kNone);
    std::uint32_t number = 0;
    for (std::uint32_t first = 0; first < cells().size(); ++first) {
      if (result_.house[first] != kNone) continue;
      std::vector<std::uint32_t> reached{first};
      result_.house[first] = number;
      while (!reached.empty()) {
        const std::uint32_t cell = reached.back();
        reached.pop_back();
        for (std::uint32_t next = 0; next < cells().size(); ++next) {
          if (result_.house[next] != kNone || sums_.front().passing(at(cell), at(next)) <= 0) continue;
          result_.house[next] = number;
          reached.push_back(next);
        }
      }
      ++number;
    }
  }

  static Eigen::Index at(std::uint32_t cell) { return static_cast<Eigen::Index>(cell); }

  void add_face(std::uint32_t cell, double area_m2, const ElevationShares& shares, bool level) {
    if (cell == kNone) return;
    for (std::size_t i = 0; i < kElevations; ++i) {
      const double met_m2 = area_m2 * met_share(i, level);
      sums_[i].met[at(cell)] += met_m2;
      sums_[i].reflected[at(cell)] += met_m2 * shares[i].reflected;
      if (level) sums_[i].by_slabs[at(cell)] += met_m2 * shares[i].reflected;
    }
  }

  void add_passing(std::uint32_t one, std::uint32_t other, double area_m2, const ElevationShares& shares,
                   bool level) {
    for (std::size_t i = 0; i < kElevations; ++i) {
      const double passing_m2 = area_m2 * met_share(i, level) * shares[i].transmitted;
      sums_[i].passing(at(one), at(other)) += passing_m2;
      sums_[i].passing(at(other), at(one)) += passing_m2;
    }
  }

  /// Both faces of something upright between two cells, either of which may be out of doors.
  void add_between(std::uint32_t one, std::uint32_t other, double area_m2, const ElevationShares& shares) {
    add_face(one, area_m2, shares, false);
    add_face(other, area_m2, shares, false);
    if (one != kNone && other != kNone) add_passing(one, other, area_m2, shares, false);
  }

  /// Furniture takes from the field what falls on its faces and is neither reflected nor passed.
  void add_bodies() {
    for (const ObstaclePrism& body : building_.obstacles()) {
      const Outline outline = Outline::of(body.outline);
      double around_m = 0;
      for (std::size_t i = 0; i < body.outline.size(); ++i)
        around_m += distance(body.outline[i], body.outline[(i + 1) % body.outline.size()]);
      const double floor_m2 = std::abs(signed_area(body.outline));
      if (floor_m2 <= 0) continue;
      const DiffuseShares shares = building_.barriers()[body.barrier].transmission.diffuse();
      const double kept = std::max(0.0, 1 - shares.transmitted - shares.reflected);
      for (std::uint32_t cell = 0; cell < cells().size(); ++cell) {
        const DiffuseFieldStorey& storey = storeys()[cells()[cell].storey];
        const double low = std::max(body.bottom_m, storey.floor_m),
                     high = std::min(body.top_m, storey.ceiling_m);
        if (low >= high) continue;
        std::vector<Outline> others{outline_of(cell)};
        double inside_m2 = 0;
        for_overlaps(outline, others, [&](const std::vector<bool>& inside, double area_m2) {
          if (inside[0]) inside_m2 += area_m2;
        });
        if (inside_m2 <= 0) continue;
        double faces_m2 = around_m * (high - low);
        if (high < storey.ceiling_m - kSlackM) faces_m2 += floor_m2;
        if (low > storey.floor_m + kSlackM) faces_m2 += floor_m2;
        for (Sums& sums : sums_) sums.met[at(cell)] += faces_m2 * inside_m2 / floor_m2 / 4 * kept;
      }
    }
  }

  /// What stands in a wall over a part of a storey's height.
  struct Slice {
    double bottom_m;
    double top_m;
    ElevationShares shares;
    std::uint32_t barrier = kNone;

    double height_m() const { return top_m - bottom_m; }
  };

  /// From the floor up; what no panel fills is open.
  std::vector<Slice> slices(const DiffuseFieldStorey& storey, std::span<const std::uint32_t> panels) {
    std::vector<Slice> result;
    for (const std::uint32_t p : panels) {
      const Panel& panel = storey.panels[p];
      const double low = std::max(panel.bottom_m, storey.floor_m);
      const double high = std::min(panel.top_m, storey.ceiling_m);
      if (panel.barrier != kNone && low < high)
        result.push_back({low, high, diffuse(panel.barrier, false), panel.barrier});
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
        if (low < high)
          result.push_back({low, high, behind(one.shares, other.shares),
                            is_open(one.shares) ? other.barrier : one.barrier});
      }
    }
    return result;
  }

  /// Two leaves that throw back and forth what has passed one of them; both sides throw back the mean of the
  /// two.
  static ElevationShares behind(const ElevationShares& first, const ElevationShares& second) {
    ElevationShares both;
    for (std::size_t i = 0; i < kElevations; ++i) both[i] = behind(first[i], second[i]);
    return both;
  }
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

  /// @param left  whether the open lies on the left of the line
  void add_outer(Segment2 line, bool left, std::uint32_t cell, const Slice& slice, bool eaves) {
    const double transmitted = mean_transmitted(slice.shares);
    if (transmitted <= 0) return;
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
    face.transmitted = transmitted;
    face.at_cosine.fill(transmitted);
    if (!eaves && slice.barrier != kNone) {
      const std::array<double, OuterFace::kAngles>& alone = at_cosines(slice.barrier);
      const double share = transmitted / mean_transmitted(diffuse(slice.barrier, false));
      for (std::size_t i = 0; i < OuterFace::kAngles; ++i) face.at_cosine[i] = share * alone[i];
    }
    face.eaves = eaves;
    result_.faces.push_back(face);
  }

  /// What one construction lets out by the cosine of the angle; of several in a row each angle gets their
  /// part.
  const std::array<double, OuterFace::kAngles>& at_cosines(std::uint32_t barrier) {
    const Barrier& of = building_.barriers()[barrier];
    const auto [known, fresh] = at_cosine_.try_emplace(of.material);
    if (!fresh) return known->second;
    for (std::size_t i = 0; i < OuterFace::kAngles; ++i)
      known->second[i] = of.transmission.transmitted(static_cast<double>(i) / (OuterFace::kAngles - 1));
    return known->second;
  }

  static double mean_transmitted(const ElevationShares& shares) {
    double sum = 0, weights = 0;
    for (std::size_t i = 0; i < kElevations; ++i) {
      const double weight = kElevationWeight[i] * met_share(i, false);
      sum += weight * shares[i].transmitted;
      weights += weight;
    }
    return sum / weights;
  }

  /// The open end of a roof on an outer wall shines over the wall. What the room loses there is left out: it
  /// is little.
  void add_eaves(const DiffuseFieldStorey& storey, const std::vector<Slice>& wall, std::uint32_t lining,
                 Segment2 line, bool left, std::uint32_t cell) {
    const ElevationShares& through = diffuse(lining, false);
    double wall_passes = 0;
    for (const Slice& slice : wall) wall_passes = std::max(wall_passes, mean_transmitted(slice.shares));
    if (mean_transmitted(through) < wall_passes * std::pow(10, kEavesMatterDb / 10)) return;
    add_outer(line, left, cell, {storey.ceiling_m, storey.ceiling_m, through, lining}, true);
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
        const ElevationShares shares = open               ? kOpenAir
                                       : barrier == kNone ? ordinary_floor_
                                                          : diffuse(barrier, true);
        add_face(cell, area_m2, shares, true);
        if (below && other != kNone) add_passing(cell, other, area_m2, shares, true);  // once for the two
      });
    }
  }

  static constexpr std::uint32_t kHole = kNone - 1;

  const Building& building_;
  const DiffuseFieldCells& field_;
  PowerBalance result_;
  std::array<Sums, kElevations> sums_;
  const ElevationShares ordinary_floor_ = ordinary_floor(building_.radio().frequency_hz);
  std::map<std::pair<std::string, bool>, ElevationShares> diffuse_;
  std::map<std::string, std::array<double, OuterFace::kAngles>> at_cosine_;
};

}  // namespace

double met_share(std::size_t elevation, bool level) {
  const double sine = kElevationSine[elevation];
  return level ? sine / 2 : std::sqrt(1 - sine * sine) / kPi;
}

PowerBalance balanced_powers(const Building& building, const DiffuseFieldCells& cells, int threads) {
  return BalanceBuilder(building, cells).solve(threads);
}

}  // namespace linkmargin
