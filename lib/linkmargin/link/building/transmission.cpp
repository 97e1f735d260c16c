#include "linkmargin/link/building/transmission.hpp"

#include "linkmargin/base/range.hpp"
#include "linkmargin/base/units.hpp"
#include "linkmargin/link/building/loss_curve.hpp"
#include "linkmargin/propagation/material/electrical.hpp"
#include "linkmargin/propagation/material/leakage.hpp"
#include "linkmargin/site/validation/electrical_flaw.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

// What a site may state is what the formulas take.
static_assert(kPermittivityAtFrequency.min == kRelativePermittivity.min &&
              kPermittivityAtFrequency.max == kRelativePermittivity.max);
static_assert(kConductivityAtFrequency.min == kConductivity.min &&
              kConductivityAtFrequency.max == kConductivity.max);

const Material& find(const MaterialTable& table, const std::string& name) {
  const auto entry = table.find(name);
  if (entry == table.end()) throw DomainError("unknown material '" + name + "'");
  return entry->second;
}

/// Linear over the logarithm of the frequency between two points; the nearest point outside them.
double interpolated_db(const std::vector<LossPoint>& points, double frequency_hz) {
  const auto above = std::find_if(points.begin(), points.end(),
                                  [&](const LossPoint& point) { return point.frequency_hz >= frequency_hz; });
  if (above == points.begin()) return points.front().loss_db;
  if (above == points.end()) return points.back().loss_db;
  const LossPoint& below = *(above - 1);
  const double share =
      std::log(frequency_hz / below.frequency_hz) / std::log(above->frequency_hz / below.frequency_hz);
  return below.loss_db + share * (above->loss_db - below.loss_db);
}

bool far_outside(double min_hz, double max_hz, double frequency_hz) {
  return std::log2(min_hz / frequency_hz) > kNearOctaves || std::log2(frequency_hz / max_hz) > kNearOctaves;
}

SlabLayer ordinary_layer(double frequency_hz) {
  return {relative_permittivity(5.24, 0, 0.0462, 0.7822, frequency_hz), 0.16};
}

/// Of waves of both polarisations at one angle.
DiffuseShares elevation_power(std::span<const SlabLayer> layers, double frequency_hz, double incidence_cos) {
  DiffuseShares mean;
  for (const Polarisation polarisation : {Polarisation::te, Polarisation::tm}) {
    const SlabPower at = slab_power(layers, frequency_hz, incidence_cos, polarisation);
    mean.transmitted += at.transmitted / 2;
    mean.reflected += at.reflected / 2;
  }
  return mean;
}

}  // namespace

Transmission Transmission::of(const Construction& construction, const MaterialTable& table,
                              double frequency_hz, const LearnedShift* learned) {
  Transmission result;
  result.frequency_hz_ = frequency_hz;
  const Material& material = find(table, construction.material);
  result.sigma_db_ = material.sigma_db;
  if (learned != nullptr) {
    result.shift_db_ = learned->shift_db;
    result.sigma_db_ *= std::sqrt(1 - kSharedVariance);
  }
  result.leakage_db_ = material.leakage_db;
  if (material.reflects_percent) result.reflects_ = *material.reflects_percent / 100;
  const bool measured_whole = std::holds_alternative<MeasuredLoss>(material.kind);
  if (!measured_whole && !result.leakage_db_) result.leakage_db_ = kLeakageDb;

  if (const auto* measured = std::get_if<MeasuredLoss>(&material.kind)) {
    result.constant_db_ = interpolated_db(measured->points, frequency_hz);
    const double min_hz = measured->points.front().frequency_hz;
    const double max_hz = measured->points.back().frequency_hz;
    const bool stated = min_hz > 0;  // a figure without a frequency is taken to hold at any
    if (stated && far_outside(min_hz, max_hz, frequency_hz)) {
      result.out_of_range_.push_back({material.name, min_hz, max_hz});
    }
    result.loss_db_ = result.change().of(result.constant_db_);
    return result;
  }

  const auto add_layer = [&](const std::string& name, double thickness_m) {
    if (name == kAir) {
      result.layers_.push_back({{1, 0}, thickness_m});
      return;
    }
    const Material& of = find(table, name);
    const auto* properties = std::get_if<ElectricalProperties>(&of.kind);
    if (properties == nullptr)
      throw DomainError("a layer needs electrical properties, which '" + name + "' lacks");
    const auto& p = *properties;
    result.layers_.push_back({relative_permittivity(p.a, p.b, p.c, p.d, frequency_hz), thickness_m});
    if (frequency_hz < p.min_frequency_hz || frequency_hz > p.max_frequency_hz) {
      result.out_of_range_.push_back({of.name, p.min_frequency_hz, p.max_frequency_hz});
    }
  };
  if (const auto* build_up = std::get_if<BuildUp>(&material.kind)) {
    for (const Layer& layer : build_up->layers) add_layer(layer.material, layer.thickness_m);
  } else {
    if (!construction.thickness_m) throw DomainError("'" + construction.material + "' needs a thickness");
    add_layer(construction.material, *construction.thickness_m);
  }
  result.add_curve();
  return result;
}

