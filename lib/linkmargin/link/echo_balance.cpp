#include "linkmargin/link/echo_balance.hpp"

#include "linkmargin/link/scene.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <tuple>
#include <utility>

namespace linkmargin {
namespace {

/// How far over a ceiling or under a floor the slab between may end, and how far a storey may overlap the
/// next.
constexpr double kThickestSlabM = 1.0;
constexpr double kSlackM = 0.05;

constexpr DiffuseShares kOpenAir{.transmitted = 1, .reflected = 0};

}  // namespace

/// Adds up the faces of every cell and solves the balance.
class EchoBalance {
 public:
  EchoBalance(const Scene& scene, Echoes& result) : scene_(scene), result_(result) {
    const auto count = static_cast<Eigen::Index>(cells().size());
    area_ = Eigen::VectorXd::Zero(count);
    reflected_ = Eigen::VectorXd::Zero(count);
    passing_ = Eigen::MatrixXd::Zero(count, count);
    wall_m2_.resize(cells().size());
    wall_reflected_m2_.resize(cells().size());
  }

  void solve() {
    for (std::uint32_t s = 0; s < storeys().size(); ++s) add_walls(s);
    find_plain_floors();
    for (std::uint32_t s = 0; s < storeys().size(); ++s) add_floors(s);
    for (auto& [key, face] : faces_) {
      face.transmitted /= (face.to_m - face.from_m) * (face.top_m - face.bottom_m);
      result_.faces_.push_back(face);
    }
    // What hits each cell's faces, per m2, for power sent: with all reflections, less what never was
    // reflected.
    const Eigen::MatrixXd whole = area_.asDiagonal();
    Eigen::MatrixXd balance = whole - passing_;
    const auto one = Eigen::MatrixXd::Identity(area_.size(), area_.size());
    Eigen::MatrixXd coupling = -balance.llt().solve(one);
    balance.diagonal() -= reflected_;
    coupling += balance.llt().solve(one);
    result_.coupling_.assign(coupling.data(), coupling.data() + coupling.size());
  }

 private:
  using Key = std::pair<std::uint32_t, std::uint32_t>;

  const std::vector<EchoStorey>& storeys() const { return result_.cells_.storeys; }
  const std::vector<EchoCell>& cells() const { return result_.cells_.cells; }

