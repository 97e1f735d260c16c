// Maps of what the straight line to every cell loses, a million cells: shadows against a loop over all walls
// in single precision that the compiler vectorises, Embree taking every hit, and an R-tree of Boost.Geometry,
// on random offices. Each is held against the plain scan in double precision before it is timed. All of them
// add the distance with the same loop.

#include "linkmargin/analysis/coverage/direct_path_map.hpp"
#include "linkmargin/analysis/coverage/row_accumulation.hpp"
#include "linkmargin/base/simd_dispatch.hpp"
#include "linkmargin/link/mechanism/distance_model.hpp"

#include "office_site.hpp"
#include "ratio_report.hpp"
#include "wall_rtree.hpp"
#ifdef LINKMARGIN_EMBREE
#include "embree_walls.hpp"
#endif

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <string>
#include <tuple>
#include <type_traits>

using namespace linkmargin;

namespace {

constexpr std::uint64_t kSeed = 7;
constexpr double kHeightM = 1.5;

/// An office with a hub near its middle, over a level map that covers it.
struct Office {
  Office(std::size_t walls, bool angled, int cells) : scene(office_site(walls, kSeed, angled), Doors::armed) {
    Box2 box{{1e9, 1e9}, {-1e9, -1e9}};
    for (const Panel& panel : scene.panels()) {
      if (panel.barrier == kNone) continue;
      const Transmission& transmission = scene.barriers()[panel.barrier].transmission;
      bases.push_back(panel.base);
      normals.push_back(panel.normal);
      constants_db.push_back(static_cast<float>(transmission.loss_db(1)));
      if (angled) {
        const std::string& material = scene.barriers()[panel.barrier].material;
        auto [known, is_new] = known_tables.try_emplace(material);
        if (is_new) known->second = *angle_table(transmission);
        tables.push_back(&known->second);
      }
      for (const Point2 p : {panel.base.a, panel.base.b}) {
        box.min = {std::min(box.min.x, p.x), std::min(box.min.y, p.y)};
        box.max = {std::max(box.max.x, p.x), std::max(box.max.y, p.y)};
      }
    }
    const double size_m = std::max(box.max.x - box.min.x, box.max.y - box.min.y) + 1;
    grid = {{box.min.x - 0.5, box.min.y - 0.5}, size_m / cells, cells, cells, kHeightM};
    const Point2 at = snapped(Point2{box.min.x + 0.47 * size_m, box.min.y + 0.53 * size_m});
    end = {at.x, at.y, kHeightM};
    for (int i = 0; i < cells; ++i) {
      const double x = grid.centre(static_cast<std::size_t>(i)).x - at.x;
      x_from_end.push_back(static_cast<float>(x));
      x_squared.push_back(static_cast<float>(x * x));
    }
    const double at_1 = distance_term(scene.radio(), 1, {}, false).loss_db;
    at_1m_db = static_cast<float>(at_1);
    octave_db =
        static_cast<float>((distance_term(scene.radio(), 10, {}, false).loss_db - at_1) / 2 * std::log10(2));
  }

  double y_of(int row) const { return grid.corner.y + (row + 0.5) * grid.step_m; }

  float loss_db(std::size_t wall, Point2 way) const {
    if (tables.empty()) return constants_db[wall];
    const AngleTable& table = *tables[wall];
    const float cosine = static_cast<float>(std::abs(dot(normals[wall], way)) / std::hypot(way.x, way.y));
    const float at = std::max(0.0F, (cosine - table.first_cos) * table.per_cos);
    const auto k = std::min(static_cast<std::size_t>(at), table.values.size() - 2);
    return table.values[k] + (at - static_cast<float>(k)) * (table.values[k + 1] - table.values[k]);
  }

  /// Distance and the row's sums to its losses.
  void finish(int row, std::span<const double> sums, std::span<float> losses_db) const {
    const double y = y_of(row) - end.y;
    add_distance({x_squared, static_cast<float>(y * y)}, at_1m_db, octave_db, sums, losses_db);
  }

