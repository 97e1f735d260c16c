#include "linkmargin/link/reverberation/decaying_modes.hpp"

#include "linkmargin/base/wide_exp.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <numeric>

namespace linkmargin {
namespace {

struct ModesLoop {
  std::size_t count;
  double distance_m;
  const double *worth, *one, *other, *rate_per_m;
  double least = kLeastExponent;
};

constexpr std::size_t kLanes = 8;
constexpr std::size_t kRun = 32 * kLanes;

LINKMARGIN_LOOP double decayed_body(const ModesLoop& loop) {
  std::array<double, kLanes> sums{};
  std::array<double, kRun> terms{};
  for (std::size_t first = 0; first < loop.count; first += kRun) {
    const std::size_t run = std::min(kRun, loop.count - first);
    const double* __restrict worth = loop.worth + first;
    const double* __restrict one = loop.one + first;
    const double* __restrict other = loop.other + first;
    const double* __restrict rate_per_m = loop.rate_per_m + first;
    const double distance_m = loop.distance_m, least = loop.least;
    for (std::size_t i = 0; i < run; ++i) {
      const double x = -distance_m * rate_per_m[i];
      terms[i] = worth[i] * one[i] * other[i] * wide_exp(x < least ? least : x);
    }
    for (std::size_t i = run; i % kLanes != 0; ++i) terms[i] = 0;
    for (std::size_t i = 0; i < run; i += kLanes) {
      for (std::size_t lane = 0; lane < kLanes; ++lane) sums[lane] += terms[i + lane];
    }
  }
  return std::accumulate(sums.begin(), sums.end(), 0.0);
}
LINKMARGIN_WIDE double decayed_wide(const ModesLoop& loop) {
  return decayed_body(loop);
}
double decayed_any(const ModesLoop& loop) {
  return decayed_body(loop);
}

LINKMARGIN_LOOP void scaled_body(const double* __restrict values, std::size_t count, double factor,
                                 double* __restrict sums) {
  for (std::size_t i = 0; i < count; ++i) sums[i] += factor * values[i];
}
LINKMARGIN_WIDE void scaled_wide(const double* values, std::size_t count, double factor, double* sums) {
  scaled_body(values, count, factor, sums);
}
void scaled_any(const double* values, std::size_t count, double factor, double* sums) {
  scaled_body(values, count, factor, sums);
}

}  // namespace

void add_scaled(std::span<const double> values, double factor, std::span<double> sums) {
  has_wide() ? scaled_wide(values.data(), values.size(), factor, sums.data())
             : scaled_any(values.data(), values.size(), factor, sums.data());
}

double decayed_sum(std::span<const double> worth, std::span<const double> one, std::span<const double> other,
                   std::span<const double> rate_per_m, double distance_m) {
  const ModesLoop loop{worth.size(), distance_m, worth.data(), one.data(), other.data(), rate_per_m.data()};
  return has_wide() ? decayed_wide(loop) : decayed_any(loop);
}

}  // namespace linkmargin
