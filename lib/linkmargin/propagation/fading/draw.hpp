#pragma once

#include "linkmargin/base/random.hpp"

#include <cstdint>

/// Random draws of levels, each a pure function of a stream and the draw's number.
namespace linkmargin {

/// Two independent standard normal numbers.
struct NormalPair {
  double first;
  double second;
};

/// Source: G. E. P. Box, M. E. Muller, Ann. Math. Stat. 29 (1958) 610; from two uniform numbers of the
/// stream.
NormalPair normal_pair(const RandomStream& stream, std::uint64_t draw);

/// A level over the local mean, in decibels, by the law of propagation/fading/fading.hpp: the power of a
/// steady wave and a complex normal one. Never under kFadeLevelDb.
/// @param k_ratio  of powers, 0..1e6: rician_k_ratio()
double rician_draw_db(double k_ratio, const RandomStream& stream, std::uint64_t draw);

}  // namespace linkmargin
