#include "linkmargin/prediction/uncertainty/reading_places.hpp"

#include "linkmargin/base/range.hpp"
#include "linkmargin/base/wide_exp.hpp"
#include "linkmargin/propagation/fading/shadowing_correlation.hpp"

#include <cmath>
#include <cstddef>

namespace linkmargin {
namespace {

using Coordinates = std::array<double, 7>;

Coordinates coordinates_of(const ReadingSpread& reading) {
  return {reading.device.x,
          reading.device.y,
          reading.device.z,
          reading.hub.x,
          reading.hub.y,
          reading.hub.z,
          static_cast<double>(reading.site)};
}

struct PlacesLoop {
  std::size_t count;
  Coordinates at;
  double per_m;
  std::array<const double*, 7> columns;
  double* found;
  double least = kLeastExponent;
};

LINKMARGIN_LOOP void places_body(const PlacesLoop& loop) {
  const double* __restrict x = loop.columns[0];
  const double* __restrict y = loop.columns[1];
  const double* __restrict z = loop.columns[2];
  const double* __restrict hub_x = loop.columns[3];
  const double* __restrict hub_y = loop.columns[4];
  const double* __restrict hub_z = loop.columns[5];
  const double* __restrict site = loop.columns[6];
  double* __restrict found = loop.found;
  const Coordinates at = loop.at;
  const double per_m = loop.per_m, least = loop.least;
  for (std::size_t i = 0; i < loop.count; ++i) {
    const double dx = x[i] - at[0], dy = y[i] - at[1], dz = z[i] - at[2];
    const double hx = hub_x[i] - at[3], hy = hub_y[i] - at[4], hz = hub_z[i] - at[5];
    const double apart_m = std::sqrt(dx * dx + dy * dy + dz * dz) + std::sqrt(hx * hx + hy * hy + hz * hz);
    const double exponent = -apart_m * per_m;
    const double alike = wide_exp(exponent < least ? least : exponent);
    found[i] = site[i] == at[6] ? alike : 0;
  }
}
LINKMARGIN_WIDE void places_wide(const PlacesLoop& loop) {
  places_body(loop);
}
void places_any(const PlacesLoop& loop) {
  places_body(loop);
}

}  // namespace

ReadingPlaces::ReadingPlaces(std::span<const ReadingSpread> readings) {
  for (const ReadingSpread& reading : readings) {
    const Coordinates at = coordinates_of(reading);
    for (std::size_t c = 0; c < at.size(); ++c) columns_[c].push_back(at[c]);
  }
}

void ReadingPlaces::correlations(const ReadingSpread& link, double length_m, std::span<double> found) const {
  require_in(kCorrelationLengthM, length_m);
  PlacesLoop loop{found.size(), coordinates_of(link), 1 / length_m, {}, found.data()};
  for (std::size_t c = 0; c < columns_.size(); ++c) loop.columns[c] = columns_[c].data();
  has_wide() ? places_wide(loop) : places_any(loop);
}

}  // namespace linkmargin
