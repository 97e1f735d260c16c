#include "linkmargin/prediction/uncertainty/shadowing_regression.hpp"

#include "linkmargin/base/range.hpp"
#include "linkmargin/prediction/uncertainty/correlated_spread.hpp"
#include "linkmargin/propagation/fading/heavy_tail.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace linkmargin {

namespace {

/// Of a local mean's deviation what is there on another day too. People, doors and furniture move, and a link
/// that nobody touched varies by some 2 dB from hour to hour: a quarter of the variance of the model's 4 dB.
constexpr double kLastingShare = 0.866;  ///< assumption

}  // namespace

struct ShadowingRegression::Found {
  std::vector<ReadingSpread> spreads;  ///< what is alike in local_db, the rest in spot_db
  ShadowingCorrelation correlation;
  /// With outliers' spots made wider: for the mean, and by what each reading is worth, for the spread.
  std::shared_ptr<const CorrelatedSpread> covariance;
  std::shared_ptr<const CorrelatedSpread> worth;
  Eigen::VectorXd solved;  ///< the covariance's inverse times what was read off
  /// Whitened column of the unit matrix of a reading that is left out.
  std::optional<Eigen::VectorXd> left_out;

  /// What a link's local mean shares with each reading's.
  Eigen::VectorXd shared_db2(const ReadingSpread& link) const {
    Eigen::VectorXd shared(static_cast<Eigen::Index>(spreads.size()));
    for (std::size_t i = 0; i < spreads.size(); ++i) {
      shared[static_cast<Eigen::Index>(i)] = kLastingShare * correlation.local_share * link.local_db *
                                             spreads[i].local_db *
                                             linkmargin::correlation(link, spreads[i], correlation.length_m);
    }
    return shared;
  }

  /// What the readings tell of a local mean, as causes of variance 1.
  Eigen::VectorXd told_by(const Eigen::VectorXd& shared) const {
    Eigen::VectorXd told = worth->whitened(shared);
    if (!left_out) return told;
    return told - *left_out * (told.dot(*left_out) / left_out->squaredNorm());
  }
};

namespace {

constexpr int kMostRounds = 100;
constexpr double kSettledDb = 1e-6;
constexpr double kLeastInformation = 1e-6;

/// As a normal reading of its own spot: how far it lies off, and its spot's deviation, widened for an
/// outlier.
struct AsNormal {
  double read_db = 0;
  double spot_db = 0;
};

/// @param shadow_db  what the local mean is taken to lie off the prediction
AsNormal as_normal(const ReadingDeviation& off, double shadow_db, double spot_db) {
  const HeavyTailTerm term = heavy_tail_term(off.kind, (off.read_db - shadow_db) / spot_db);
  return {shadow_db + spot_db * term.pull, spot_db / std::sqrt(term.weight)};
}

/// So little in common with every reading that the model is left as it is, bit for bit.
bool is_far(const Eigen::VectorXd& shared_db2) {
  constexpr double least_db2 = 1e-4;
  return shared_db2.cwiseAbs().maxCoeff() < least_db2;
}

}  // namespace

