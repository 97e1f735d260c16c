#include "linkmargin/link/mechanism/slab_reflection.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/geometry/polygon.hpp"
#include "linkmargin/link/building/slab_level.hpp"
#include "linkmargin/link/mechanism/aperture_diffraction.hpp"
#include "linkmargin/propagation/path_loss/free_space.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <optional>
#include <vector>

namespace linkmargin {
namespace {

using Complex = std::complex<double>;

/// How far over a ceiling or under a floor the middle of its slab may lie.
constexpr double kThickestSlabM = 1.0;  ///< assumption; doubled or halved, no loss moves
constexpr double kSlackM = 0.05;        ///< assumption; doubled or halved, no loss moves

/// Heights of radios, floors and ceilings are known to within this, one deviation at either end.
constexpr double kHeightSigmaM = 0.05;  ///< assumption

/// Waves that meet out of phase leave this much at least of what arrives otherwise: walls and edges spread
/// their phases.
constexpr double kLeastLeft = 0.03;  ///< assumption

/// An image behind so much wall is left out.
constexpr double kMostLossDb = 40;  ///< assumption

/// How steeply a wave rises over the horizon.
struct Rise {
  double sine = 0;
  double cosine = 1;
};

double cosine_between(Rise a, Rise b) {
  return a.cosine * b.cosine + a.sine * b.sine;
}

/// A wave over that of the straight line in free space.
struct Wave {
  Complex amplitude;  ///< with its phase, without the slab's
  Complex te = 1;     ///< what the slab does to it, by the electric field
  Complex tm = 1;
  Rise leaves;
  Rise arrives;
};

/// The power that two waves share, mean over the orientations of both antennas, and over what is open of the
/// heights.
double shared_power(const Wave& a, const Wave& b, double wavenumber) {
  const double leaving = a.leaves.sine - b.leaves.sine, arriving = a.arrives.sine - b.arrives.sine;
  const double apart2 = leaving * leaving + arriving * arriving;
  const double height = wavenumber * kHeightSigmaM;
  const double coherent = apart2 > 0 ? std::exp(-0.5 * height * height * apart2) : 1;
  const Complex alike = a.te * std::conj(b.te) + a.tm * std::conj(b.tm) * cosine_between(a.leaves, b.leaves) *
                                                     cosine_between(a.arrives, b.arrives);
  return coherent * (a.amplitude * std::conj(b.amplitude) * alike).real() / 2;
}

/// A floor or ceiling by its face to the room.
struct Face {
  double z_m = 0;
  bool floor = true;
  friend bool operator==(const Face&, const Face&) = default;
};

/// The slab behind a face at a place: kNone where none is described, nothing in a hole.
std::optional<std::uint32_t> slab_at(const Building& building, Face face, Point2 at) {
  std::uint32_t barrier = kNone;
  bool hole = false;
  const double low = face.z_m - (face.floor ? kThickestSlabM : kSlackM);
  const double high = face.z_m + (face.floor ? kSlackM : kThickestSlabM);
  thread_local std::vector<std::uint32_t> near;  // asked for every cell of a map: no memory asked for each
  for (const SlabLevel& level : building.slab_levels()) {
    if (level.z_m < low || level.z_m > high) continue;
    level.index.near({at, at}, near);
    for (const std::uint32_t position : near) {
      const Slab& slab = building.slabs()[level.first + position];
      if (!contains(slab.outline, at)) continue;
      const bool open = std::ranges::any_of(slab.holes, [&](const Polygon2& of) { return contains(of, at); });
      if (open) {
        hole = true;
      } else {
        barrier = slab.barrier;
      }
    }
  }
  if (barrier == kNone && hole) return {};
  return barrier;
}

/// The wave by way of a face; nothing where it does not go there.
std::optional<Wave> image(const Building& building, const Path& path, Face face, double wavenumber) {
  constexpr double least_m = 1e-3;
  const double side = face.floor ? 1 : -1;
  const double first_m = side * (path.from.z - face.z_m), second_m = side * (path.to.z - face.z_m);
  if (first_m <= least_m || second_m <= least_m) return {};
  const Point2 met = at_fraction(Segment2{path.from.plan(), path.to.plan()}, first_m / (first_m + second_m));
  const auto slab = slab_at(building, face, met);
  if (!slab) return {};
  double lost_db = 0;
  for (const Point3 end : {path.from, path.to}) {
    const Point3 turn{met.x, met.y, face.z_m + side * 1e-6};
    thread_local std::vector<Crossing> passed;  // asked for every cell of a map: no memory asked for each
    find_crossings(building, end, turn, passed);
    for (const Crossing& crossing : passed)
      lost_db += crossing.obstacle == kNone ? plain_loss_db(building, crossing)
                                            : obstacle_diffraction(building, end, turn, crossing).loss_db;
    if (lost_db > kMostLossDb) return {};
  }
  const double flat_m = distance(path.from.plan(), path.to.plan());
  const double over_m = first_m + second_m, length_m = std::sqrt(flat_m * flat_m + over_m * over_m);
  const Rise rise{(first_m + second_m) / length_m, flat_m / length_m};
  const SlabReflection back = *slab == kNone
                                  ? ordinary_floor_reflection(building.radio().frequency_hz, rise.sine)
                                  : building.barriers()[*slab].transmission.reflection(rise.sine, face.floor);
  // Mirrored, the field in the plane of the wave and the slab's normal keeps its sense where it points out of
  // the slab, against the convention of the coefficient.
  return Wave{.amplitude = std::polar(path.distance_m / length_m * std::pow(10, -lost_db / 20),
                                      -wavenumber * (length_m - path.distance_m)),
              .te = back.te,
              .tm = -back.tm,
              .leaves = {-side * rise.sine, rise.cosine},
              .arrives = {side * rise.sine, rise.cosine}};
}

/// Of the storeys of both ends, each once.
std::vector<Face> faces_of(const Building& building, const Path& path) {
  std::vector<Face> faces;
  for (const Point3 end : {path.from, path.to}) {
    if (!building.indoors(end)) continue;
    const auto storey = std::ranges::find_if(building.storeys(), [&](const StoreySpace& space) {
      return end.z >= space.floor_m - kSlackM && end.z <= space.ceiling_m + kSlackM;
    });
    if (storey == building.storeys().end()) continue;
    for (const Face face : {Face{storey->floor_m, true}, Face{storey->ceiling_m, false}}) {
      if (std::ranges::find(faces, face) == faces.end()) faces.push_back(face);
    }
  }
  return faces;
}

}  // namespace

double slab_reflection_db(const Building& building, const Path& path, double direct_db) {
  if (path.distance_m < kNearestM) return 0;
  const double wavenumber = 2 * kPi / wavelength_m(building.radio().frequency_hz);
  const double sine = (path.to.z - path.from.z) / path.distance_m;
  const Rise rise{sine, std::sqrt(std::max(0.0, 1 - sine * sine))};
  std::vector<Wave> waves{
      {.amplitude = std::pow(10, -direct_db / 20), .te = 1, .tm = 1, .leaves = rise, .arrives = rise}};
  for (const Face face : faces_of(building, path)) {
    if (const auto wave = image(building, path, face, wavenumber)) waves.push_back(*wave);
  }
  if (waves.size() == 1) return 0;
  double power = 0;
  for (std::size_t i = 0; i < waves.size(); ++i) {
    power += shared_power(waves[i], waves[i], wavenumber);
    for (std::size_t j = 0; j < i; ++j) power += 2 * shared_power(waves[i], waves[j], wavenumber);
  }
  return -10 * std::log10(std::max(kLeastLeft, power / std::norm(waves[0].amplitude)));
}

}  // namespace linkmargin
