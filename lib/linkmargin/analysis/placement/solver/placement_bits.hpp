#pragma once

#include <bit>
#include <cstddef>
#include <cstdint>
#include <vector>

// Inside analysis/ only.
namespace linkmargin {

/// A set of small numbers.
class PlacementBits {
 public:
  PlacementBits() = default;
  explicit PlacementBits(std::size_t size) : words_((size + 63) / 64) {}

  static PlacementBits all(std::size_t size) {
    PlacementBits bits(size);
    for (std::size_t i = 0; i < size; ++i) bits.add(i);
    return bits;
  }

  void add(std::size_t i) { words_[i / 64] |= std::uint64_t{1} << (i % 64); }
  void remove(std::size_t i) { words_[i / 64] &= ~(std::uint64_t{1} << (i % 64)); }
  bool has(std::size_t i) const { return (words_[i / 64] >> (i % 64) & 1U) != 0; }

  bool empty() const {
    for (const std::uint64_t word : words_) {
      if (word != 0) return false;
    }
    return true;
  }
  std::size_t count() const {
    std::size_t sum = 0;
    for (const std::uint64_t word : words_) sum += static_cast<std::size_t>(std::popcount(word));
    return sum;
  }

  PlacementBits& operator&=(const PlacementBits& other) {
    for (std::size_t i = 0; i < words_.size(); ++i) words_[i] &= other.words_[i];
    return *this;
  }
  PlacementBits& operator|=(const PlacementBits& other) {
    for (std::size_t i = 0; i < words_.size(); ++i) words_[i] |= other.words_[i];
    return *this;
  }
  /// Takes out what the other holds.
  PlacementBits& operator-=(const PlacementBits& other) {
    for (std::size_t i = 0; i < words_.size(); ++i) words_[i] &= ~other.words_[i];
    return *this;
  }
  bool within(const PlacementBits& other) const {
    for (std::size_t i = 0; i < words_.size(); ++i) {
      if ((words_[i] & ~other.words_[i]) != 0) return false;
    }
    return true;
  }
  std::size_t count_shared(const PlacementBits& other) const {
    std::size_t sum = 0;
    for (std::size_t i = 0; i < words_.size(); ++i)
      sum += static_cast<std::size_t>(std::popcount(words_[i] & other.words_[i]));
    return sum;
  }
  friend auto operator<=>(const PlacementBits&, const PlacementBits&) = default;

  /// Calls visit(i) for each number, rising.
  template <typename Visit>
  void each(Visit visit) const {
    for (std::size_t w = 0; w < words_.size(); ++w) {
      for (std::uint64_t word = words_[w]; word != 0; word &= word - 1)
        visit(w * 64 + static_cast<std::size_t>(std::countr_zero(word)));
    }
  }

 private:
  std::vector<std::uint64_t> words_;
};

}  // namespace linkmargin