  Scene scene;
  std::map<std::string, AngleTable> known_tables;
  std::vector<Segment2> bases;
  std::vector<Point2> normals;
  std::vector<float> constants_db;
  std::vector<const AngleTable*> tables;
  LevelGrid grid;
  Point3 end;
  std::vector<float> x_from_end;
  std::vector<float> x_squared;
  float at_1m_db = 0;
  float octave_db = 0;
};

class Shadows {
 public:
  explicit Shadows(const Office& office, int threads = 1)
      : office_(office), map_(office.scene), threads_(threads) {}
  void find(std::span<float> loss_db) const { map_.find(office_.end, office_.grid, threads_, loss_db); }
  static constexpr int kEvery = 1;

 private:
  const Office& office_;
  DirectPathMap map_;
  int threads_;
};

/// For each row and each wall, over the cells of the row.
struct LoopWall {
  float ax, ay, bx, by;  // from the end
  float nx, ny, area;    // the wall's line: nx x + ny y = area
  float loss_db, normal_x, normal_y;
  const AngleTable* table;
};

template <bool kAngled>
LINKMARGIN_LOOP void loop_body(const LoopWall& wall, const float* __restrict x_of, float y, int count,
                               const float* __restrict inverse, float* __restrict sums) {
  const float ax = wall.ax, ay = wall.ay, bx = wall.bx, by = wall.by;
  const float nx = wall.nx, rest = wall.ny * y - wall.area, behind = -wall.area;
  const float loss_db = wall.loss_db;
  const float normal_x = wall.normal_x, normal_rest = wall.normal_y * y;
  const float first_cos = kAngled ? wall.table->first_cos : 0;
  const float per_cos = kAngled ? wall.table->per_cos : 0;
  const float last = kAngled ? static_cast<float>(wall.table->values.size() - 2) : 0;
  const float* __restrict values = kAngled ? wall.table->values.data() : nullptr;
  for (int i = 0; i < count; ++i) {
    const float x = x_of[i];
    const float a = x * ay - y * ax;
    const float b = x * by - y * bx;
    const float far = nx * x + rest;
    float loss = loss_db;
    if constexpr (kAngled) {
      const float cosine = std::abs(normal_x * x + normal_rest) * inverse[i];
      float at = (cosine - first_cos) * per_cos;
      at = at < 0 ? 0 : at;
      at = at > last ? last : at;
      const int k = static_cast<int>(at);
      loss = values[k] + (at - static_cast<float>(k)) * (values[k + 1] - values[k]);
    }
    const float within = a * b < 0 ? loss : 0;
    sums[i] += far * behind < 0 ? within : 0;
  }
}

LINKMARGIN_WIDE void loop_constant(const LoopWall& wall, const float* x, float y, int count,
                                   const float* inverse, float* sums) {
  loop_body<false>(wall, x, y, count, inverse, sums);
}
LINKMARGIN_WIDE void loop_angled(const LoopWall& wall, const float* x, float y, int count,
                                 const float* inverse, float* sums) {
  loop_body<true>(wall, x, y, count, inverse, sums);
}

class Loop {
 public:
  explicit Loop(const Office& office) : office_(office) {
    for (std::size_t i = 0; i < office.bases.size(); ++i) {
      const Point2 a = office.bases[i].a - office.end.plan();
      const Point2 b = office.bases[i].b - office.end.plan();
      const Point2 n{-(b.y - a.y), b.x - a.x};
      const auto f = [](double x) { return static_cast<float>(x); };
      walls_.push_back({f(a.x), f(a.y), f(b.x), f(b.y), f(n.x), f(n.y), f(dot(n, a)), office.constants_db[i],
                        f(office.normals[i].x), f(office.normals[i].y),
                        office.tables.empty() ? nullptr : office.tables[i]});
    }
  }

