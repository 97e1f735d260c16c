#include "linkmargin/link/reverberation/diffuse_field.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/link/building/building.hpp"
#include "linkmargin/link/building/path.hpp"
#include "linkmargin/propagation/path_loss/free_space.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <utility>

namespace linkmargin {
namespace {

/// Wider blocks are taken where there would be more cells than this, and of more rooms than that no field at
/// all: the modes are found densely, which takes time with the cube, some seconds for the most rooms.
constexpr std::size_t kMostCells = 256;
constexpr std::size_t kMostRooms = 800;

/// Faces on which less than this of what the others pass falls are left out: 0.01 dB of the light. It is no
/// bound on a link, since they may open into a room that the others hardly reach: doubled, halved: 1.7, 0.6
/// dB at most.
constexpr double kLeftOut = 0.0023;

/// What the straight line between two points passes. What bends round edges is left out: of a face's light it
/// changes little, and this is asked for every face of every point out of doors.
double passed_db(const Building& building, Point3 a, Point3 b) {
  double sum_db = 0;
  for (const Crossing& crossing : trace(building, a, b).crossings)
    sum_db += plain_loss_db(building, crossing);
  return sum_db;
}

}  // namespace

DiffuseField::DiffuseField(const Building& building)
    : wavelength_m_(wavelength_m(building.radio().frequency_hz)) {
  cells_ = DiffuseFieldCells::of(building, kMostCells);
  if (cells_.too_many && cells_.regions.size() <= kMostRooms)
    cells_ = DiffuseFieldCells::of(building, cells_.regions.size());
  if (cells_.cells.empty()) return;
  balance_ = balanced_powers(building, cells_);
  const auto count = static_cast<Eigen::Index>(cells_.cells.size());
  rate_.resize(count * static_cast<Eigen::Index>(balance_.modes.size()));
  worth_.resize(rate_.size());
  Eigen::Index first = 0;
  for (const DiffuseModes& modes : balance_.modes) {
    rate_.segment(first, count) = modes.rate.array();
    worth_.segment(first, count) = modes.weight * kElevationWeight[modes.elevation] / modes.rate.array();
    first += count;
  }
}

DiffuseEnd DiffuseField::end(const Building& building, Point3 p) const {
  DiffuseEnd result;
  if (cells_.cells.empty()) return result;
  const auto count = static_cast<Eigen::Index>(cells_.cells.size());
  result.in_modes = Eigen::VectorXd::Zero(rate_.size());
  const auto add = [&](std::uint32_t cell, const std::array<double, kElevations>& share) {
    Eigen::Index first = 0;
    for (const DiffuseModes& modes : balance_.modes) {
      result.in_modes.segment(first, count) +=
          share[modes.elevation] * modes.shape.col(static_cast<Eigen::Index>(cell));
      first += count;
    }
  };
  if (const auto place = cells_.locate(p)) {
    result.indoors = true;
    for (const auto& [cell, share] : cells_.shares(*place, p.plan())) {
      std::array<double, kElevations> alike;
      alike.fill(share);
      add(cell, alike);
    }
    return result;
  }
  std::vector<std::pair<double, const OuterFace*>> lit;
  double rest = 0;
  for (const OuterFace& face : balance_.faces) {
    const double share = face.lit(p, wavelength_m_);
    if (share <= 0) continue;
    lit.emplace_back(share, &face);
    rest += share;
  }
  // The largest first: the others are not traced where they could not matter.
  std::ranges::stable_sort(lit, std::greater{}, &std::pair<double, const OuterFace*>::first);
  double sum = 0;
  for (const auto& [share, face] : lit) {
    if (rest < kLeftOut * sum) break;
    rest -= share;
    const double passed = std::pow(10, -passed_db(building, p, face->before()) / 10);
    std::array<double, kElevations> by_elevation = face->lit_by_elevation(p, wavelength_m_);
    for (double& one : by_elevation) one *= passed;
    add(face->cell, by_elevation);
    sum += share * passed;
  }
  return result;
}

double DiffuseField::power(const DiffuseEnd& a, const DiffuseEnd& b, double distance_m) const {
  if ((!a.indoors && !b.indoors) || a.in_modes.size() == 0 || b.in_modes.size() == 0) return 0;
  const double flux = (worth_ * a.in_modes.array() * b.in_modes.array() * (-distance_m * rate_).exp()).sum();
  // An antenna that favours no direction takes lambda^2 / (4 pi) of a flux from wherever.
  return wavelength_m_ * wavelength_m_ / (4 * kPi) * std::max(0.0, flux);
}

}  // namespace linkmargin
