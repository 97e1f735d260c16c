#include "linkmargin/link/reverberation/diffuse_field.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/link/building/building.hpp"
#include "linkmargin/link/building/path.hpp"
#include "linkmargin/link/reverberation/decaying_modes.hpp"
#include "linkmargin/propagation/path_loss/free_space.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <functional>
#include <span>
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

/// What stands opposite a low building is a storey high at least.
constexpr double kLeastStreetM = 3;  ///< assumption

template <typename Dense>
auto values(Dense&& of) {
  return std::span(of.data(), static_cast<std::size_t>(of.size()));
}

/// What the straight line between two points passes. What bends round edges is left out: of a face's light it
/// changes little, and this is asked for every face of every point out of doors.
double passed_db(const Building& building, Point3 a, Point3 b) {
  double sum_db = 0;
  thread_local std::vector<Crossing> met;  // asked for every face: no memory asked for each
  find_crossings(building, a, b, met);
  for (const Crossing& crossing : met) sum_db += plain_loss_db(building, crossing);
  return sum_db;
}

/// From the middle of all faces, by their length, to the end farthest from it.
double farthest_from_middle_m(const std::vector<OuterFace>& faces) {
  Point2 middle{};
  double length_m = 0, farthest_m = 0;
  for (const OuterFace& face : faces) {
    length_m += face.length_m;
    middle = middle + face.length_m * (face.start + 0.5 * face.length_m * face.along);
  }
  middle = 1 / length_m * middle;
  for (const OuterFace& face : faces) {
    farthest_m = std::max({farthest_m, distance(middle, face.start),
                           distance(middle, face.start + face.length_m * face.along)});
  }
  return farthest_m;
}

}  // namespace

DiffuseField::DiffuseField(const Building& building, int threads)
    : wavelength_m_(wavelength_m(building.radio().frequency_hz)) {
  static std::atomic<std::uint64_t> made = 0;
  number_ = ++made;
  cells_ = DiffuseFieldCells::of(building, kMostCells);
  if (cells_.too_many && cells_.regions.size() <= kMostRooms)
    cells_ = DiffuseFieldCells::of(building, cells_.regions.size());
  if (cells_.cells.empty()) return;
  balance_ = balanced_powers(building, cells_, threads);
  const auto count = static_cast<Eigen::Index>(cells_.cells.size());
  rate_.resize(count * static_cast<Eigen::Index>(balance_.modes.size()));
  worth_.resize(rate_.size());
  shape_.resize(rate_.size(), count);
  Eigen::Index first = 0;
  for (const DiffuseModes& modes : balance_.modes) {
    shape_.middleRows(first, count) = modes.shape;
    rate_.segment(first, count) = modes.rate.array();
    worth_.segment(first, count) = modes.weight * kElevationWeight[modes.elevation] / modes.rate.array();
    first += count;
  }
  if (building.radio().surroundings == Surroundings::street) add_street(building);
}

void DiffuseField::add_street(const Building& building) {
  const auto count = static_cast<Eigen::Index>(cells_.cells.size());
  Eigen::MatrixXd outward_m2 = Eigen::MatrixXd::Zero(count, FrontShares::RowsAtCompileTime);
  for (const OuterFace& face : balance_.faces) {
    outward_m2.row(static_cast<Eigen::Index>(face.cell)) += face.length_m * (face.top_m - face.bottom_m) *
                                                            face.transmitted *
                                                            front_shares(face.outward).transpose();
  }
  if (balance_.faces.empty()) return;
  double ground_m = cells_.storeys.front().floor_m, top_m = cells_.storeys.front().ceiling_m;
  for (const DiffuseFieldStorey& storey : cells_.storeys) {
    ground_m = std::min(ground_m, storey.floor_m);
    top_m = std::max(top_m, storey.ceiling_m);
  }
  const double width_m = building.radio().street_m;
  street_flux_ = Street{width_m, 2 * (farthest_from_middle_m(balance_.faces) + width_m),
                        std::max(kLeastStreetM, top_m - std::max(0.0, ground_m))}
                     .flux_per_watt();
  Eigen::MatrixXd of_modes = Eigen::MatrixXd::Zero(rate_.size(), outward_m2.cols());
  Eigen::Index first = 0;
  for (const DiffuseModes& modes : balance_.modes) {
    if (modes.whole) {
      of_modes.middleRows(first, count) = met_share(modes.elevation, false) *
                                          worth_.segment(first, count).matrix().asDiagonal() *
                                          (modes.shape * outward_m2);
    }
    first += count;
  }
  to_street_ = of_modes.transpose() * shape_;
}

std::shared_ptr<const DiffuseEnd> DiffuseField::end(const Building& building, Point3 p) const {
  // A place is asked for by one hub after the other, and the same places by each hub that is tried.
  struct Known {
    std::uint64_t number = 0;
    Point3 at;
    std::shared_ptr<const DiffuseEnd> end;
  };
  constexpr std::size_t kMost = 1024, kMostValues = 1 << 19;  // 4 MB
  thread_local std::vector<Known> known(kMost);
  static const auto nothing = std::make_shared<const DiffuseEnd>();
  if (cells_.cells.empty()) return nothing;
  const auto values = static_cast<std::size_t>(rate_.size());
  Known& slot = known[hash_of(p) % std::clamp<std::size_t>(kMostValues / values, 1, kMost)];
  if (slot.number != number_ || slot.at != p)
    slot = {number_, p, std::make_shared<const DiffuseEnd>(found_end(building, p))};
  return slot.end;
}

DiffuseEnd DiffuseField::found_end(const Building& building, Point3 p) const {
  DiffuseEnd result;
  result.in_modes = Eigen::VectorXd::Zero(rate_.size());
  if (const auto place = cells_.locate(p)) {
    result.indoors = true;
    const auto shares = cells_.shares(*place, p.plan());
    for (const auto& [cell, share] : shares) {
      add_scaled(values(shape_.col(cell)), share, values(result.in_modes));
      if (to_street_.size() > 0) result.to_street += share * to_street_.col(cell);
    }
    result.house = balance_.house[shares.front().cell];
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
    std::array<double, kElevations> by_elevation = face->lit_by_elevation(p, share);
    for (double& one : by_elevation) one *= passed;
    std::size_t first = 0;
    for (const DiffuseModes& modes : balance_.modes) {
      add_scaled(values(shape_.col(face->cell)).subspan(first, cells_.cells.size()),
                 by_elevation[modes.elevation], values(result.in_modes).subspan(first, cells_.cells.size()));
      first += cells_.cells.size();
    }
    sum += share * passed;
  }
  return result;
}

double DiffuseField::power(const DiffuseEnd& a, const DiffuseEnd& b, double distance_m) const {
  if (!tells(a, b)) return 0;
  const double flux =
      decayed_sum(values(worth_), values(a.in_modes), values(b.in_modes), values(rate_), distance_m);
  return received(std::max(0.0, flux));
}

bool DiffuseField::tells(const DiffuseEnd& a, const DiffuseEnd& b) const {
  if (a.in_modes.size() == 0 || b.in_modes.size() == 0) return false;
  return a.indoors && b.indoors ? a.house == b.house : a.indoors || b.indoors;
}

double DiffuseField::street_power(const DiffuseEnd& a, const DiffuseEnd& b) const {
  return tells(a, b) ? received(street_flux_ * std::max(0.0, a.to_street.dot(b.to_street))) : 0;
}

double DiffuseField::received(double flux) const {
  return wavelength_m_ * wavelength_m_ / (4 * kPi) * flux;
}

}  // namespace linkmargin
