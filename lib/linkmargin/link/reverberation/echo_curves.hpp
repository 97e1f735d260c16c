#pragma once

#include "linkmargin/link/reverberation/diffuse_field.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <mutex>
#include <optional>
#include <vector>

namespace linkmargin {

/// The echoes of one end at the cells of a map. What a cell of the field gets is a sum of thousands of
/// exponentials of the distance, the same for all places of the cell: calculated at a few distances, and
/// Chebyshev polynomials between. Safe to share between threads; keeps a reference to the field.
class EchoCurves {
 public:
  EchoCurves(const DiffuseField& field, std::shared_ptr<const DiffuseEnd> from);

  /// DiffuseField::echoes() for a place indoors, to 1e-7 of the power.
  /// @param distance_m  >= 0
  /// @return nothing out of doors, over kFarthestM, and where a curve is too steep for that
  std::optional<Echoes> at(Point3 p, double distance_m) const;

  static constexpr double kFarthestM = 120;

 private:
  static constexpr double kStretchM = 2;  ///< what one polynomial covers
  static constexpr std::size_t kNodes = 10;

  struct Stretch {
    std::once_flag found;
    std::array<double, kNodes> coefficients{};
    bool smooth = false;
  };

  std::optional<double> flux(std::uint32_t cell, double distance_m) const;
  double calculated_flux(std::uint32_t cell, double distance_m) const;
  void find(std::uint32_t cell, std::size_t stretch, Stretch& made) const;

  const DiffuseField& field_;
  std::shared_ptr<const DiffuseEnd> from_;
  mutable std::vector<Stretch> stretches_;  // of one cell after the other
};

}  // namespace linkmargin
