// Runs by the hundred thousand on the demo site: 200 settings of hub height and exponent, 499 draws on top of
// each prediction, rows as CSV. Beside them the same runs made one by one, first by the library from a fresh
// site, scene and trace each time, then by starting the program; both are sampled. What a sampled run gives
// is held against the row first. Then sweeps without draws, one for each thing that may stay as it was.

#include "linkmargin/analysis/what_if/what_if.hpp"
#include "linkmargin/report/what_if/what_if_rows.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/site/tables.hpp"
#include "linkmargin/yaml/tree/text_file.hpp"

#include "ratio_report.hpp"

#include <cstdlib>
#include <sys/resource.h>

using namespace linkmargin;

namespace {

constexpr std::uint64_t kDraws = 499;
constexpr std::uint64_t kRuns = 100'000;
constexpr std::uint64_t kEvery = 487;          // runs made one by one: a prime, so that every draw is met
constexpr std::uint64_t kProgramEvery = 4999;  // the same by the program

const char* demo_file() {
  return LINKMARGIN_DATA "/sites/kiln-lane.yaml";
}

Site demo() {
  return parse_site(read_text_file(demo_file()).value(), demo_file(), embedded_tables()).value();
}

SweepAxis axis(std::string path, double from, double to, int count) {
  SweepAxis made{std::move(path), {}, {}};
  for (int i = 0; i < count; ++i) {
    const double value = from + (to - from) * i / count;
    made.values.emplace_back(value);
    made.texts.push_back(std::to_string(value));
  }
  return made;
}

WhatIf hundred_thousand() {
  WhatIf made{.sites = {{.file = "kiln-lane.yaml", .site = demo()}}};
  made.sweep = {axis("/radio/exponent", 1.9, 2.3, 10), axis("/hubs/hub/height_m", 0.8, 2.4, 20)};
  made.draws = RandomDraws{kDraws, 7};
  return made;
}

std::vector<WhatIfRow> rows_of(const WhatIf& runs, const WhatIfOptions& options) {
  const WhatIfRowText text(runs, {}, {});
  std::vector<WhatIfRow> rows;
  std::size_t bytes = 0;
  what_if(
      runs, options, [&](std::span<const WhatIfRow> made) { return text.rows(made); },
      [&](WhatIfBlock block) {
        rows.insert(rows.end(), block.rows.begin(), block.rows.end());
        bytes += block.text.size();
        return true;
      });
  benchmark::DoNotOptimize(bytes);
  return rows;
}

void count(benchmark::State& state, std::size_t runs, std::size_t devices) {
  state.counters["runs"] = static_cast<double>(runs);
  state.counters["links_per_s"] =
      benchmark::Counter(static_cast<double>(runs * devices), benchmark::Counter::kIsIterationInvariantRate);
}

void all_runs(benchmark::State& state, int threads) {
  const WhatIf runs = hundred_thousand();
  const WhatIfRowText text(runs, {}, {});
  std::size_t made = 0;
  for (auto _ : state) {
    made = 0;
    what_if(
        runs, {.threads = threads}, [&](std::span<const WhatIfRow> rows) { return text.rows(rows); },
        [&](const WhatIfBlock& block) {
          made += block.rows.size();
          return true;
        });
  }
  if (made != kRuns) state.SkipWithError("not all runs were made");
  count(state, made, runs.sites[0].site.devices.size());
}

/// A run from nothing but the what-if file's content.
WhatIfOutcome run_afresh(const WhatIf& runs, const WhatIfRuns& numbers, std::uint64_t run) {
  const WhatIfVariant variant = numbers.variant((run - 1) / numbers.runs_each());
  const Site site = variant_site(runs, numbers, variant);
  const WhatIfSetting setting(site, link_table(site), runs.draws->seed);
  std::vector<double> shifts(setting.draws().size());
  std::vector<WhatIfDevice> devices(setting.table().links.size());
  const std::uint64_t draw = (run - 1) % numbers.runs_each();
  if (draw == 0) return setting.predicted(devices);
  setting.draws().draw(draw, shifts);
  return setting.outcome(shifts, devices);
}

void by_check(benchmark::State& state) {
  const WhatIf runs = hundred_thousand();
  const WhatIfRuns numbers(runs);
  const auto rows = rows_of(runs, {});
  for (auto _ : state) {
    for (std::uint64_t run = 1; run <= kRuns; run += kEvery) {
      const WhatIfOutcome found = run_afresh(runs, numbers, run);
      const WhatIfRow& row = rows[run - 1];
      if (found.worst_reading_percent != row.worst_reading_percent || found.weak_count != row.weak_count)
        return state.SkipWithError("a run made afresh differs from its row");
    }
  }
}

void by_program(benchmark::State& state) {
  const std::string command =
      std::string(LINKMARGIN_PROGRAM) + " check " + demo_file() + " --format csv > /dev/null";
  for (auto _ : state) {
    for (std::uint64_t run = 1; run <= kRuns; run += kProgramEvery) {
      if (std::system(command.c_str()) != 0) return state.SkipWithError("the program failed");
    }
  }
}

/// A sweep without draws, and the same one by one.
struct Sweep {
  const char* name;
  SweepAxis axis;
};

std::vector<Sweep> sweeps() {
  return {{"threshold", axis("/reading/weak_below_percent", 30, 50, 200)},
          {"noise", axis("/radio/noise_rise_db", 0, 10, 200)},
          {"device height", axis("/devices/hall keypad/height_m", 0.5, 2, 200)},
          {"hub height", axis("/hubs/hub/height_m", 0.5, 2.4, 200)},
          {"material", axis("/materials/kiln shell/loss_db", 5, 40, 200)},
          {"frequency", axis("/radio/frequency_mhz", 860, 870, 200)}};
}

void sweep_runs(benchmark::State& state, const SweepAxis& axis) {
  const WhatIf runs{.sites = {{.file = "", .site = demo()}}, .sweep = {axis}};
  for (auto _ : state) benchmark::DoNotOptimize(rows_of(runs, {}));
}

void sweep_by_check(benchmark::State& state, const SweepAxis& axis) {
  const WhatIf runs{.sites = {{.file = "", .site = demo()}}, .sweep = {axis}};
  const WhatIfRuns numbers(runs);
  for (auto _ : state) {
    for (std::uint64_t i = 0; i < numbers.variants(); i += 10)
      benchmark::DoNotOptimize(link_table(variant_site(runs, numbers, numbers.variant(i))));
  }
}

void print_ratios(const RatioReporter& reporter) {
  std::printf("\nTimes as fast as ..., 100,000 runs of the demo site\n");
  reporter.print("check by the library, run by run", "runs/iterations:3", "by_check/iterations:1",
                 static_cast<double>(kEvery));
  reporter.print_real("one thread (two threads, by the clock)", "runs_on_two/iterations:3/real_time",
                      "runs/iterations:3");
  reporter.print_real("starting the program for each run", "runs/iterations:3", "by_program/iterations:1",
                      static_cast<double>(kProgramEvery));
  std::printf("\nTimes as fast as check run by run, 200 values, no draws\n");
  for (const Sweep& sweep : sweeps()) {
    reporter.print(sweep.name, std::string(sweep.name) + "/iterations:3",
                   std::string(sweep.name) + ", by check/iterations:1", 10);
  }
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  std::printf("\nPeak memory of all %.1f MiB\n", static_cast<double>(usage.ru_maxrss) / 1024);
}

}  // namespace

int main(int argc, char** argv) {
  const auto ms = benchmark::kMillisecond;
  benchmark::RegisterBenchmark("runs", all_runs, 1)->Unit(ms)->Iterations(3);
  benchmark::RegisterBenchmark("runs_on_two", all_runs, 2)->Unit(ms)->Iterations(3)->UseRealTime();
  benchmark::RegisterBenchmark("by_check", by_check)->Unit(ms)->Iterations(1);
  benchmark::RegisterBenchmark("by_program", by_program)->Unit(ms)->Iterations(1);
  for (const Sweep& sweep : sweeps()) {
    benchmark::RegisterBenchmark(sweep.name, sweep_runs, sweep.axis)->Unit(ms)->Iterations(3);
    benchmark::RegisterBenchmark((std::string(sweep.name) + ", by check").c_str(), sweep_by_check, sweep.axis)
        ->Unit(ms)
        ->Iterations(1);
  }
  return run_with_ratios(argc, argv, print_ratios);
}
