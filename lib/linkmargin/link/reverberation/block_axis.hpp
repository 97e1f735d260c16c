#pragma once

#include <utility>
#include <vector>

namespace linkmargin {

/// A length divided into equal blocks about as wide as asked, the nearest whole number of them. Half-way
/// between two numbers both divisions are taken, each with a weight, so that nothing jumps where the length
/// grows.
class BlockAxis {
 public:
  BlockAxis() = default;

  /// @param length_m >= 0
  /// @param block_m  > 0, width wished for
  BlockAxis(double length_m, double block_m);

  double length_m() const { return length_m_; }

  /// A line between blocks, by its distance from the low end, with the weight of the division that has it.
  struct Cut {
    double at_m;
    double weight;  ///< (0, 1]
  };
  const std::vector<Cut>& cuts() const { return cuts_; }  ///< ascending

  /// Of the intervals between cuts, from 0, the one that holds a place; the nearest outside.
  int interval(double at_m) const;

  /// How many intervals away a block beside that of a place may reach.
  int reach() const { return divisions_.size() > 1 ? 5 : 1; }

  /// The weights of the intervals by which a quantity known in the blocks is read at a place: linear between
  /// the middles of blocks, in each division. They sum to 1.
  std::vector<std::pair<int, double>> weights(double at_m) const;

 private:
  struct Division {
    int count;
    double weight;
  };
  double length_m_ = 0;
  std::vector<Division> divisions_{{1, 1.0}};
  std::vector<Cut> cuts_;
};

}  // namespace linkmargin
