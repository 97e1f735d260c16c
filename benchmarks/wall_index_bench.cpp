// The walls that a link crosses: the index against the plain scan, an R-tree of Boost.Geometry and Embree, on
// random offices. All must agree with the scan on every link (Embree, in single precision, on nearly every
// one) before they are timed; then times per link, and the ratios.

#include "linkmargin/geometry/wall_index.hpp"

#include "random_office.hpp"
#include "ratio_report.hpp"
#include "wall_rtree.hpp"

#include <benchmark/benchmark.h>
#ifdef LINKMARGIN_EMBREE
#include "embree_walls.hpp"
#endif

#include <algorithm>
#include <string>

using namespace linkmargin;

namespace {

constexpr std::uint64_t kSeed = 7;
constexpr std::size_t kRays = 4096;

std::vector<Segment2> random_rays(const std::vector<Segment2>& walls) {
  Box2 box{walls[0].a, walls[0].a};
  for (const Segment2 wall : walls) {
    box.max = {std::max({box.max.x, wall.a.x, wall.b.x}), std::max({box.max.y, wall.a.y, wall.b.y})};
  }
  const RandomStream stream(kSeed, 2);
  std::vector<Segment2> rays;
  for (std::uint64_t i = 0; i < kRays; ++i) {
    const auto point = [&](std::uint64_t k) {
      return snapped(
          Point2{box.max.x * stream.uniform(4 * i + k), box.max.y * stream.uniform(4 * i + k + 1)});
    };
    rays.push_back({point(0), point(2)});
  }
  return rays;
}

class Scan {
 public:
  explicit Scan(const std::vector<Segment2>& walls) : walls_(walls) {}
  std::vector<std::uint32_t> crossings(Segment2 ray) const { return scan_crossings(walls_, ray); }

 private:
  const std::vector<Segment2>& walls_;
};

/// The walls that a ray of the query hits, sorted.
template <typename Hits>
class Sorted {
 public:
  explicit Sorted(const std::vector<Segment2>& walls) : hits_(walls) {}

  std::vector<std::uint32_t> crossings(Segment2 ray) const {
    std::vector<std::uint32_t> found;
    found.reserve(32);
    const auto visit = [&](std::uint32_t wall) { found.push_back(wall); };
    hits_.all_hits(ray.a, ray.b, visit);
    std::ranges::sort(found);
    return found;
  }

 private:
  Hits hits_;
};

using Rtree = Sorted<WallRtree>;

/// Embree works in single precision: a few rays that pass by the end of a wall differ.
template <typename Query>
constexpr std::size_t kMayDiffer = 0;
#ifdef LINKMARGIN_EMBREE
using Embree = Sorted<EmbreeWalls>;
template <>
constexpr std::size_t kMayDiffer<Embree> = kRays / 200;
#endif

template <typename Query>
void crossings(benchmark::State& state) {
  const auto walls = random_office(static_cast<std::size_t>(state.range(0)), kSeed);
  const auto rays = random_rays(walls);
  const Query query(walls);
  const auto differs = [&](Segment2 ray) { return query.crossings(ray) != scan_crossings(walls, ray); };
  if (static_cast<std::size_t>(std::ranges::count_if(rays, differs)) > kMayDiffer<Query>) {
    state.SkipWithError("disagrees with the scan");
    return;
  }
  std::size_t next = 0;
  for (auto _ : state) {
    benchmark::DoNotOptimize(query.crossings(rays[next]));
    next = (next + 1) % kRays;
  }
}

template <typename Query>
void build(benchmark::State& state) {
  const auto walls = random_office(static_cast<std::size_t>(state.range(0)), kSeed);
  for (auto _ : state) {
    const Query query(walls);
    benchmark::DoNotOptimize(&query);
  }
}

BENCHMARK_TEMPLATE(crossings, Scan)->Name("scan")->Arg(50)->Arg(600)->Arg(5000);
BENCHMARK_TEMPLATE(crossings, Rtree)->Name("rtree")->Arg(50)->Arg(600)->Arg(5000);
BENCHMARK_TEMPLATE(crossings, WallIndex)->Name("index")->Arg(50)->Arg(600)->Arg(5000);
BENCHMARK_TEMPLATE(build, Rtree)->Name("build_rtree")->Arg(600)->Arg(5000);
BENCHMARK_TEMPLATE(build, WallIndex)->Name("build_index")->Arg(600)->Arg(5000);

#ifdef LINKMARGIN_EMBREE
BENCHMARK_TEMPLATE(crossings, Embree)->Name("embree")->Arg(50)->Arg(600)->Arg(5000);
#endif

void print_ratios(const RatioReporter& reporter) {
  std::printf("\nRandom links through the index: times as fast as ...\n");
  for (const std::string walls : {"50", "600", "5000"}) {
    for (const std::string peer : {"embree", "scan", "rtree"}) {
      reporter.print(walls + " walls: " + peer, "index/" + walls, peer + "/" + walls);
    }
  }
}

}  // namespace

int main(int argc, char** argv) {
  return run_with_ratios(argc, argv, print_ratios);
}
