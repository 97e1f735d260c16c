#pragma once

#include "linkmargin/link/mechanism/scene.hpp"
#include "linkmargin/propagation/fading/fade_posterior.hpp"
#include "linkmargin/site/edit/edit.hpp"
#include "linkmargin/site/reading.hpp"
#include "linkmargin/site/site.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// One site with what was read there.
struct CalibrationJob {
  Site site;                      ///< sound: validate(site) is empty
  std::vector<Reading> readings;  ///< of its devices, hubs and storeys; none or more
};

struct CalibrationOptions {
  Doors doors = Doors::armed;  ///< when readings that do not say were taken
  int threads = 1;             ///< >= 1; changes nothing in the result
  /// Of every reading about its prediction, instead of what walls, spots and receivers are taken to spread it
  /// by; readings then have nothing in common but the parameters. For levels whose error is known. > 0
  std::optional<double> reading_sigma_db{};
  double tolerance = 0.05;  ///< stops when no parameter moves by more of its posterior deviation
  int max_iterations = 12;  ///< at the sites with other parameters, at most
};

/// Why the search for the values ended.
enum class CalibrationStop { converged, max_iterations };

/// One thing that readings can teach.
struct CalibratedParameter {
  std::string path;               ///< JSON Pointer into each of its sites
  std::vector<std::size_t> jobs;  ///< in which it plays, by position
  double prior = 0;               ///< in the unit of the path's key
  double prior_sigma = 0;
  double value = 0;
  double sigma = 0;
  double variance_reduction = 0;  ///< share of the prior's variance that the readings took away, 0..1
  /// Known better than before, or found elsewhere than it was believed to be.
  bool is_informed() const {
    return variance_reduction >= kToldShare || value - prior >= prior_sigma || prior - value >= prior_sigma;
  }
  static constexpr double kToldShare = 0.1;
};

/// Two parameters that the readings cannot tell apart: what is added to one may be taken from the other.
struct CalibratedPair {
  std::size_t first = 0;  ///< positions of the parameters
  std::size_t second = 0;
  double correlation = 0;  ///< at least kPairCorrelation either way
  static constexpr double kPairCorrelation = 0.8;
};

/// Why a reading may lie far off.
enum class OutlierReason {
  none,      ///< it does not
  spot,      ///< lower than its device's other readings: a fade, a hand, the hub's aerial covered
  device,    ///< all of its device's readings are as low: battery, aerial, metal behind it, or another place
  alone,     ///< low, and its device's only reading: either of both, or a wall that the plan lacks
  open_way,  ///< higher, and a leaf on its way was taken to be closed
  plan,      ///< higher, no leaf on its way: the plan has more wall than the building, or another device
};

/// A reading beside what was expected of it before and after.
struct CalibratedReading {
  std::size_t job = 0;
  std::size_t reading = 0;  ///< position in the job's readings
  std::string hub;          ///< with which it was compared
  ReadingKind kind = ReadingKind::exact;
  double read_dbm = 0;         ///< by the calibrated scale; the bound of a reading that is one
  double read_before_dbm = 0;  ///< the same by the given scale
  double before_dbm = 0;       ///< what was to be expected on the given site
  double after_dbm = 0;        ///< and is on the calibrated one
  double spot_mean_db = 0;     ///< in both: what the mean of many spots in decibels lies over the local mean
  double sigma_db = 0;  ///< of the reading about after_dbm: walls, spot, and what the parameters leave open
  double weight = 0;    ///< with which it counted: near 1 in full, near 0 not
  double leverage = 0;  ///< how far the prediction follows it, 0..1
  OutlierReason outlier = OutlierReason::none;
  double residual_db() const { return read_dbm - after_dbm; }
};

/// What readings teach of sites. The model of each reading:
///
///     read = predicted(exponent, wall losses) + offset + shadow + spot,    percent = (read - zero) / (full -
///     zero)
///
/// Parameters start from normal priors (docs/methods/readings.md); shadows are alike for
/// readings that are near; spots are by the fading of the path; heavy tails hold outliers back; readings of 0
/// and 100 %, or not heard, are bounds.
struct CalibrationReport {
  std::vector<CalibratedParameter> parameters;
  std::vector<CalibratedPair> pairs;        ///< the strongest first
  std::vector<CalibratedReading> readings;  ///< in order of job and row
  std::vector<Site> sites;                  ///< calibrated, one a job
  double rmse_before_db = 0;                ///< over readings that are values; 0 without any
  double rmse_after_db = 0;
  double spread_scale = 1;   ///< of readings about their predictions, by which model_sigma_db changed
  double correlation_m = 0;  ///< length over which shadows are alike, as assumed or found
  double local_share = 1;    ///< of the local means' deviations that is alike; the rest is spots'
  CalibrationStop stop = CalibrationStop::converged;
  std::vector<Warning> warnings;
};

}  // namespace linkmargin
