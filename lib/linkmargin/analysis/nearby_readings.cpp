#include "linkmargin/analysis/nearby_readings.hpp"

#include "linkmargin/analysis/calibration_look.hpp"
#include "linkmargin/propagation/heavy_tail.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {

struct NearbyReadings::Found {
  std::vector<ReadingSpread> spreads;  ///< what is alike in local_db, the rest in spot_db
  ShadowLikeness likeness;
  std::shared_ptr<const CorrelatedSpread> covariance;  ///< with outliers' spots made wider
  Eigen::VectorXd solved;                              ///< the covariance's inverse times what was read off

  /// What a link's local mean shares with each reading's.
  Eigen::VectorXd shared_db2(const ReadingSpread& link) const {
    Eigen::VectorXd shared(static_cast<Eigen::Index>(spreads.size()));
    for (std::size_t i = 0; i < spreads.size(); ++i) {
      shared[static_cast<Eigen::Index>(i)] = likeness.local_share * link.local_db * spreads[i].local_db *
                                             linkmargin::likeness(link, spreads[i], likeness.length_m);
    }
    return shared;
  }
};

namespace {

constexpr int kMostRounds = 100;
constexpr double kSettledDb = 1e-6;

/// What was read, off the prediction.
struct Off {
  ReadingKind kind = ReadingKind::exact;
  double read_db = 0;  ///< the bound of a reading that is one
};

/// As a normal reading of its own spot: how far it lies off, and its spot's deviation, widened for an
/// outlier.
struct AsNormal {
  double read_db = 0;
  double spot_db = 0;
};

/// @param shadow_db  what the local mean is taken to lie off the prediction
AsNormal as_normal(const Off& off, double shadow_db, double spot_db) {
  const HeavyTailTerm term = heavy_tail_term(off.kind, (off.read_db - shadow_db) / spot_db);
  return {shadow_db + spot_db * term.pull, spot_db / std::sqrt(term.weight)};
}

}  // namespace

NearbyReadings::NearbyReadings(const Site& site, const std::vector<Reading>& readings, Doors doors,
                               int threads) {
  if (readings.empty()) return;
  const CalibrationJob job{site, readings};
  const calibrating::JobLinks links = calibrating::job_links(job, doors);
  const std::vector<calibrating::LookedAt> looked = calibrating::look(site, links.links, threads);
  auto found = std::make_shared<Found>();
  std::vector<Off> off;
  const auto count = static_cast<Eigen::Index>(readings.size());
  Eigen::VectorXd deviations(count);
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const calibrating::LookedAt& link = looked[links.of_reading[i]];
    const calibrating::ReadLevel read = calibrating::read_level(readings[i], site.reading, link.floor_dbm);
    off.push_back({read.kind, read.level_dbm - link.level_dbm});
    found->spreads.push_back({0, link.device, link.hub, link.local_db, link.spot_db});
    deviations[static_cast<Eigen::Index>(i)] =
        read.kind == ReadingKind::exact ? off.back().read_db / std::hypot(link.local_db, link.spot_db) : 0;
  }
  found->likeness = shadow_likeness(found->spreads, deviations);
  found->spreads = told_apart(found->spreads, found->likeness);

  Eigen::VectorXd shadow_db = Eigen::VectorXd::Zero(count);
  for (int round = 0; round < kMostRounds; ++round) {
    std::vector<ReadingSpread> widened = found->spreads;
    Eigen::VectorXd read_db(count);
    for (std::size_t i = 0; i < off.size(); ++i) {
      const auto row = static_cast<Eigen::Index>(i);
      const AsNormal normal = as_normal(off[i], shadow_db[row], found->spreads[i].spot_db);
      read_db[row] = normal.read_db;
      widened[i].spot_db = normal.spot_db;
    }
    found->covariance = std::make_shared<const CorrelatedSpread>(widened, found->likeness.length_m);
    found->solved = found->covariance->back(found->covariance->whitened(read_db));
    Eigen::VectorXd next(count);  // what is not the spot's is the shadow's
    for (std::size_t i = 0; i < off.size(); ++i) {
      const auto row = static_cast<Eigen::Index>(i);
      next[row] = read_db[row] - widened[i].spot_db * widened[i].spot_db * found->solved[row];
    }
    const double moved_db = (next - shadow_db).cwiseAbs().maxCoeff();
    shadow_db = next;
    if (moved_db <= kSettledDb) break;
  }
  found_ = std::move(found);
}

LocalMean NearbyReadings::at(Point3 device, Point3 hub, double sigma_db, double local_db) const {
  constexpr double least_db2 = 1e-4;
  if (!found_) return {0, sigma_db};
  const Eigen::VectorXd shared = found_->shared_db2({0, device, hub, local_db, 0});
  if (shared.cwiseAbs().maxCoeff() < least_db2) return {0, sigma_db};
  const double told_db2 = found_->covariance->whitened(shared).squaredNorm();
  return {shared.dot(found_->solved), std::sqrt(std::max(0.0, sigma_db * sigma_db - told_db2))};
}

double NearbyReadings::shared_db2(const ReadingSpread& a, const ReadingSpread& b) const {
  const ShadowLikeness how = found_ ? found_->likeness : ShadowLikeness{};
  return how.local_share * how.local_share * a.local_db * b.local_db * likeness(a, b, how.length_m);
}

Eigen::VectorXd NearbyReadings::told(const ReadingSpread& link) const {
  if (!found_) return {};
  return found_->covariance->whitened(found_->shared_db2(link));
}

}  // namespace linkmargin