LossChange Transmission::change() const {
  return {shift_db_, leakage_db_};
}

void Transmission::add_curve() {
  curve_ = std::make_shared<LossCurve>(layers_, frequency_hz_, change());
}

Transmission Transmission::lining() const {
  Transmission result = *this;
  if (result.layers_.size() > 1) {
    result.layers_.resize(1);
    result.add_curve();
  }
  return result;
}

DiffuseShares Transmission::diffuse() const {
  DiffuseShares shares;
  if (layers_.empty()) {
    shares.transmitted = std::pow(10, -constant_db_ / 10);
    shares.reflected = constant_db_ < kMetalLossDb ? kMasonryReflects : kMetalReflects;
  } else {
    const SlabPower power = diffuse_slab_power(layers_, frequency_hz_);
    shares = {power.transmitted, power.reflected};
  }
  return completed(shares);
}

/// What was learned, leaks and is stated, on top of what layers or a loss make of a face.
DiffuseShares Transmission::completed(DiffuseShares shares) const {
  if (shift_db_ != 0) shares.transmitted = std::min(1.0, shares.transmitted * std::pow(10, -shift_db_ / 10));
  if (leakage_db_) shares.transmitted = std::min(1.0, shares.transmitted + std::pow(10, -*leakage_db_ / 10));
  shares.reflected = std::min({reflects_.value_or(shares.reflected), kMetalReflects, 1 - shares.transmitted});
  return shares;
}

ElevationShares Transmission::diffuse_by_elevation(bool level) const {
  ElevationShares found;
  if (layers_.empty()) {
    found.fill(diffuse());
    return found;
  }
  constexpr int kAzimuths = 12;  // even steps of the sine of the azimuth: its cosine is the weight
  for (std::size_t i = 0; i < kElevations; ++i) {
    const double sine = kElevationSine[i];
    if (level) {
      found[i] = completed(elevation_power(layers_, frequency_hz_, sine));
      continue;
    }
    DiffuseShares mean;
    for (int j = 0; j < kAzimuths; ++j) {
      const double across = std::sqrt(1 - std::pow((j + 0.5) / kAzimuths, 2));
      const DiffuseShares at = elevation_power(layers_, frequency_hz_, std::sqrt(1 - sine * sine) * across);
      mean.transmitted += at.transmitted / kAzimuths;
      mean.reflected += at.reflected / kAzimuths;
    }
    found[i] = completed(mean);
  }
  return found;
}

SlabReflection ordinary_floor_reflection(double frequency_hz, double incidence_cos) {
  const SlabLayer layer = ordinary_layer(frequency_hz);
  return slab_reflection(std::span(&layer, 1), frequency_hz, incidence_cos);
}

ElevationShares ordinary_floor(double frequency_hz) {
  const SlabLayer layer = ordinary_layer(frequency_hz);
  ElevationShares found;
  for (std::size_t i = 0; i < kElevations; ++i)
    found[i] = {0, elevation_power(std::span(&layer, 1), frequency_hz, kElevationSine[i]).reflected};
  return found;
}

SlabReflection Transmission::reflection(double incidence_cos, bool from_above) const {
  if (layers_.empty()) {
    if (constant_db_ >= kMetalLossDb) return {-1, -1};
    return ordinary_floor_reflection(frequency_hz_, incidence_cos);
  }
  if (from_above) return slab_reflection(layers_, frequency_hz_, incidence_cos);
  const std::vector<SlabLayer> turned(layers_.rbegin(), layers_.rend());
  return slab_reflection(turned, frequency_hz_, incidence_cos);
}

double Transmission::loss_db(double incidence_cos) const {
  return curve_ ? curve_->loss_db(incidence_cos) : loss_db_;
}

double Transmission::least_loss_db() const {
  if (!depends_on_angle()) return loss_db(1);
  constexpr int kAngles = 64;
  constexpr double kBetweenDb = 0.1;  // between two that are looked at a stack of layers stays within so much
  double least_db = loss_db(1);
  for (int i = 0; i < kAngles; ++i) least_db = std::min(least_db, loss_db(static_cast<double>(i) / kAngles));
  return std::max(0.0, least_db - kBetweenDb);
}

double Transmission::through_share(double loss_db) const {
  return leakage_db_ ? std::max(0.0, 1 - std::pow(10, (loss_db - *leakage_db_) / 10)) : 1;
}

Warning out_of_range_warning(const std::set<StatedBand>& bands, double frequency_hz) {
  return {.code = WarningCode::materials_out_of_band,
          .arguments = {{"frequency", Figure{mhz_from_hz(frequency_hz)}},
                        {"materials", std::vector<StatedBand>(bands.begin(), bands.end())}}};
}

}  // namespace linkmargin