  void find(std::span<float> loss_db) const {
    const auto columns = static_cast<std::size_t>(office_.grid.columns);
    std::vector<float> sums(columns);
    std::vector<float> inverse(columns);
    const std::vector<double> none(columns);
    for (int row = 0; row < office_.grid.rows; ++row) {
      const auto y = static_cast<float>(office_.y_of(row) - office_.end.y);
      std::ranges::fill(sums, 0.0F);
      const bool angled = !office_.tables.empty();
      if (angled) inverse_distances({office_.x_squared, y * y}, inverse);
      for (const LoopWall& wall : walls_) {
        (angled ? loop_angled : loop_constant)(wall, office_.x_from_end.data(), y, office_.grid.columns,
                                               inverse.data(), sums.data());
      }
      const auto out = loss_db.subspan(static_cast<std::size_t>(row) * columns, columns);
      office_.finish(row, none, out);
      for (std::size_t i = 0; i < columns; ++i) out[i] += sums[i];
    }
  }
  static constexpr int kEvery = 1;

 private:
  const Office& office_;
  std::vector<LoopWall> walls_;
};

/// One query a cell; of every kRows rows only one, where a query is slow.
template <typename Query, int kRows>
class PerCell {
 public:
  explicit PerCell(const Office& office) : office_(office), query_(office.bases) {}

  void find(std::span<float> loss_db) const {
    const auto columns = static_cast<std::size_t>(office_.grid.columns);
    std::vector<double> sums(columns);
    for (int row = 0; row < office_.grid.rows; row += kRows) {
      for (std::size_t i = 0; i < columns; ++i) {
        const Point2 to = office_.grid.centre(static_cast<std::size_t>(row) * columns + i).plan();
        const Point2 way = to - office_.end.plan();
        double sum = 0;
        const auto visit = [&](std::uint32_t wall) {
          sum += static_cast<double>(office_.loss_db(wall, way));
        };
        query_.all_hits(office_.end.plan(), to, visit);
        sums[i] = sum;
      }
      office_.finish(row, sums, loss_db.subspan(static_cast<std::size_t>(row) * columns, columns));
    }
  }
  static constexpr int kEvery = kRows;

