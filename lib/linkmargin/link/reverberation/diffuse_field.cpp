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

/// The balance is solved densely: a second or so for as many.
constexpr std::size_t kMostCells = 800;  ///< doubled or halved, no loss moves

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
  if (cells_.cells.empty()) return;
  balance_ = balanced_powers(building, cells_);
}

DiffuseEnd DiffuseField::end(const Building& building, Point3 p) const {
  DiffuseEnd result;
  if (cells_.cells.empty()) return result;
  if (const auto place = cells_.locate(p))
    return {.shares = cells_.shares(*place, p.plan()), .indoors = true};
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
    const double arriving = share * std::pow(10, -passed_db(building, p, face->before()) / 10);
    result.shares.push_back({face->cell, arriving});
    sum += arriving;
  }
  return result;
}

double DiffuseField::power(const DiffuseEnd& a, const DiffuseEnd& b) const {
  if (!a.indoors && !b.indoors) return 0;
  const std::size_t count = cells_.cells.size();
  double sum = 0;
  for (const DiffuseFieldCells::Share& from : a.shares) {
    for (const DiffuseFieldCells::Share& to : b.shares) {
      sum += from.share * to.share * balance_.coupling[from.cell * count + to.cell];
    }
  }
  // A field from everywhere brings an antenna its power per m2 times lambda^2 / (8 pi), half of it in the
  // other polarisation; what hits one m2 of wall is a quarter of the power per m2 of that field.
  return wavelength_m_ * wavelength_m_ / (2 * kPi) * std::max(0.0, sum);
}

}  // namespace linkmargin
