#include "linkmargin/prediction/uncertainty/shadowing_regression.hpp"

#include "linkmargin/base/parallel.hpp"
#include "linkmargin/base/range.hpp"
#include "linkmargin/prediction/uncertainty/correlated_spread.hpp"
#include "linkmargin/prediction/uncertainty/reading_places.hpp"
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
  std::shared_ptr<const ReadingPlaces> places;
  Eigen::VectorXd local_db;  ///< of `spreads`
  ShadowingCorrelation correlation;
  /// With outliers' spots made wider: for the mean, and by what each reading is worth, for the spread.
  std::shared_ptr<const CovarianceInverse> covariance;
  std::shared_ptr<const CovarianceInverse> worth;
  std::shared_ptr<const CorrelatedSpread> factor;  ///< of `worth`
  Eigen::VectorXd solved;                          ///< the covariance's inverse times what was read off
  std::optional<Eigen::Index> left_out;            ///< a reading

  /// What a link's local mean shares with each reading's.
  Eigen::VectorXd shared_db2(const ReadingSpread& link) const {
    Eigen::VectorXd shared(local_db.size());
    places->correlations(link, correlation.length_m,
                         std::span(shared.data(), static_cast<std::size_t>(shared.size())));
    shared.array() *= kLastingShare * correlation.local_share * link.local_db * local_db.array();
    return shared;
  }

  /// The readings that have something in common with a link, and what.
  struct Near {
    std::vector<Eigen::Index> rows;
    Eigen::VectorXd shared_db2;
  };
  Near near(const Eigen::VectorXd& shared) const {
    constexpr double least_db2 = 1e-7;
    Near result;
    for (Eigen::Index i = 0; i < shared.size(); ++i) {
      if (std::abs(shared[i]) >= least_db2 && i != left_out) result.rows.push_back(i);
    }
    result.shared_db2 = shared(result.rows);
    return result;
  }

  /// Where a link is that of the reading left out, what the others take off it stands in the diagonal of the
  /// inverse: the variance of one reading given all others is one over it.
  std::optional<double> told_at_left_out_db2(const ReadingSpread& link) const {
    if (!left_out) return {};
    const ReadingSpread& own = spreads[static_cast<std::size_t>(*left_out)];
    if (own.site != link.site || own.device != link.device || own.hub != link.hub || own.local_db <= 0)
      return {};
    const double scale = kLastingShare * correlation.local_share * link.local_db / own.local_db;
    const double sigma_db = factor->sigma_db()[*left_out];
    return scale * scale * (sigma_db * sigma_db - 1 / worth->at(*left_out, *left_out));
  }

  /// How much variance the readings take off a local mean.
  double told_db2(const Eigen::VectorXd& shared) const {
    const Near some = near(shared);
    const double sum = worth->squared(some.rows, some.shared_db2);
    double beside = 0;
    for (std::size_t i = 0; left_out && i < some.rows.size(); ++i)
      beside += some.shared_db2[static_cast<Eigen::Index>(i)] * worth->at(*left_out, some.rows[i]);
    return left_out ? sum - beside * beside / worth->at(*left_out, *left_out) : sum;
  }
};

namespace {

constexpr int kMostRounds = 100;
constexpr double kSettledDb = 1e-6;
constexpr double kLeastInformation = 1e-6;
/// How closely a round is solved: what is left over, of what was read, and then of what the round before has
/// moved.
constexpr double kFirstClose = 1e-3, kRoundShare = 1e-3;
constexpr double kClosest = 1e-13;

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

/// The inverse of a covariance times what was read, by conjugate gradients, where only the spots have
/// changed since a covariance of which the factor is known: that makes few steps enough, each with one
/// solution.
class SpotsChanged {
 public:
  /// @param before  the spreads of which the factor is known
  SpotsChanged(const std::vector<CovarianceBlock>& blocks, const std::vector<ReadingSpread>& before)
      : factor_(blocks, before), spot_db2_(spots_db2(before)) {}

  /// @param close  what may be left over, of what was read. Begins with what the last call has found.
  const Eigen::VectorXd& solved(const std::vector<ReadingSpread>& spreads, const Eigen::VectorXd& read_db,
                                double close) {
    constexpr int most_steps = 200;
    const Eigen::VectorXd more_db2 = spots_db2(spreads) - spot_db2_;
    if (found_.size() == 0) found_ = known_ = Eigen::VectorXd::Zero(read_db.size());
    Eigen::VectorXd left = read_db - known_ - more_db2.cwiseProduct(found_);
    Eigen::VectorXd scaled = over_known(left);
    Eigen::VectorXd direction = scaled, through = left;  // the second: the known covariance times the first
    double worth = left.dot(scaled);
    for (int step = 0; step < most_steps && left.norm() > close * read_db.norm(); ++step) {
      const Eigen::VectorXd all = through + more_db2.cwiseProduct(direction);
      const double size = worth / direction.dot(all);
      found_ += size * direction;
      known_ += size * through;
      left -= size * all;
      scaled = over_known(left);
      const double next = left.dot(scaled);
      direction = scaled + next / worth * direction;
      through = left + next / worth * through;
      worth = next;
    }
    return found_;
  }

