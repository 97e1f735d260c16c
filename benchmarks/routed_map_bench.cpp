// Maps that count ways round and echoes, 200 x 200 cells: every cell found, and cells filled in between
// others that agree to 0.5 dB, against the map of the same office by the straight line. The office has 612
// walls, 362 doors and 36 cupboards. The filled map is held against the one with every cell found before it
// is timed.

#include "linkmargin/analysis/coverage/coverage.hpp"

#include "doored_office.hpp"
#include "ratio_report.hpp"

#include <cmath>
#include <string>

using namespace linkmargin;

namespace {

constexpr std::size_t kSide = 17;

Site office(bool diffraction) {
  Site site = doored_office(kSide, 7);
  site.radio.diffraction = diffraction;
  site.radio.reverberation = diffraction;
  return site;
}

CoverageMap map_of(const Site& site, double within_db, int threads) {
  static const double step_m = [] {
    const CoverageMap wide =
        coverage(office(false), {.profile = "hub", .height_m = 1.5, .step_m = 1, .chances = false});
    return std::max(wide.columns, wide.rows) / 200.0;
  }();
  return coverage(site, {.profile = "hub",
                         .height_m = 1.5,
                         .step_m = step_m,
                         .chances = false,
                         .within_db = within_db,
                         .threads = threads});
}

/// Share of cells that differ by more than so much, in percent.
double off_percent(const CoverageMap& one, const CoverageMap& other, double by_db) {
  std::size_t off = 0;
  for (std::size_t cell = 0; cell < one.size(); ++cell)
    off += std::abs(one.path_loss_db[cell] - other.path_loss_db[cell]) > by_db ? 1 : 0;
  return 100.0 * static_cast<double>(off) / static_cast<double>(one.size());
}

void straight(benchmark::State& state) {
  const Site site = office(false);
  for (auto _ : state) benchmark::DoNotOptimize(map_of(site, 0, 1));
}

void routed(benchmark::State& state, double within_db, int threads) {
  const Site site = office(true);
  if (within_db > 0 && off_percent(map_of(site, within_db, 2), map_of(site, 0, 2), 1) > 0.2) {
    state.SkipWithError("filled in too far from what is there");
    return;
  }
  CoverageMap map;
  for (auto _ : state) benchmark::DoNotOptimize(map = map_of(site, within_db, threads));
  state.counters["cells"] = static_cast<double>(map.size());
}

void add(const char* name, double within_db, int threads) {
  benchmark::RegisterBenchmark(name, [=](benchmark::State& state) { routed(state, within_db, threads); })
      ->Unit(benchmark::kMillisecond)
      ->Iterations(1)
      ->UseRealTime();
}

void print_ratios(const RatioReporter& reporter) {
  const std::string one = "/iterations:1/real_time";
  std::printf(
      "\nTimes the cost of the straight map, 612 walls, 200 x 200 cells at most, scenes built anew\n");
  reporter.print("with ways round and echoes, every cell found", "straight/real_time", "routed" + one);
  reporter.print("the same within 0.5 dB", "straight/real_time", "routed_within_half_db" + one);
  std::printf("\nTimes as fast as ...\n");
  reporter.print_real("two threads, every cell found: one", "routed_2_threads" + one, "routed" + one);
}

}  // namespace

int main(int argc, char** argv) {
  benchmark::RegisterBenchmark("straight", straight)->Unit(benchmark::kMillisecond)->UseRealTime();
  add("routed", 0, 1);
  add("routed_within_half_db", 0.5, 1);
  add("routed_2_threads", 0, 2);
  return run_with_ratios(argc, argv, print_ratios);
}
