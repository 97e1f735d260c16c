#pragma once

#include <cstdint>
#include <string_view>

namespace linkmargin {

/// A stream for what has a name, the same on every machine: 64-bit FNV-1a of its bytes (Fowler, Noll, Vo;
/// from memory).
constexpr std::uint64_t named_stream(std::string_view name) {
  std::uint64_t hash = 0xCBF29CE484222325ULL;
  for (const char letter : name) hash = (hash ^ static_cast<unsigned char>(letter)) * 0x100000001B3ULL;
  return hash;
}

/// Random numbers as a pure function of (seed, stream, index): the same on every machine and for any number
/// of threads, and any draw can be made without those before it.
///
/// Mixing: the finaliser of SplitMix64 (Steele, Lea, Flood, OOPSLA 2014), applied to a Weyl sequence whose
/// start depends on seed and stream.
class RandomStream {
 public:
  constexpr RandomStream(std::uint64_t seed, std::uint64_t stream)
      : start_(mix(mix(seed + kWeyl) ^ (stream * 0xD1342543DE82EF95ULL + kWeyl))) {}

  constexpr std::uint64_t bits(std::uint64_t index) const { return mix(start_ + (index + 1) * kWeyl); }

  /// Uniform in [0, 1), a multiple of 2^-53.
  constexpr double uniform(std::uint64_t index) const {
    return static_cast<double>(bits(index) >> 11U) * 0x1p-53;
  }

 private:
  static constexpr std::uint64_t kWeyl = 0x9E3779B97F4A7C15ULL;

  static constexpr std::uint64_t mix(std::uint64_t x) {
    x = (x ^ (x >> 30U)) * 0xBF58476D1CE4E5B9ULL;
    x = (x ^ (x >> 27U)) * 0x94D049BB133111EBULL;
    return x ^ (x >> 31U);
  }

  std::uint64_t start_;
};

}  // namespace linkmargin