 private:
  static Eigen::VectorXd spots_db2(const std::vector<ReadingSpread>& spreads) {
    Eigen::VectorXd spots(static_cast<Eigen::Index>(spreads.size()));
    for (std::size_t i = 0; i < spreads.size(); ++i)
      spots[static_cast<Eigen::Index>(i)] = spreads[i].spot_db * spreads[i].spot_db;
    return spots;
  }

  /// The known covariance's inverse times readings.
  Eigen::VectorXd over_known(const Eigen::VectorXd& readings) const {
    return factor_.back(factor_.whitened(readings));
  }

  CorrelatedSpread factor_;
  Eigen::VectorXd spot_db2_;
  Eigen::VectorXd found_;
  Eigen::VectorXd known_;  // the known covariance times found_
};

/// So little in common with every reading that the model is left as it is, bit for bit.
bool is_far(const Eigen::VectorXd& shared_db2) {
  constexpr double least_db2 = 1e-4;
  return shared_db2.cwiseAbs().maxCoeff() < least_db2;
}

}  // namespace

ShadowingRegression::ShadowingRegression(const std::vector<ReadingDeviation>& readings, int threads) {
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

  found->places = std::make_shared<const ReadingPlaces>(found->spreads);
  found->local_db.resize(count);
  for (Eigen::Index i = 0; i < count; ++i)
    found->local_db[i] = found->spreads[static_cast<std::size_t>(i)].local_db;

  const auto blocks = covariance_blocks(found->spreads, found->correlation.length_m);
  std::optional<SpotsChanged> solver;  // since the first round
  Eigen::VectorXd shadow_db = Eigen::VectorXd::Zero(count);
  std::vector<ReadingSpread> widened;
  Eigen::VectorXd read_db(count);
  double close = kFirstClose;
  for (int round = 0; round < kMostRounds; ++round) {
    widened = found->spreads;
    for (std::size_t i = 0; i < readings.size(); ++i) {
      const auto row = static_cast<Eigen::Index>(i);
      const AsNormal normal = as_normal(readings[i], shadow_db[row], found->spreads[i].spot_db);
      read_db[row] = normal.read_db;
      widened[i].spot_db = normal.spot_db;
    }
    if (!solver) solver.emplace(blocks, widened);
    found->solved = solver->solved(widened, read_db, close);
    Eigen::VectorXd next(count);  // what is not the spot's is the shadow's
    for (std::size_t i = 0; i < readings.size(); ++i) {
      const auto row = static_cast<Eigen::Index>(i);
      next[row] = read_db[row] - widened[i].spot_db * widened[i].spot_db * found->solved[row];
    }
    const double moved_db = (next - shadow_db).cwiseAbs().maxCoeff();
    close = std::clamp(kRoundShare * moved_db / std::max(read_db.norm(), kSettledDb), kClosest, kFirstClose);
    shadow_db = next;
    if (moved_db <= kSettledDb) break;
  }
  found->solved = solver->solved(widened, read_db, kClosest);
  std::vector<ReadingSpread> worth = found->spreads;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const double over_db = readings[i].read_db - shadow_db[static_cast<Eigen::Index>(i)];
    const double information = heavy_tail_information(readings[i].kind, over_db / worth[i].spot_db);
    worth[i].spot_db /= std::sqrt(std::max(information, kLeastInformation));
  }
  parallel_for(2, threads, [&](std::size_t which) {  // the two take most of the time
    if (which == 0) {
      found->covariance =
          std::make_shared<const CovarianceInverse>(CorrelatedSpread(blocks, widened).inverse());
    } else {
      found->factor = std::make_shared<const CorrelatedSpread>(blocks, worth);
      found->worth = std::make_shared<const CovarianceInverse>(found->factor->inverse());
    }
  });
  found_ = std::move(found);
}

LocalMean ShadowingRegression::at(Point3 device, Point3 hub, double sigma_db, double local_db) const {
  if (!found_) return {0, sigma_db};
  const ReadingSpread link{0, device, hub, local_db, 0};
  const Eigen::VectorXd shared = found_->shared_db2(link);
  if (is_far(shared)) return {0, sigma_db};
  const auto known = found_->told_at_left_out_db2(link);
  const double variance_db2 = sigma_db * sigma_db - (known ? *known : found_->told_db2(shared));
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
  const Eigen::VectorXd column = found_->covariance->column(row);
  auto less = std::make_shared<Found>(*found_);
  less->solved -= column * (found_->solved[row] / column[row]);
  less->left_out = row;
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
  Eigen::VectorXd causes = found_->factor->whitened(found_->shared_db2(link));
  if (found_->left_out) {
    const Eigen::VectorXd own =
        found_->factor->whitened(Eigen::VectorXd::Unit(causes.size(), *found_->left_out));
    causes -= own * (causes.dot(own) / own.squaredNorm());
  }
  return {causes.begin(), causes.end()};
}

}  // namespace linkmargin
