// The walls that a link crosses: the index against the plain scan and against an R-tree of Boost.Geometry, on
// random offices. All three must agree on every link before any is timed; then times per link, and the
// ratios.

#include <benchmark/benchmark.h>

#define BOOST_GEOMETRY_NO_ROBUSTNESS
#define BOOST_ALLOW_DEPRECATED_HEADERS
#include "linkmargin/geometry/wall_index.hpp"

#include "random_office.hpp"

#include <boost/geometry.hpp>
#include <boost/geometry/geometries/box.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/segment.hpp>
#include <boost/geometry/index/rtree.hpp>
#include <boost/iterator/function_output_iterator.hpp>

#include <algorithm>
#include <cstdio>
#include <map>
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

/// Boxes of the walls, packed; candidates by the library's own test of box and segment, then the same
/// predicate.
class Rtree {
 public:
  explicit Rtree(const std::vector<Segment2>& walls) : walls_(walls) {
    std::vector<Entry> entries;
    for (std::uint32_t i = 0; i < walls.size(); ++i) {
      const Box2 box = bounding_box({walls[i].a, walls[i].b});
      constexpr double pad_m = 1e-6;  // its test rounds
      entries.push_back(
          {{{box.min.x - pad_m, box.min.y - pad_m}, {box.max.x + pad_m, box.max.y + pad_m}}, i});
    }
    tree_ = Tree(entries);
  }

  std::vector<std::uint32_t> crossings(Segment2 ray) const {
    std::vector<std::uint32_t> found;
    found.reserve(32);
    const boost::geometry::model::segment<Corner> segment{{ray.a.x, ray.a.y}, {ray.b.x, ray.b.y}};
    const auto keep = boost::make_function_output_iterator([&](const Entry& entry) {
      if (crosses(ray, walls_[entry.second])) found.push_back(entry.second);
    });
    tree_.query(boost::geometry::index::intersects(segment), keep);
    std::ranges::sort(found);
    return found;
  }

 private:
  using Corner = boost::geometry::model::d2::point_xy<double>;
  using Entry = std::pair<boost::geometry::model::box<Corner>, std::uint32_t>;
  using Tree = boost::geometry::index::rtree<Entry, boost::geometry::index::rstar<16>>;
  const std::vector<Segment2>& walls_;
  Tree tree_;
};

template <typename Query>
void crossings(benchmark::State& state) {
  const auto walls = random_office(static_cast<std::size_t>(state.range(0)), kSeed);
  const auto rays = random_rays(walls);
  const Query query(walls);
  for (const Segment2 ray : rays) {
    if (query.crossings(ray) == scan_crossings(walls, ray)) continue;
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

/// The usual lines, and the times kept for the ratios.
class Reporter : public benchmark::ConsoleReporter {
 public:
  Reporter() : ConsoleReporter(OO_Tabular) {}

  void ReportRuns(const std::vector<Run>& runs) override {
    ConsoleReporter::ReportRuns(runs);
    for (const Run& run : runs) {
      failed = failed || run.error_occurred;
      times[run.benchmark_name()] = run.GetAdjustedCPUTime();
    }
  }

  std::map<std::string, double> times;
  bool failed = false;
};

void print_ratios(const std::map<std::string, double>& times) {
  for (const char* walls : {"50", "600", "5000"}) {
    bool complete = true;
    const auto time = [&](const char* name) {
      const auto found = times.find(std::string(name) + "/" + walls);
      complete = complete && found != times.end();
      return found == times.end() ? 0 : found->second;
    };
    const double scan = time("scan"), rtree = time("rtree"), index = time("index");
    if (complete) {
      std::printf("%s walls: the index is %.1f times as fast as the scan, %.1f times as fast as the R-tree\n",
                  walls, scan / index, rtree / index);
    }
  }
}

}  // namespace

int main(int argc, char** argv) {
  benchmark::Initialize(&argc, argv);
  if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 2;
  Reporter reporter;
  benchmark::RunSpecifiedBenchmarks(&reporter);
  print_ratios(reporter.times);
  benchmark::Shutdown();
  return reporter.failed ? 1 : 0;
}