  /// Of an element; one construction is computed once.
  DiffuseShares diffuse(std::uint32_t element) {
    const Element& of = scene_.elements()[element];
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

  /// A place where a line of nodes passes walls: what stands there over the height of a storey.
  struct Slice {
    double bottom_m;
    double top_m;
    DiffuseShares shares;

    double height_m() const { return top_m - bottom_m; }
  };

  /// From the floor up; what no panel fills is open.
  std::vector<Slice> slices(const EchoStorey& storey, std::span<const std::uint32_t> panels) {
    std::vector<Slice> result;
    for (const std::uint32_t p : panels) {
      const Panel& panel = storey.panels[p];
      const double low = std::max(panel.bottom_m, storey.floor_m);
      const double high = std::min(panel.top_m, storey.ceiling_m);
      if (panel.element != kNone && low < high) result.push_back({low, high, diffuse(panel.element)});
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

  /// Lines of nodes meet a panel of some length a whole number of times: what each meeting stands for.
  std::vector<double> lengths_per_meeting(const EchoStorey& storey) const {
    std::vector<double> met_m(storey.panels.size());
    for_meetings(storey, [&](std::uint32_t, std::uint32_t, bool right, std::span<const std::uint32_t> walls) {
      for (const std::uint32_t wall : walls) met_m[wall] += meeting_m(storey, wall, right);
    });
    std::vector<double> scale(met_m.size(), 1);
    for (std::size_t i = 0; i < met_m.size(); ++i) {
      if (met_m[i] > 0) scale[i] = length(storey.panels[i].base) / met_m[i];
    }
    return scale;
  }

  double meeting_m(const EchoStorey& storey, std::uint32_t wall, bool right) const {
    const Point2 normal = storey.panels[wall].normal;
    return storey.grid.layout().pitch_m * std::abs(right ? normal.x : normal.y);
  }

  template <typename Visit>
  static void for_meetings(const EchoStorey& storey, Visit&& visit) {
    const NodeLayout& layout = storey.grid.layout();
    const auto columns = static_cast<std::uint32_t>(layout.columns);
    for (std::uint32_t node = 0; node < layout.size(); ++node) {
      if (layout.column(node) + 1 < layout.columns)
        visit(node, node + 1, true, storey.grid.walls_right(node));
      if (node + columns < layout.size()) visit(node, node + columns, false, storey.grid.walls_above(node));
    }
  }

  void add_walls(std::uint32_t s) {
    const EchoStorey& storey = storeys()[s];
    const double pitch_m = storey.grid.layout().pitch_m;
    const double height_m = storey.ceiling_m - storey.floor_m;
    const std::vector<double> scale = lengths_per_meeting(storey);
    for_meetings(storey, [&](std::uint32_t node, std::uint32_t next, bool right,
                             std::span<const std::uint32_t> walls) {
      const std::uint32_t one = storey.cell_of[node];
      const std::uint32_t other = storey.cell_of[next];
      if (one == kNone && other == kNone) return;
      if (walls.empty()) {
        if (one != other) add_between(one, other, pitch_m * height_m, kOpenAir);
        return;
      }
      const double length_m = meeting_m(storey, walls.front(), right) * scale[walls.front()];
      if (length_m <= 0) return;
      const std::vector<Slice> all = passed(storey, walls);
      for (std::uint32_t i = 0; i < all.size(); ++i) {
        const double area_m2 = length_m * all[i].height_m();
        add_between(one, other, area_m2, all[i].shares);
        for (const std::uint32_t cell : {one, other}) note_wall(cell, area_m2, all[i].shares);
        if (one == kNone) add_outer(storey, walls.front(), i, other, next, node, length_m, all[i]);
        if (other == kNone) add_outer(storey, walls.front(), i, one, node, next, length_m, all[i]);
      }
    });
  }

  /// One wall's slices as they are; of several, close behind each other, one slice of their products.
  std::vector<Slice> passed(const EchoStorey& storey, std::span<const std::uint32_t> walls) {
    const auto wall_of = [&](std::uint32_t p) { return storey.panels[p].wall; };
    const bool single =
        std::ranges::all_of(walls, [&](std::uint32_t p) { return wall_of(p) == wall_of(walls.front()); });
    if (single) return slices(storey, walls);
    const double height_m = storey.ceiling_m - storey.floor_m;
    Slice all{storey.floor_m, storey.ceiling_m, kOpenAir};
    double most_reflected = 0;
    for (std::size_t first = 0; first < walls.size();) {
      std::vector<std::uint32_t> same;
      const std::uint32_t wall = wall_of(walls[first]);
      while (first < walls.size() && wall_of(walls[first]) == wall) same.push_back(walls[first++]);
      DiffuseShares mean;
      for (const Slice& slice : slices(storey, same)) {
        mean.transmitted += slice.height_m() / height_m * slice.shares.transmitted;
        mean.reflected += slice.height_m() / height_m * slice.shares.reflected;
      }
      all.shares.transmitted *= mean.transmitted;
      most_reflected = std::max(most_reflected, mean.reflected);
    }
    all.shares.reflected = std::min(most_reflected, 1 - all.shares.transmitted);
    return {all};
  }

  void note_wall(std::uint32_t cell, double area_m2, DiffuseShares shares) {
    if (cell == kNone || shares.transmitted >= 1) return;
    wall_m2_[cell] += area_m2;
    wall_reflected_m2_[cell] += area_m2 * shares.reflected;
  }

  /// @param slice_index  from the floor; all meetings of one panel have the same slices
  void add_outer(const EchoStorey& storey, std::uint32_t wall, std::uint32_t slice_index, std::uint32_t cell,
                 std::uint32_t inner, std::uint32_t outer, double length_m, const Slice& slice) {
    const NodeLayout& layout = storey.grid.layout();
    const Point2 a = layout.at(inner);
    const Point2 b = layout.at(outer);
    const Segment2 base = storey.panels[wall].base;
    const double size = length(base);
    Echoes::OuterFace& face = faces_[{cell, wall, slice_index}];
    face.cell = cell;
    face.start = base.a;
    face.along = (1 / size) * (base.b - base.a);
    face.outward = storey.panels[wall].normal;
    if (dot(face.outward, b - a) < 0) face.outward = -1 * face.outward;
    const double middle_m = size * nearest_fraction(0.5 * (a + b), base);
    face.from_m = std::min(face.from_m, std::max(0.0, middle_m - length_m / 2));
    face.to_m = std::max(face.to_m, std::min(size, middle_m + length_m / 2));
    face.bottom_m = slice.bottom_m;
    face.top_m = slice.top_m;
    face.transmitted += length_m * slice.height_m() * slice.shares.transmitted;
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

  /// What lies between two heights over each node: an element, air (kNone - 1) in a hole, or nothing
  /// described.
  std::vector<std::uint32_t> slab(const NodeLayout& layout, double low_m, double high_m) const {
    std::vector<std::uint32_t> over(layout.size(), kNone);
    for (const Plate& plate : scene_.plates()) {
      if (plate.z_m < low_m || plate.z_m > high_m) continue;
      layout.for_nodes_in(bounding_box(plate.outline), [&](std::uint32_t node) {
        const Point2 p = layout.at(node);
        if (!contains(plate.outline, p)) return;
        const bool hole =
            std::ranges::any_of(plate.holes, [&](const Polygon2& outline) { return contains(outline, p); });
        // What is cut out of one sheet, as a roof is under the storey above, another may close.
        if (!hole) over[node] = plate.element;
        else if (over[node] == kNone) over[node] = kHole;
      });
    }
    return over;
  }

  /// The cell of another storey whose ceiling (below) or floor lies across a slab.
  std::uint32_t beyond(std::uint32_t s, std::uint32_t node, bool below) const {
    for (std::uint32_t t = 0; t < storeys().size(); ++t) {
      const double gap_m = below ? storeys()[s].floor_m - storeys()[t].ceiling_m
                                 : storeys()[t].floor_m - storeys()[s].ceiling_m;
      if (t == s || gap_m < -kSlackM || gap_m > kThickestSlabM) continue;
      if (storeys()[t].cell_of[node] != kNone) return storeys()[t].cell_of[node];
    }
    return kNone;
  }

  void add_floors(std::uint32_t s) {
    const EchoStorey& storey = storeys()[s];
    const NodeLayout& layout = storey.grid.layout();
    const double area_m2 = layout.pitch_m * layout.pitch_m;
    for (const bool below : {true, false}) {
      const std::vector<std::uint32_t> elements =
          below ? slab(layout, storey.floor_m - kThickestSlabM, storey.floor_m + kSlackM)
                : slab(layout, storey.ceiling_m - kSlackM, storey.ceiling_m + kThickestSlabM);
      for (std::uint32_t node = 0; node < layout.size(); ++node) {
        const std::uint32_t cell = storey.cell_of[node];
        if (cell == kNone) continue;
        const std::uint32_t other = beyond(s, node, below);
        const std::uint32_t element = elements[node];
        const bool open = element == kHole || (element == kNone && other != kNone);
        const DiffuseShares shares = open ? kOpenAir : element == kNone ? plain_[cell] : diffuse(element);
        add_face(cell, area_m2, shares);
        if (below && other != kNone) {  // once for the two storeys
          passing_(at(cell), at(other)) += area_m2 * shares.transmitted;
          passing_(at(other), at(cell)) += area_m2 * shares.transmitted;
        }
      }
    }
  }

  static constexpr std::uint32_t kHole = kNone - 1;

  const Scene& scene_;
  Echoes& result_;
  Eigen::VectorXd area_;       // m2
  Eigen::VectorXd reflected_;  // m2
  Eigen::MatrixXd passing_;    // m2
  std::vector<double> wall_m2_;
  std::vector<double> wall_reflected_m2_;
  std::vector<DiffuseShares> plain_;
  std::map<std::tuple<std::uint32_t, std::uint32_t, std::uint32_t>, Echoes::OuterFace> faces_;
  std::map<std::string, DiffuseShares> diffuse_;
};

void balance_echoes(const Scene& scene, Echoes& echoes) {
  EchoBalance(scene, echoes).solve();
}

}  // namespace linkmargin
