#include "linkmargin/analysis/calibration/calibration_parameters.hpp"

#include "linkmargin/base/range.hpp"
#include "linkmargin/link/building/building.hpp"
#include "linkmargin/link/building/transmission.hpp"
#include "linkmargin/link/mechanism/distance_model.hpp"
#include "linkmargin/propagation/fading/shadowing_correlation.hpp"
#include "linkmargin/propagation/path_loss/log_distance.hpp"
#include "linkmargin/site/calibration.hpp"
#include "linkmargin/site/limits.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace linkmargin::calibrating {
namespace {

/// Of a site's levels over what transmitters, aerials and receivers are stated to do: own choice. Receivers
/// tell levels to within some 6 dB (Bluetooth's bound for its own, from memory), and aerials are as good as
/// their mounting. Heavy-tailed, for a scale that is no level at all.
constexpr double kOffsetSigmaDb = 6;

/// The same where radios have the program's own profiles, which nobody stated: own choice. What is allowed in
/// one band and what small radios send lie 15 dB apart.
constexpr double kUnstatedOffsetSigmaDb = 15;

bool states_power(const Site& site) {
  return std::ranges::none_of(
      site.devices, [&](const Device& device) { return site.profiles.at(device.profile).built_in; });
}

/// Deviation of the exponents 2.2, 1.8, 2.0, 2.1, 1.8, 1.6 in sight in shops, plants and halls: Andersen,
/// Rappaport, Yoshida 1995, table 2, in part from memory.
constexpr double kExponentSigma = 0.22;

/// Of one radio about the others of its site: own choice. Makers state transmit power and sensitivity to
/// within 2 to 3 dB, and aerials of small devices differ by as much with what is behind them.
constexpr double kRadioSigmaDb = 3;

/// Of each end of a scale of percent: own choice; no maker states how well a percentage is tied to a level.
constexpr double kScaleSigmaDb = 5;

void add_offset(std::vector<Parameter>& parameters, const Site& site, std::size_t job) {
  Parameter offset{.what = ParameterKind::offset,
                   .jobs = {job},
                   .name = {},
                   .prior = 0,
                   .sigma = states_power(site) ? kOffsetSigmaDb : kUnstatedOffsetSigmaDb,
                   .heavy_tail = true};
  if (site.calibration) {
    offset.prior = site.calibration->offset_db;
    if (site.calibration->offset_sigma_db > 0) offset.sigma = site.calibration->offset_sigma_db;
    offset.heavy_tail = site.calibration->offset_sigma_db == 0;
  }
  parameters.push_back(offset);
}

/// Nothing for a model whose distance term has no exponent to set.
std::optional<double> exponent_of(const PropagationSettings& radio) {
  if (radio.model == PathLossModel::walls) return radio.exponent.value_or(kWallsExponent);
  if (radio.model != PathLossModel::log_distance) return {};
  if (radio.exponent) return radio.exponent;
  const std::string name = radio.building_type.empty() ? "home" : radio.building_type;
  const auto* row = find_log_distance_environment(name, radio.frequency_hz);
  return row == nullptr ? std::nullopt : std::optional(row->exponent);
}

void add_exponent(std::vector<Parameter>& parameters, const Site& site, std::size_t job) {
  const auto exponent = exponent_of(site.radio);
  if (!exponent) return;
  const bool known = site.calibration && site.calibration->exponent_sigma > 0;
  parameters.push_back({.what = ParameterKind::exponent,
                        .jobs = {job},
                        .name = {},
                        .prior = *exponent,
                        .sigma = known ? site.calibration->exponent_sigma : kExponentSigma});
}

/// An end of a job's scale.
Parameter scale_end(const CalibrationJob& job, ParameterKind what, std::size_t position) {
  const ReadingScale& scale = job.site.reading;
  Parameter end{.what = what,
                .jobs = {position},
                .name = {},
                .prior = (what == ParameterKind::zero ? scale.zero : scale.full).value,
                .sigma = kScaleSigmaDb};
  if (job.site.calibration) {
    const Calibration& known = *job.site.calibration;
    const double known_db = what == ParameterKind::zero ? known.zero_sigma_db : known.full_sigma_db;
    if (known_db > 0) end.sigma = known_db;
  }
  return end;
}

/// Both ends of the scale, one behind the other; sites that state the same scale, both ends of it, share it.
void add_scale(std::vector<Parameter>& parameters, const CalibrationJob& job, std::size_t position) {
  const auto in_percent = [](const Reading& reading) { return reading.percent.has_value(); };
  if (std::ranges::none_of(job.readings, in_percent)) return;
  const Parameter zero = scale_end(job, ParameterKind::zero, position);
  const Parameter full = scale_end(job, ParameterKind::full, position);
  const auto alike = [](const Parameter& a, const Parameter& b) {
    return a.what == b.what && a.prior == b.prior && a.sigma == b.sigma;
  };
  for (std::size_t p = 0; p + 1 < parameters.size(); ++p) {
    if (!alike(parameters[p], zero) || !alike(parameters[p + 1], full)) continue;
    parameters[p].jobs.push_back(position);
    parameters[p + 1].jobs.push_back(position);
    return;
  }
  parameters.push_back(zero);
  parameters.push_back(full);
}

std::set<std::string> materials_in_use(const Site& site) {
  std::set<std::string> names;
  const Building building(site, Doors::armed);
  for (const Barrier& barrier : building.barriers()) names.insert(barrier.table_row);
  names.erase("");
  return names;
}

void add_materials(std::vector<Parameter>& parameters, const std::vector<CalibrationJob>& jobs,
                   std::size_t position) {
  const Site& site = jobs[position].site;
  for (const std::string& name : materials_in_use(site)) {
    const Material& material = site.materials.at(name);
    const LearnedShift* known = learned_shift(site.calibration, material);
    Parameter shift{
        .what = ParameterKind::material,
        .jobs = {position},
        .name = name,
        .prior = known != nullptr ? known->shift_db : 0,
        .sigma = known != nullptr ? known->sigma_db : std::sqrt(kSharedVariance) * material.sigma_db};
    if (shift.sigma <= 0) continue;
    const auto same = std::ranges::find_if(parameters, [&](const Parameter& other) {
      return other.what == ParameterKind::material && other.name == name && other.prior == shift.prior &&
             other.sigma == shift.sigma && jobs[other.jobs.front()].site.materials.at(name) == material;
    });
    if (same != parameters.end()) {
      same->jobs.push_back(position);
    } else {
      parameters.push_back(shift);
    }
  }
}

/// Far ends and places that a radio was read with and at.
struct ReadEnds {
  std::set<std::string> far_ends;
  std::vector<Point3> places;
  bool two_apart = false;

