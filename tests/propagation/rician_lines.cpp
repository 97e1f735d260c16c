/// Prints the fading laws over a grid for rician_scipy.py: k_db, level_db, chance, density per dB, and per
/// k_db the mean and deviation.
#include "linkmargin/propagation/fading/fading.hpp"

#include <cstdio>
#include <limits>

using namespace linkmargin;

int main() {
  constexpr double kInfinity = std::numeric_limits<double>::infinity();
  for (const double k_db :
       {-kInfinity, -30.0, -10.0, -3.0, 0.0, 1.0, 3.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0}) {
    std::printf("moments %.17g %.17g %.17g\n", k_db, rician_mean_db(k_db), rician_deviation_db(k_db));
    for (double level_db = -80; level_db <= 20; level_db += 0.5)
      std::printf("point %.17g %.17g %.17g %.17g\n", k_db, level_db, rician_cdf(k_db, level_db),
                  rician_density_per_db(k_db, level_db));
  }
}