ShadowingRegression::ShadowingRegression(const std::vector<ReadingDeviation>& readings) {
  if (readings.empty()) return;
  auto found = std::make_shared<Found>();
  const auto count = static_cast<Eigen::Index>(readings.size());
  Eigen::VectorXd deviations(count);
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const ReadingSpread& spread = readings[i].spread;
    found->spreads.push_back(spread);
    deviations[static_cast<Eigen::Index>(i)] =
        readings[i].kind == ReadingKind::exact
            ? readings[i].read_db / std::hypot(spread.local_db, spread.spot_db)
            : 0;
  }
  found->correlation = fitted_shadowing_correlation(found->spreads, deviations);
  found->spreads = split_variance(found->spreads, found->correlation);

  Eigen::VectorXd shadow_db = Eigen::VectorXd::Zero(count);
  for (int round = 0; round < kMostRounds; ++round) {
    std::vector<ReadingSpread> widened = found->spreads;
    Eigen::VectorXd read_db(count);
    for (std::size_t i = 0; i < readings.size(); ++i) {
      const auto row = static_cast<Eigen::Index>(i);
      const AsNormal normal = as_normal(readings[i], shadow_db[row], found->spreads[i].spot_db);
      read_db[row] = normal.read_db;
      widened[i].spot_db = normal.spot_db;
    }
    found->covariance = std::make_shared<const CorrelatedSpread>(widened, found->correlation.length_m);
    found->solved = found->covariance->back(found->covariance->whitened(read_db));
    Eigen::VectorXd next(count);  // what is not the spot's is the shadow's
    for (std::size_t i = 0; i < readings.size(); ++i) {
      const auto row = static_cast<Eigen::Index>(i);
      next[row] = read_db[row] - widened[i].spot_db * widened[i].spot_db * found->solved[row];
    }
    const double moved_db = (next - shadow_db).cwiseAbs().maxCoeff();
    shadow_db = next;
    if (moved_db <= kSettledDb) break;
  }
  std::vector<ReadingSpread> worth = found->spreads;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const double over_db = readings[i].read_db - shadow_db[static_cast<Eigen::Index>(i)];
    const double information = heavy_tail_information(readings[i].kind, over_db / worth[i].spot_db);
    worth[i].spot_db /= std::sqrt(std::max(information, kLeastInformation));
  }
  found->worth = std::make_shared<const CorrelatedSpread>(worth, found->correlation.length_m);
  found_ = std::move(found);
}

LocalMean ShadowingRegression::at(Point3 device, Point3 hub, double sigma_db, double local_db) const {
  if (!found_) return {0, sigma_db};
  const Eigen::VectorXd shared = found_->shared_db2({0, device, hub, local_db, 0});
  if (is_far(shared)) return {0, sigma_db};
  const double variance_db2 = sigma_db * sigma_db - found_->told_by(shared).squaredNorm();
  return {shared.dot(found_->solved), std::sqrt(std::max(0.0, variance_db2))};
}

double ShadowingRegression::shift_db(Point3 device, Point3 hub, double local_db) const {
  if (!found_) return 0;
  const Eigen::VectorXd shared = found_->shared_db2({0, device, hub, local_db, 0});
  return is_far(shared) ? 0 : shared.dot(found_->solved);
}

std::size_t ShadowingRegression::count() const {
  return found_ ? found_->spreads.size() : 0;
}

ShadowingRegression ShadowingRegression::without(std::size_t reading) const {
  if (reading >= count() || found_->left_out) throw DomainError("no such reading can be left out");
  if (count() == 1) return {};
  const auto row = static_cast<Eigen::Index>(reading);
  const Eigen::VectorXd unit = Eigen::VectorXd::Unit(static_cast<Eigen::Index>(count()), row);
  const Eigen::VectorXd column = found_->covariance->back(found_->covariance->whitened(unit));
  auto less = std::make_shared<Found>(*found_);
  less->solved -= column * (found_->solved[row] / column[row]);
  less->left_out = found_->worth->whitened(unit);
  ShadowingRegression result;
  result.found_ = std::move(less);
  return result;
}

bool ShadowingRegression::any_in(const Box2& block) const {
  if (!found_) return false;
  return std::ranges::any_of(found_->spreads, [&](const ReadingSpread& reading) {
    const Point3& at = reading.device;
    return at.x >= block.min.x && at.x <= block.max.x && at.y >= block.min.y && at.y <= block.max.y;
  });
}

double ShadowingRegression::shared_db2(const ReadingSpread& a, const ReadingSpread& b) const {
  const ShadowingCorrelation how = found_ ? found_->correlation : ShadowingCorrelation{};
  return how.local_share * how.local_share * a.local_db * b.local_db * correlation(a, b, how.length_m);
}

std::vector<double> ShadowingRegression::told(const ReadingSpread& link) const {
  if (!found_) return {};
  const Eigen::VectorXd causes = found_->told_by(found_->shared_db2(link));
  return {causes.begin(), causes.end()};
}

}  // namespace linkmargin
