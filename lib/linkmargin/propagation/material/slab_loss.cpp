#include "linkmargin/propagation/material/slab_loss.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/material/electrical.hpp"
#include "linkmargin/propagation/path_loss/free_space.hpp"

#include <boost/math/quadrature/gauss.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace linkmargin {
namespace {

using Complex = std::complex<double>;

/// Without the guard of the operator against overflow, which costs more than the whole recursion: impedances
/// and permittivities lie between 1e-10 and 1e12.
Complex quotient(Complex a, Complex b) {
  const double size = std::norm(b);
  return {(a.real() * b.real() + a.imag() * b.imag()) / size,
          (a.imag() * b.real() - a.real() * b.imag()) / size};
}

/// Angle and frequency of the wave in the air on both sides.
struct Incidence {
  double wavenumber = 0;  ///< rad/m
  double cos = 1;
  double sin_squared = 0;
};

/// The wave inside one layer.
struct LayerWave {
  Complex normal;  ///< r = sqrt(eta - sin^2), refractive index along the normal; its imaginary part is <= 0
  Complex round_trip;  ///< exp(-2 j k r d)
  double neper = 0;    ///< attenuation of one passage
};

/// The recursion over the interfaces for one polarisation, from the far side of the stack to the near one.
/// Only decaying exponentials occur, and the transmission is kept as a logarithm, so that nothing can
/// overflow.
class Recursion {
 public:
  explicit Recursion(Complex outer_impedance) : impedance_(outer_impedance), outer_(outer_impedance) {}

  /// Puts a layer in front of what was passed so far. Impedances are relative to that of air.
  void add(Complex impedance, const LayerWave& wave) {
    face(impedance);
    echo_ = reflection_ * wave.round_trip;
    log_transmission_ -= wave.neper;
  }

  void close() { face(outer_); }
  void close_to(Complex impedance) { face(impedance); }

  Complex reflection() const { return reflection_; }
  double loss_db() const { return std::max(0.0, -20 * std::numbers::log10e * log_transmission_); }

 private:
  /// The face between a new medium on the near side and the one behind it, whose echo from farther back is
  /// echo_.
  void face(Complex near_impedance) {
    const Complex sum = impedance_ + near_impedance;
    const Complex rho = quotient(impedance_ - near_impedance, sum);
    const Complex passes = quotient(2.0 * impedance_, sum);  // 1 + rho, without its cancellation before metal
    const Complex loop = 1.0 + rho * echo_;
    log_transmission_ += 0.5 * std::log(std::norm(passes) / std::norm(loop));
    reflection_ = quotient(rho + echo_, loop);
    impedance_ = near_impedance;
  }

  Complex impedance_;
  Complex outer_;
  Complex reflection_ = 0;
  Complex echo_ = 0;
  double log_transmission_ = 0;
};

Incidence incidence_of(double frequency_hz, double incidence_cos) {
  require_in(kFrequencyHz, frequency_hz);
  require_in(kIncidenceCos, incidence_cos);
  static const double least_cos = std::cos(kMaxIncidenceDeg * kPi / 180);
  Incidence result;
  result.wavenumber = 2 * kPi / wavelength_m(frequency_hz);
  result.cos = std::clamp(incidence_cos, least_cos, 1.0);
  result.sin_squared = 1 - result.cos * result.cos;
  return result;
}

LayerWave wave_in(const SlabLayer& layer, const Incidence& incidence) {
  require_in(kRelativePermittivity, layer.permittivity.real());
  require_in(kDielectricLoss, -layer.permittivity.imag());
  require_in(kLayerThicknessM, layer.thickness_m);
  LayerWave wave;
  wave.normal = std::sqrt(layer.permittivity - incidence.sin_squared);
  const double path = incidence.wavenumber * layer.thickness_m;
  wave.neper = -path * wave.normal.imag();
  wave.round_trip = std::polar(std::exp(-2 * wave.neper), -2 * path * wave.normal.real());
  return wave;
}

Complex te_impedance(const LayerWave& wave) {
  return quotient(1.0, wave.normal);
}
Complex tm_impedance(const LayerWave& wave, const SlabLayer& layer) {
  return quotient(wave.normal, layer.permittivity);
}

Recursion solve(std::span<const SlabLayer> layers, const Incidence& incidence, Polarisation polarisation) {
  const bool te = polarisation == Polarisation::te;
  Recursion recursion(te ? 1 / incidence.cos : incidence.cos);
  for (auto layer = layers.rbegin(); layer != layers.rend(); ++layer) {
    const LayerWave wave = wave_in(*layer, incidence);
    recursion.add(te ? te_impedance(wave) : tm_impedance(wave, *layer), wave);
  }
  recursion.close();
  return recursion;
}

}  // namespace