  void add(const std::string& far_end, Point3 at) {
    far_ends.insert(far_end);
    two_apart = two_apart || std::ranges::any_of(places, [&](Point3 other) {
                  return distance(at, other) > kShadowingCorrelationM;
                });
    places.push_back(at);
  }
  bool is_told() const { return far_ends.size() > 1 || two_apart; }
};

/// Of one side of the links; nothing where it has one radio only: its offset is that of all.
void add_side(std::vector<Parameter>& parameters, const CalibrationJob& job, std::size_t position,
              const std::map<std::string, ReadEnds>& side) {
  if (side.size() < 2) return;
  for (const auto& [name, ends] : side) {
    if (!ends.is_told()) continue;
    Parameter radio{.what = ParameterKind::radio, .jobs = {position}, .name = name, .sigma = kRadioSigmaDb};
    const auto same = [&](const Parameter& other) {
      return other.what == ParameterKind::radio && other.name == radio.name && other.plays_in(position);
    };
    if (std::ranges::any_of(parameters, same)) continue;
    if (job.site.calibration && job.site.calibration->radios.contains(name)) {
      const LearnedRadio& known = job.site.calibration->radios.at(name);
      radio.prior = known.offset_db;
      if (known.sigma_db > 0) radio.sigma = known.sigma_db;
    }
    parameters.push_back(std::move(radio));
  }
}

const std::string& device_name(const Site& site, std::size_t position) {
  return position < site.devices.size() ? site.devices[position].name
                                        : site.repeaters.at(position - site.devices.size()).name;
}

void set(Site& site, const Parameter& parameter, double value) {
  Calibration& carried = *site.calibration;
  switch (parameter.what) {
    case ParameterKind::offset:
      carried.offset_db = value;
      carried.offset_sigma_db = parameter.sigma;
      break;
    case ParameterKind::exponent:
      site.radio.exponent = value;
      carried.exponent_sigma = parameter.sigma;
      break;
    case ParameterKind::zero:
      site.reading.zero = Dbm{value};
      carried.zero_sigma_db = parameter.sigma;
      break;
    case ParameterKind::full:
      site.reading.full = Dbm{value};
      carried.full_sigma_db = parameter.sigma;
      break;
    case ParameterKind::material:
      carried.materials[parameter.name] = {.shift_db = value, .sigma_db = parameter.sigma};
      break;
    case ParameterKind::radio:
      carried.radios[parameter.name] = {.offset_db = value, .sigma_db = parameter.sigma};
      break;
  }
}

}  // namespace

