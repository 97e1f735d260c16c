#include "linkmargin/link/building/loss_curve.hpp"

#include "linkmargin/base/random.hpp"
#include "linkmargin/base/units.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace linkmargin;

TEST_CASE("a curve is the layers' own loss at every angle") {
  const RandomStream random(21, 1);
  std::uint64_t next = 0;
  double worst_db = 0;
  for (int wall = 0; wall < 60; ++wall) {
    const double frequency_hz = 300e6 * std::pow(20, random.uniform(next++));
    std::vector<SlabLayer> layers;
    const int count = 1 + wall % 3;
    for (int i = 0; i < count; ++i) {
      const double real = 1 + 6 * random.uniform(next++), loss = 0.01 + 0.5 * random.uniform(next++);
      layers.push_back({{real, -loss}, 0.005 + 0.4 * random.uniform(next++)});
    }
    const LossCurve curve(layers, frequency_hz);
    for (int angle = 0; angle < 60; ++angle) {
      const double cosine = 0.0872 + 0.9128 * random.uniform(next++);
      worst_db = std::max(worst_db,
                          std::abs(curve.loss_db(cosine) - mean_slab_loss_db(layers, frequency_hz, cosine)));
    }
    CHECK(std::abs(curve.loss_db(1) - mean_slab_loss_db(layers, frequency_hz, 1)) <= 1e-9);
    CHECK(curve.loss_db(0) == curve.loss_db(std::cos(kMaxIncidenceDeg * kPi / 180)));
  }
  CHECK(worst_db <= 1e-5);
}
