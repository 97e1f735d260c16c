#include "linkmargin/link/reverberation/echo_curves.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/link/reverberation/decaying_modes.hpp"

#include <algorithm>
#include <cmath>
#include <span>
#include <utility>

namespace linkmargin {
namespace {

constexpr double kAccuracy = 1e-8;        ///< of the curve's greatest value on a stretch
constexpr double kLeastOfGreatest = 0.1;  ///< a curve that falls by more on one stretch is too steep

/// Clenshaw's sum. @param x  [-1, 1]
double chebyshev_sum(std::span<const double> coefficients, double x) {
  double next = 0, after = 0;
  for (std::size_t k = coefficients.size(); k-- > 1;)
    after = std::exchange(next, coefficients[k] + 2 * x * next - after);
  return coefficients[0] + x * next - after;
}

}  // namespace

EchoCurves::EchoCurves(const DiffuseField& field, std::shared_ptr<const DiffuseEnd> from)
    : field_(field),
      from_(std::move(from)),
      stretches_(field.cells_.cells.size() * static_cast<std::size_t>(kFarthestM / kStretchM)) {}

std::optional<Echoes> EchoCurves::at(Point3 p, double distance_m) const {
  if (from_->in_modes.size() == 0 || distance_m >= kFarthestM) return {};
  const auto place = field_.cells_.locate(p);
  if (!place) return {};
  const auto shares = field_.cells_.shares(*place, p.plan());
  const bool told = !from_->indoors || from_->house == field_.balance_.house[shares.front().cell];
  if (!told) return Echoes{};
  double sum = 0, to_street = 0;
  for (const auto& [cell, share] : shares) {
    const auto one = flux(cell, distance_m);
    if (!one) return {};
    sum += share * *one;
    if (field_.to_street_.size() > 0) to_street += share * from_->to_street.dot(field_.to_street_.col(cell));
  }
  return Echoes{field_.received(std::max(0.0, sum)),
                field_.received(field_.street_flux_ * std::max(0.0, to_street)), true};
}

std::optional<double> EchoCurves::flux(std::uint32_t cell, double distance_m) const {
  const auto stretch = static_cast<std::size_t>(distance_m / kStretchM);
  Stretch& of = stretches_[cell * static_cast<std::size_t>(kFarthestM / kStretchM) + stretch];
  std::call_once(of.found, [&] { find(cell, stretch, of); });
  if (!of.smooth) return {};
  return chebyshev_sum(of.coefficients, distance_m / kStretchM * 2 - 2 * static_cast<double>(stretch) - 1);
}

double EchoCurves::calculated_flux(std::uint32_t cell, double distance_m) const {
  const auto values = [](const auto& of) {
    return std::span(of.data(), static_cast<std::size_t>(of.size()));
  };
  return decayed_sum(values(field_.worth_), values(from_->in_modes), values(field_.shape_.col(cell)),
                     values(field_.rate_), distance_m);
}

void EchoCurves::find(std::uint32_t cell, std::size_t stretch, Stretch& made) const {
  const auto at = [&](double x) {
    return calculated_flux(cell, kStretchM * (static_cast<double>(stretch) + (x + 1) / 2));
  };
  std::array<double, kNodes> values;
  const auto angle = [](std::size_t i) { return kPi * (static_cast<double>(i) + 0.5) / kNodes; };
  for (std::size_t i = 0; i < kNodes; ++i) values[i] = at(std::cos(angle(i)));
  for (std::size_t k = 0; k < kNodes; ++k) {
    double sum = 0;
    for (std::size_t i = 0; i < kNodes; ++i) sum += values[i] * std::cos(static_cast<double>(k) * angle(i));
    made.coefficients[k] = sum * (k == 0 ? 1.0 : 2.0) / kNodes;
  }
  const double greatest =
      std::abs(*std::ranges::max_element(values, {}, [](double v) { return std::abs(v); }));
  const double least = *std::ranges::min_element(values);
  made.smooth = least >= kLeastOfGreatest * greatest;
  for (const double x : {-1.0, -0.5, 0.05, 1.0})  // between nodes
    made.smooth =
        made.smooth && std::abs(at(x) - chebyshev_sum(made.coefficients, x)) <= kAccuracy * greatest;
}

}  // namespace linkmargin