std::optional<double> Parameter::look_step() const {
  if (what == ParameterKind::exponent) return 0.05;
  if (what == ParameterKind::material) return 0.5;
  return {};
}

double Parameter::held(double value) const {
  const auto within = [&](const Range& range) { return std::clamp(value, range.min, range.max); };
  switch (what) {
    case ParameterKind::offset:
    case ParameterKind::radio:
      return within(limits::kLearnedOffsetDb);
    case ParameterKind::exponent:
      return within(limits::kExponent);
    case ParameterKind::material:
      return within(limits::kLearnedShiftDb);
    case ParameterKind::zero:
    case ParameterKind::full:
      return within(limits::kReadingLevelDbm);
  }
  return value;
}

bool Parameter::plays_in(std::size_t job) const {
  return std::ranges::find(jobs, job) != jobs.end();
}

std::string Parameter::path() const {
  switch (what) {
    case ParameterKind::offset:
      return kOffsetPointer;
    case ParameterKind::exponent:
      return kExponentPointer;
    case ParameterKind::zero:
      return kZeroPointer;
    case ParameterKind::full:
      return kFullPointer;
    case ParameterKind::material:
      return shift_pointer(name);
    case ParameterKind::radio:
      return radio_pointer(name);
  }
  return {};
}

std::vector<Parameter> parameters_of(const std::vector<CalibrationJob>& jobs) {
  std::vector<Parameter> parameters;
  for (std::size_t i = 0; i < jobs.size(); ++i) {
    add_offset(parameters, jobs[i].site, i);
    add_exponent(parameters, jobs[i].site, i);
    add_scale(parameters, jobs[i], i);
    add_materials(parameters, jobs, i);
  }
  return parameters;
}

void add_radios(std::vector<Parameter>& parameters, const CalibrationJob& job, const ReadingLinks& links,
                std::size_t position) {
  std::map<std::string, ReadEnds> devices, stations;
  for (const AskedLink& link : links.links) {
    const std::string& device = device_name(job.site, link.device);
    const std::string& station = station_name(job.site, link.station);
    const Point3 at = job.site.point(link.place);
    devices[device].add(station, at);
    stations[station].add(device, at);
  }
  add_side(parameters, job, position, devices);
  add_side(parameters, job, position, stations);
}

bool is_of(const Parameter& radio, const Site& site, const AskedLink& link) {
  return device_name(site, link.device) == radio.name || station_name(site, link.station) == radio.name;
}

Site site_at(const CalibrationJob& job, std::size_t position, const std::vector<Parameter>& parameters,
             const Eigen::VectorXd& values) {
  Site site = job.site;
  site.calibration = Calibration{};
  if (job.site.calibration) site.calibration->radios = job.site.calibration->radios;
  for (std::size_t p = 0; p < parameters.size(); ++p) {
    if (parameters[p].plays_in(position)) set(site, parameters[p], values[static_cast<Eigen::Index>(p)]);
  }
  return site;
}

}  // namespace linkmargin::calibrating
