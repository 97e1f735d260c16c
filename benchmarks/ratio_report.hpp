#pragma once

#include <benchmark/benchmark.h>
#include <cstdio>
#include <map>
#include <string>
#include <vector>

namespace linkmargin {

/// The usual lines, and the times kept for the ratios, by full name: seconds an iteration, of the processor,
/// which other programs on the machine disturb less, and by the clock.
class RatioReporter : public benchmark::ConsoleReporter {
 public:
  RatioReporter() : ConsoleReporter(OO_Tabular) {}

  void ReportRuns(const std::vector<Run>& runs) override {
    ConsoleReporter::ReportRuns(runs);
    for (const Run& run : runs) {
      failed = failed || run.error_occurred;
      const auto iterations = static_cast<double>(run.iterations);
      cpu_s_[run.benchmark_name()] = run.cpu_accumulated_time / iterations;
      real_s_[run.benchmark_name()] = run.real_accumulated_time / iterations;
    }
  }

  /// Prints how many times as fast `mine` is as the peer, where both were run.
  void print(const std::string& what, const std::string& mine, const std::string& peer,
             double scale = 1) const {
    print(what, cpu_s_, mine, peer, scale);
  }

  /// The same by the clock: of several threads or processes.
  void print_real(const std::string& what, const std::string& mine, const std::string& peer,
                  double scale = 1) const {
    print(what, real_s_, mine, peer, scale);
  }

  bool failed = false;

 private:
  static void print(const std::string& what, const std::map<std::string, double>& times,
                    const std::string& mine, const std::string& peer, double scale) {
    const auto own = times.find(mine);
    const auto other = times.find(peer);
    if (own == times.end() || other == times.end() || own->second <= 0) return;
    std::printf("%-62s %7.1f\n", what.c_str(), scale * other->second / own->second);
  }

  std::map<std::string, double> cpu_s_;
  std::map<std::string, double> real_s_;
};

/// What a bench's main() does: runs all, prints what `ratios` prints of them.
template <typename Ratios>
int run_with_ratios(int argc, char** argv, Ratios ratios) {
  benchmark::Initialize(&argc, argv);
  if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 2;
  RatioReporter reporter;
  benchmark::RunSpecifiedBenchmarks(&reporter);
  ratios(reporter);
  benchmark::Shutdown();
  return reporter.failed ? 1 : 0;
}

}  // namespace linkmargin