double slab_loss_db(std::span<const SlabLayer> layers, double frequency_hz, double incidence_cos,
                    Polarisation polarisation) {
  return solve(layers, incidence_of(frequency_hz, incidence_cos), polarisation).loss_db();
}

double mean_slab_loss_db(std::span<const SlabLayer> layers, double frequency_hz, double incidence_cos) {
  const Incidence incidence = incidence_of(frequency_hz, incidence_cos);
  Recursion te(1 / incidence.cos);
  Recursion tm(incidence.cos);
  for (auto layer = layers.rbegin(); layer != layers.rend(); ++layer) {
    const LayerWave wave = wave_in(*layer, incidence);
    te.add(te_impedance(wave), wave);
    tm.add(tm_impedance(wave, *layer), wave);
  }
  te.close();
  tm.close();
  // The mean of the powers, relative to the stronger one: neither can underflow to a loss without bound.
  const auto [less_db, more_db] = std::minmax({te.loss_db(), tm.loss_db()});
  return less_db - 10 * std::log10((1 + std::pow(10, (less_db - more_db) / 10)) / 2);
}

SlabPower slab_power(std::span<const SlabLayer> layers, double frequency_hz, double incidence_cos,
                     Polarisation polarisation) {
  const Recursion recursion = solve(layers, incidence_of(frequency_hz, incidence_cos), polarisation);
  SlabPower power;
  power.transmitted = std::pow(10, -recursion.loss_db() / 10);
  power.reflected = std::norm(recursion.reflection());
  power.absorbed = std::max(0.0, 1 - power.transmitted - power.reflected);
  return power;
}

SlabReflection slab_reflection(std::span<const SlabLayer> layers, double frequency_hz, double incidence_cos,
                               std::complex<double> behind) {
  const Incidence incidence = incidence_of(frequency_hz, incidence_cos);
  const LayerWave beyond = wave_in({behind, 0}, incidence);
  SlabReflection found;
  for (const bool te : {true, false}) {
    Recursion recursion(te ? te_impedance(beyond) : tm_impedance(beyond, {behind, 0}));
    for (auto layer = layers.rbegin(); layer != layers.rend(); ++layer) {
      const LayerWave wave = wave_in(*layer, incidence);
      recursion.add(te ? te_impedance(wave) : tm_impedance(wave, *layer), wave);
    }
    recursion.close_to(te ? 1 / incidence.cos : incidence.cos);
    (te ? found.te : found.tm) = recursion.reflection();
  }
  return found;
}

SlabPower diffuse_slab_power(std::span<const SlabLayer> layers, double frequency_hz) {
  using Rule = boost::math::quadrature::gauss<double, 30>;
  SlabPower mean;
  const auto add = [&](double incidence_cos, double weight) {
    for (const Polarisation polarisation : {Polarisation::te, Polarisation::tm}) {
      const SlabPower at = slab_power(layers, frequency_hz, incidence_cos, polarisation);
      mean.transmitted += weight * at.transmitted;
      mean.reflected += weight * at.reflected;
    }
  };
  // Over the cosine from 0 to 1, weight 2 cos; the rule has nodes from -1 to 1, given as their positive half.
  for (std::size_t i = 0; i < Rule::abscissa().size(); ++i) {
    for (const double node : {-Rule::abscissa()[i], Rule::abscissa()[i]}) {
      const double incidence_cos = (1 + node) / 2;
      add(incidence_cos, Rule::weights()[i] / 2 * incidence_cos);
    }
  }
  mean.absorbed = std::max(0.0, 1 - mean.transmitted - mean.reflected);
  return mean;
}

}  // namespace linkmargin
