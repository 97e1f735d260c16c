#pragma once

#include "linkmargin/propagation/slab_loss.hpp"
#include "linkmargin/site/material.hpp"

#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// What it costs to pass one construction at one frequency: a constant (measured) or a stack of layers whose
/// loss depends on the angle of incidence, and what leaks round its edges.
class Transmission {
 public:
  Transmission() = default;

  /// @throws DomainError when the construction names a material that the table lacks, or needs a thickness
  /// and has none; validate(site) finds both before.
  static Transmission of(const Construction& construction, const MaterialTable& table, double frequency_hz);

  /// @param incidence_cos from the normal, [0, 1]; beyond kMaxIncidence the loss at that angle holds
  double loss_db(double incidence_cos) const;
  double sigma_db() const { return sigma_db_; }
  bool depends_on_angle() const { return !layers_.empty(); }

  /// The loss of what passes round the edges, which loss_db() has added; absent: nothing is added.
  std::optional<double> leakage_db() const { return leakage_db_; }

  /// The materials used outside the frequencies that their figures are stated for: "brick (1000 to 40000
  /// MHz)".
  const std::vector<std::string>& out_of_range() const { return out_of_range_; }

 private:
  double through_loss_db(double incidence_cos) const;

  double constant_db_ = 0;
  double sigma_db_ = 0;
  double frequency_hz_ = 0;
  std::optional<double> leakage_db_;
  std::vector<SlabLayer> layers_;
  std::vector<std::string> out_of_range_;
};

}  // namespace linkmargin
