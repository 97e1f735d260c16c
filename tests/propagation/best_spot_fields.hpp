#pragma once

#include "linkmargin/base/random.hpp"
#include "linkmargin/base/units.hpp"

#include <boost/math/special_functions/bessel.hpp>
#include <boost/math/special_functions/spherical_harmonic.hpp>

#include <algorithm>
#include <cmath>
#include <complex>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <vector>

/// Random fields on rings round a spot, for best_spot_generator.cpp.
namespace linkmargin::best_spot_table {

using Complex = std::complex<double>;

inline constexpr std::size_t kRings = 48;  // the largest radius, 1.5 lambda
inline constexpr double kRingsPerLambda = 32;
inline constexpr int kOrders = 22;  // J_22(3 pi) = 3e-7

inline double wave_number_times_radius(std::size_t ring) {
  return 2 * kPi * static_cast<double>(ring) / kRingsPerLambda;
}

/// Spots of one ring: evenly spread, from angle 0; a multiple of 8, so that the quarter turns are among them.
inline std::size_t spots_of(std::size_t ring) {
  return 8 * ((std::max<std::size_t>(16, 4 * ring) + 7) / 8);
}

struct Ring {
  std::size_t first;
  std::size_t spots;
};

struct Spots {
  std::vector<Ring> rings;  // ring 0 stands for the start and has none
  std::size_t count = 0;

  Spots() {
    rings.push_back({0, 0});
    for (std::size_t ring = 1; ring <= kRings; ++ring) {
      rings.push_back({count, spots_of(ring)});
      count += spots_of(ring);
    }
  }
};

/// Normal numbers in the order of use.
class Normals {
 public:
  Normals(std::uint64_t seed, std::uint64_t sample) : stream_(seed, sample) {}

  double uniform() { return stream_.uniform(next_++); }

  /// Complex normal of unit power.
  Complex complex() {
    const double power = -std::log(1 - uniform());
    return std::polar(std::sqrt(power), 2 * kPi * uniform());
  }

 private:
  RandomStream stream_;
  std::uint64_t next_ = 0;
};

/// exp(j m angle) cos and sin, for each spot and order.
struct Turns {
  std::vector<float> cosines, sines;  // [order][spot]
  explicit Turns(const Spots& spots) : cosines(kOrders * spots.count + spots.count), sines(cosines.size()) {
    for (std::size_t order = 0; order <= kOrders; ++order) {
      for (const Ring& ring : spots.rings) {
        for (std::size_t spot = 0; spot < ring.spots; ++spot) {
          const double angle = 2 * kPi * static_cast<double>(order * spot) / static_cast<double>(ring.spots);
          cosines[order * spots.count + ring.first + spot] = static_cast<float>(std::cos(angle));
          sines[order * spots.count + ring.first + spot] = static_cast<float>(std::sin(angle));
        }
      }
    }
  }
};

/// How strong each (degree, order) is on each ring; the wave with degree 0 is the field at the start.
struct Waves {
  struct Wave {
    int order;
    Complex phase;
    std::vector<double> on_ring;
  };
  std::vector<Wave> waves;
  std::vector<double> start_on_ring;  // also the correlation with the start

  explicit Waves(bool in_space) {
    const int degrees = kOrders;
    for (int degree = 0; degree <= degrees; ++degree) {
      for (int order = in_space ? degree % 2 : degree; order <= degree; order += 2) {
        for (const int sign : {1, -1}) {
          if (order == 0 && sign == -1) continue;
          Wave wave{sign * order, std::pow(Complex(0, 1), degree), {}};
          for (std::size_t ring = 0; ring <= kRings; ++ring) {
            const double x = wave_number_times_radius(ring);
            wave.on_ring.push_back(in_space ? spherical(degree, order, x)
                                            : boost::math::cyl_bessel_j(degree, x));
          }
          if (degree == 0) {
            start_on_ring = wave.on_ring;
          } else {
            waves.push_back(wave);
          }
        }
      }
    }
  }

 private:
  static double spherical(int degree, int order, double x) {
    const double harmonic =
        boost::math::spherical_harmonic_r(static_cast<unsigned>(degree), order, kPi / 2, 0.0);
    return std::sqrt(4 * kPi) * harmonic * boost::math::sph_bessel(static_cast<unsigned>(degree), x);
  }
};

struct Field {
  std::vector<float> re, im;
};

/// Adds the diffuse waves but that of the start.
inline void add_diffuse(const Spots& spots, const Turns& turns, const Waves& waves, Normals& normals,
                        double amplitude, Field& field) {
  std::vector<Complex> coefficients;
  for (const auto& wave : waves.waves) coefficients.push_back(amplitude * wave.phase * normals.complex());
  for (std::size_t ring = 1; ring <= kRings; ++ring) {
    std::vector<Complex> plus(kOrders + 1), minus(kOrders + 1);
    for (std::size_t index = 0; index < coefficients.size(); ++index) {
      const auto& wave = waves.waves[index];
      auto& sum = (wave.order < 0 ? minus : plus)[static_cast<std::size_t>(std::abs(wave.order))];
      sum += coefficients[index] * wave.on_ring[ring];
    }
    const auto [first, count] = spots.rings[ring];
    for (std::size_t order = 0; order <= kOrders; ++order) {
      // (a + b) cos + j (a - b) sin for a exp(j m angle) + b exp(-j m angle)
      const Complex even = plus[order] + minus[order];
      const Complex odd = Complex(0, 1) * (plus[order] - minus[order]);
      const auto er = static_cast<float>(even.real()), ei = static_cast<float>(even.imag());
      const auto fr = static_cast<float>(odd.real()), fi = static_cast<float>(odd.imag());
      const float* c = &turns.cosines[order * spots.count + first];
      const float* s = &turns.sines[order * spots.count + first];
      for (std::size_t spot = 0; spot < count; ++spot) {
        field.re[first + spot] += er * c[spot] + fr * s[spot];
        field.im[first + spot] += ei * c[spot] + fi * s[spot];
      }
    }
  }
}

/// One steady plane wave of that amplitude and phase 0 at the start, from a random direction.
inline void set_specular(const Spots& spots, const Turns& turns, bool in_space, Normals& normals,
                         double amplitude, Field& field) {
  const double azimuth = 2 * kPi * normals.uniform();
  const double height = 2 * normals.uniform() - 1;
  const double slant = in_space ? std::sqrt(1 - height * height) : 1;
  const double along = slant * std::cos(azimuth), across = slant * std::sin(azimuth);
  for (std::size_t ring = 1; ring <= kRings; ++ring) {
    const double x = wave_number_times_radius(ring);
    const auto [first, count] = spots.rings[ring];
    for (std::size_t spot = first; spot < first + count; ++spot) {
      const double phase = x * (along * static_cast<double>(turns.cosines[spots.count + spot]) +
                                across * static_cast<double>(turns.sines[spots.count + spot]));
      field.re[spot] = static_cast<float>(amplitude * std::cos(phase));
      field.im[spot] = static_cast<float>(amplitude * std::sin(phase));
    }
  }
}

}  // namespace linkmargin::best_spot_table
