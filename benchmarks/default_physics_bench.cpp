// What the default model (diffraction and reverberation on) costs: a cell of a map against the straight map,
// checks of many devices with and without readings, calibration of many readings, one hub's place, and
// by how much each grows where walls, cells, devices or storeys double. First 10,000 random cells of a map
// are held against single links, and the crossings of their lines against the plain scan.

#include "linkmargin/analysis/calibration/calibration.hpp"
#include "linkmargin/analysis/coverage/coverage.hpp"
#include "linkmargin/analysis/placement/model/placement.hpp"
#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/prediction/fitted_shadowing.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/propagation/fading/shadowing.hpp"

#include "office_of_storeys.hpp"
#include "ratio_report.hpp"

#include <algorithm>
#include <cmath>
#include <string>

using namespace linkmargin;

namespace {

constexpr std::size_t kSide = 17;  ///< 612 walls, 362 doors

Site straight(Site site) {
  site.radio.diffraction = site.radio.reverberation = false;
  return site;
}

CoverageMap map_of(const Site& site, double step_m, int threads = 1) {
  return coverage(
      site, {.profile = "hub", .height_m = 1.5, .step_m = step_m, .chances = false, .threads = threads});
}

/// Whether random cells of a map are what single links between the two points say, and their lines cross
/// what the plain scan finds.
bool agrees(const Site& site, const CoverageMap& map) {
  const Scene scene(site, Doors::armed);
  const Point3 hub = site.point(site.hubs[0].place);
  const LinkEndpoint from(scene, hub);
  const RandomStream random(3, 0xCE11);
  for (std::uint64_t draw = 0; draw < 10'000; ++draw) {
    const std::size_t cell = random.bits(draw) % map.size();
    const Point2 at = map.centre(cell);
    const Point3 there{at.x, at.y, map.z_m};
    const bool by_itself = draw % 20 == 0;  // with the ways from its end found for it alone
    const LossBreakdown link = by_itself ? path_loss(scene, hub, there) : path_loss(from, there);
    if (std::abs(link.path_loss_db - map.path_loss_db[cell]) > 1e-4) return false;
    if (trace(scene, hub, there).crossings != trace_by_scan(scene, hub, there).crossings) return false;
  }
  return true;
}

void map(benchmark::State& state, const Site& site, double step_m, int threads) {
  CoverageMap found;
  for (auto _ : state) found = map_of(site, step_m, threads);
  state.counters["cells"] = static_cast<double>(found.size());
  state.counters["a_cell"] =
      benchmark::Counter(static_cast<double>(found.size()),
                         benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}

void checked_map(benchmark::State& state) {
  const Site site = office_of_storeys(kSide, 1, 0);
  const CoverageMap found = map_of(site, 0.35, 2);
  for (auto _ : state) {
    if (!agrees(site, found)) state.SkipWithError("a cell differs from its link, or a line from the scan");
  }
}

void check(benchmark::State& state, const Site& site, const std::vector<Reading>& readings) {
  LinkTable table;
  for (auto _ : state) {
    LinkTableOptions options{.readings = readings};
    options.nearby = fitted_shadowing(site, readings, Doors::armed, 1);
    table = link_table(site, options);
  }
  state.counters["links"] = static_cast<double>(table.links.size());
}

/// A reading of each of the first devices, spread about what is predicted.
std::vector<Reading> readings_of(const Site& site, std::size_t count) {
  const LinkTable table = link_table(site, {.detail = TableDetail::chances});
  const RandomStream random(5, 0x5EAD);
  std::vector<Reading> readings;
  for (std::size_t i = 0; i < count; ++i) {
    Reading reading;
    reading.device = table.links[i].device;
    reading.hub = table.links[i].hub;
    const double off = normal_quantile(std::clamp(random.uniform(i), 1e-9, 1 - 1e-9));
    reading.level = Dbm{table.links[i].lower().level.value + 5 * off};
    readings.push_back(reading);
  }
  return readings;
}

CalibrationJob job_of(std::size_t count) {
  CalibrationJob job{office_of_storeys(kSide, 1, 1), {}};
  const RandomStream random(9, 0xCA1);
  const double side_m = office_side_m(job.site);
  for (std::uint64_t i = 0; i < count; ++i) {
    Reading reading;
    reading.device = job.site.devices[0].name;
    reading.hub = job.site.hubs[0].name;
    Placement place = job.site.devices[0].place;
    place.at = snapped(Point2{side_m * random.uniform(3 * i), side_m * random.uniform(3 * i + 1)});
    const double apart_m =
        std::max(1.0, distance(job.site.point(place), job.site.point(job.site.hubs[0].place)));
    const double off = normal_quantile(std::clamp(random.uniform(3 * i + 2), 1e-9, 1 - 1e-9));
    reading.level = Dbm{-25 - 20 * std::log10(apart_m) - 0.9 * apart_m + 5 * off};
    reading.place = place;
    job.readings.push_back(reading);
  }
  return job;
}

void learn(benchmark::State& state, std::size_t count) {
  const CalibrationJob job = job_of(count);
  for (auto _ : state) benchmark::DoNotOptimize(calibration({job}));
}

void place_one_hub(benchmark::State& state, double step_m) {
  const Site site = office_of_storeys(kSide, 1, 48);
  PlacementOptions options;
  options.anywhere = true;
  options.step_m = step_m;
  options.doors = {Doors::armed};
  options.best_only = true;
  PlacementAnswer found;
  for (auto _ : state) found = placement(site, options);
  state.counters["proved_step_m"] = found.proved_step_m;
}

template <typename... Arguments>
void add(const std::string& name, Arguments... arguments) {
  benchmark::RegisterBenchmark(name.c_str(), arguments...)
      ->Unit(benchmark::kMillisecond)
      ->Iterations(1)
      ->UseRealTime();
}

constexpr const char* kEnd = "/iterations:1/real_time";

void print_ratios(const RatioReporter& reporter) {
  const auto ratio = [&](const char* what, const std::string& one, const std::string& other) {
    reporter.print(what, one + kEnd, other + kEnd);
  };
  std::printf("\nTimes the time of ...\n");
  ratio("the straight map: the default map, 612 walls", "straight map", "map");
  std::printf("\nTimes as fast as ... by the clock\n");
  reporter.print_real("one thread: two threads", std::string("map on two threads") + kEnd,
                      std::string("map") + kEnd);
  std::printf("\nBy how much it grows where this doubles\n");
  ratio("map: walls and doors (612 to 1,200), as many cells", "map, 0.5 m", "map, 0.5 m, walls doubled");
  ratio("map: cells", "map, 0.5 m", "map, 0.35 m");
  ratio("check: devices (1,000 to 2,000)", "check of 1000", "check of 2000");
  ratio("check: storeys (1 to 2, 1,000 devices)", "check of 1000", "check on 2 storeys");
  ratio("check: readings (800 to 1,600)", "check with 800 readings", "check with 1600 readings");
  ratio("calibrate: readings (2,000 to 4,000)", "calibrate 2000", "calibrate 4000");
}

}  // namespace

int main(int argc, char** argv) {
  const Site office = office_of_storeys(kSide, 1, 0);
  const Site many = office_of_storeys(kSide, 1, 2000);
  add("cells against links", checked_map);
  add("straight map", map, straight(office), 0.175, 1);
  add("map", map, office, 0.175, 1);
  add("map on two threads", map, office, 0.175, 2);
  add("map of 4900 walls", map, office_of_storeys(49, 1, 0), 0.5, 1);
  add("map, 0.5 m", map, office, 0.5, 1);
  add("map, 0.35 m", map, office, 0.5 / std::sqrt(2), 1);
  add("map, 0.5 m, walls doubled", map, office_of_storeys(24, 1, 0), 0.5 * 24 / 17, 1);
  add("check of 1000", check, office_of_storeys(kSide, 1, 1000), std::vector<Reading>());
  add("check of 2000", check, many, std::vector<Reading>());
  add("check on 2 storeys", check, office_of_storeys(kSide, 2, 1000), std::vector<Reading>());
  add("check with 800 readings", check, many, readings_of(many, 800));
  add("check with 1600 readings", check, many, readings_of(many, 1600));
  add("calibrate 2000", learn, 2000);
  add("calibrate 4000", learn, 4000);
  add("calibrate 16000", learn, 16000);
  add("place one hub, 0.5 m", place_one_hub, 0.5);
  return run_with_ratios(argc, argv, print_ratios);
}
