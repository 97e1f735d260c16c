#pragma once

#include "linkmargin/base/range.hpp"

#include <complex>
#include <span>

namespace linkmargin {

/// One homogeneous layer with plane faces, infinitely wide.
struct SlabLayer {
  std::complex<double> permittivity{1, 0};  ///< relative; loss is a negative imaginary part
  double thickness_m = 0;
};

/// Which field is parallel to the faces: te the electric one, tm the magnetic one.
enum class Polarisation { te, tm };

/// Beyond this angle from the normal the loss at this angle holds: no wall is as wide as grazing incidence
/// asks for, and at 90 degrees the loss of the endless slab has no bound. Common practice.
inline constexpr double kMaxIncidenceDeg = 85.0;  ///< without it, halved: 0.4, 1.6 dB at most

inline constexpr Range kLayerThicknessM{0, 10, "thickness_m", "bounds of this library"};

/// Cosine of the angle from the normal. A little over 1 counts as 1: rounding makes it so.
inline constexpr Range kIncidenceCos{0, 1 + 1e-9, "incidence_cos", "definition"};

/// Loss of a plane wave through a stack of layers with air on both sides, all multiple reflections included.
/// @param layers         from the side of incidence; permittivity in kRelativePermittivity and
/// kDielectricLoss,
///                       thickness in kLayerThicknessM; none at all loses nothing
/// @param frequency_hz   kFrequencyHz
/// @param incidence_cos  kIncidenceCos; angles over kMaxIncidenceDeg count as that angle
/// @return decibels, never negative, never infinite (the attenuation adds up as a logarithm)
/// @throws DomainError outside the ranges
/// Accuracy: 1e-9 dB against the closed form of one slab and against the transfer matrix. Turning the stack
/// round changes the loss by rounding only (1e-9 dB, or 1e-12 of it), not bit for bit. Source: ITU-R P.2040,
/// slab and multi-layer transmission, here as a recursion over the interfaces (textbook optics of thin
/// films); equation numbers not seen.
double slab_loss_db(std::span<const SlabLayer> layers, double frequency_hz, double incidence_cos,
                    Polarisation polarisation);

/// The same for a wave of unknown polarisation: -10 log10 of the mean of the two transmitted powers.
double mean_slab_loss_db(std::span<const SlabLayer> layers, double frequency_hz, double incidence_cos);

/// Where the power of the incoming wave goes. The three shares add up to 1.
struct SlabPower {
  double transmitted = 0;  ///< 0 where the loss is over some 3000 dB
  double reflected = 0;
  double absorbed = 0;  ///< what the other two leave; as exact as they are
};

/// Arguments and failure as slab_loss_db. Accuracy: 1e-9 of the incoming power.
SlabPower slab_power(std::span<const SlabLayer> layers, double frequency_hz, double incidence_cos,
                     Polarisation polarisation);

/// Reflected over incoming, of the field that is parallel to the faces: electric for te, and for tm the
/// electric one too, so that metal gives -1 for both.
struct SlabReflection {
  std::complex<double> te;
  std::complex<double> tm;
};

/// Arguments and failure as slab_loss_db.
/// @param behind  permittivity of what lies behind the last layer; 1: air
SlabReflection slab_reflection(std::span<const SlabLayer> layers, double frequency_hz, double incidence_cos,
                               std::complex<double> behind = 1);

/// The same in a diffuse field: the mean over both polarisations and over all directions of a half space,
/// each weighted with the cosine of its angle from the normal (what a face catches of it). Arguments and
/// failure as slab_loss_db.
/// Accuracy: 1e-4 of the incoming power against an adaptive integration for single layers of building
/// materials up to five wavelengths thick and for cavities up to 0.15 m; resonances of thick stacks are
/// sampled too coarsely: 4e-3 with a gap of 0.3 m, 6e-2 with one of 3.5 m (diffuse_slab_power_test.cpp).
/// Source: the weighting is Lambert's law; D. A. Hill et al., IEEE Trans. EMC 36 (1994) 169, use it for walls
/// and apertures of cavities.
SlabPower diffuse_slab_power(std::span<const SlabLayer> layers, double frequency_hz);

}  // namespace linkmargin