 private:
  const Office& office_;
  Query query_;
};

/// The share of some cells whose loss differs from the scan's by more than rounding. The peers, in single
/// precision, may miss where a line passes by the end of a wall.
template <typename Map>
double share_off(const Office& office, const std::vector<float>& loss_db) {
  const RandomStream stream(kSeed, 4);
  int off = 0;
  constexpr int cells = 4000;
  for (std::uint64_t i = 0; i < cells; ++i) {
    const auto columns = static_cast<std::size_t>(office.grid.columns);
    std::size_t cell = stream.bits(i) % office.grid.size();
    cell -= cell / columns % static_cast<std::size_t>(Map::kEvery) * columns;
    const Point2 to = snapped(office.grid.centre(cell).plan());
    const Point2 way = to - office.end.plan();
    double expected_db = distance_term(office.scene.radio(), std::hypot(way.x, way.y), {}, false).loss_db;
    for (std::size_t wall = 0; wall < office.bases.size(); ++wall) {
      if (!crosses({office.end.plan(), to}, office.bases[wall])) continue;
      expected_db += static_cast<double>(office.loss_db(wall, way));
    }
    off += std::abs(static_cast<double>(loss_db[cell]) - expected_db) > 0.01 ? 1 : 0;
  }
  return static_cast<double>(off) / cells;
}

const Office& office_of(std::int64_t walls, bool angled, std::int64_t cells) {
  static std::map<std::tuple<std::int64_t, bool, std::int64_t>, std::unique_ptr<Office>> offices;
  auto& office = offices[{walls, angled, cells}];
  if (!office)
    office = std::make_unique<Office>(static_cast<std::size_t>(walls), angled, static_cast<int>(cells));
  return *office;
}

template <typename Map>
void run(benchmark::State& state, const Office& office, const Map& map, double allowed) {
  std::vector<float> loss_db(office.grid.size());
  map.find(loss_db);
  if (share_off<Map>(office, loss_db) > allowed) {
    state.SkipWithError("disagrees with the scan");
    return;
  }
  for (auto _ : state) {
    map.find(loss_db);
    benchmark::DoNotOptimize(loss_db.data());
  }
}

constexpr double kSingleMisses = 0.005;

void shadows(benchmark::State& state, bool angled, int threads) {
  const Office& office = office_of(state.range(0), angled, state.range(1));
  run(state, office, Shadows(office, threads), 0);
}
template <typename Map>
void peer(benchmark::State& state, bool angled) {
  const Office& office = office_of(state.range(0), angled, 1000);
  run(state, office, Map(office), kSingleMisses);
}

constexpr int kWalls[] = {50, 600, 5000};

template <typename Map>
void add_peer(const std::string& name, bool angled) {
  auto* bench = benchmark::RegisterBenchmark((name + (angled ? "/angled" : "/constant")).c_str(),
                                             [=](benchmark::State& state) { peer<Map>(state, angled); });
  const bool slow = angled && std::is_same_v<Map, Loop>;  // a look-up keeps the compiler from vectorising it
  for (const int walls : kWalls) {
    if (!slow || walls < 5000) bench->Arg(walls);
  }
  bench->Unit(benchmark::kMillisecond)->MinTime(0.4)->UseRealTime();
}

void add_projections(const std::string& name, bool angled, int threads) {
  auto* bench =
      benchmark::RegisterBenchmark((name + (angled ? "/angled" : "/constant")).c_str(),
                                   [=](benchmark::State& state) { shadows(state, angled, threads); });
  for (const int walls : kWalls) bench->Args({walls, 1000});
  if (threads == 1) bench->Args({1200, 1000})->Args({600, 1414});
  bench->Unit(benchmark::kMillisecond)->MinTime(0.4)->UseRealTime();
}

void add_all() {
  using Rtree = PerCell<WallRtree, 50>;
  for (const bool angled : {false, true}) {
    add_projections("shadows", angled, 1);
    add_projections("shadows_2_threads", angled, 2);
    add_peer<Loop>("loop", angled);
#ifdef LINKMARGIN_EMBREE
    add_peer<PerCell<EmbreeWalls, 1>>("embree", angled);
#endif
    add_peer<Rtree>("rtree_20_rows", angled);
  }
}

void print_ratios(const RatioReporter& reporter) {
  const std::string suffix = "/min_time:0.400/real_time";
  const auto own = [&](const std::string& losses, int walls, int cells = 1000) {
    return "shadows/" + losses + "/" + std::to_string(walls) + "/" + std::to_string(cells) + suffix;
  };
  std::printf("\nTimes as fast as ..., 1,000 x 1,000 cells, one thread\n");
  for (const std::string losses : {"constant", "angled"}) {
    for (const int walls : kWalls) {
      const std::string of = losses + "/" + std::to_string(walls) + suffix;
      const std::string what = losses + " losses, " + std::to_string(walls) + " walls: ";
      reporter.print(what + "Embree, every hit", own(losses, walls), "embree/" + of);
      reporter.print(what + (losses == "constant" ? "vectorised loop" : "loop, not vectorised"),
                     own(losses, walls), "loop/" + of);
      reporter.print(what + "R-tree", own(losses, walls), "rtree_20_rows/" + of, 50);
    }
  }
  for (const int walls : kWalls) {
    reporter.print_real("two threads, " + std::to_string(walls) + " walls: one",
                        "shadows_2_threads/constant/" + std::to_string(walls) + "/1000" + suffix,
                        own("constant", walls));
  }
  std::printf("\nTimes the cost of ...\n");
  for (const std::string losses : {"constant", "angled"}) {
    reporter.print(losses + " losses, 1,200 walls: 600", own(losses, 600), own(losses, 1200));
    reporter.print(losses + " losses, 2 million cells: 1 million", own(losses, 600), own(losses, 600, 1414));
  }
}

}  // namespace

int main(int argc, char** argv) {
  add_all();
  return run_with_ratios(argc, argv, print_ratios);
}
