#include "linkmargin/prediction/uncertainty/correlated_spread.hpp"

#include "linkmargin/base/range.hpp"
#include "linkmargin/prediction/uncertainty/reading_places.hpp"

#include <Eigen/Cholesky>

#include <algorithm>
#include <cmath>
#include <utility>

namespace linkmargin {
namespace {

/// At both ends together.
double apart_m(const ReadingSpread& a, const ReadingSpread& b) {
  return distance(a.device, b.device) + distance(a.hub, b.hub);
}

/// Positions of the readings that may have something in common, in groups.
std::vector<std::vector<Eigen::Index>> groups(std::span<const ReadingSpread> readings, double apart_m) {
  struct Member {
    std::size_t site;
    Point3 hub;
    std::size_t group;
  };
  std::vector<Member> hubs;  // every hub once, with its group
  std::vector<std::vector<Eigen::Index>> found;
  std::vector<std::size_t> hub_of;
  for (const ReadingSpread& reading : readings) {
    std::size_t hub = 0;
    while (hub < hubs.size() && !(hubs[hub].site == reading.site && hubs[hub].hub == reading.hub)) ++hub;
    if (hub == hubs.size()) hubs.push_back({reading.site, reading.hub, hub});
    hub_of.push_back(hub);
  }
  for (std::size_t i = 0; i < hubs.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      if (hubs[i].site != hubs[j].site || distance(hubs[i].hub, hubs[j].hub) > apart_m) continue;
      const std::size_t from = hubs[i].group, to = hubs[j].group;
      for (Member& member : hubs) {
        if (member.group == from) member.group = to;
      }
    }
  }
  found.resize(hubs.size());
  for (std::size_t i = 0; i < readings.size(); ++i) {
    found[hubs[hub_of[i]].group].push_back(static_cast<Eigen::Index>(i));
  }
  std::erase_if(found, [](const auto& group) { return group.empty(); });
  return found;
}

/// Pairs of readings that lie about as far apart.
struct PairBin {
  double products = 0;  ///< of their deviations
  double shares = 0;    ///< of the local means in their variances
  double pairs = 0;
  double apart_m = 0;
};

std::vector<PairBin> pair_bins(std::span<const ReadingSpread> readings, const Eigen::VectorXd& deviations) {
  constexpr double cut = 3, bin_m = 0.25, farthest_m = 8;
  std::vector<PairBin> bins(static_cast<std::size_t>(farthest_m / bin_m));
  std::vector<double> off, share;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    off.push_back(std::clamp(deviations[static_cast<Eigen::Index>(i)], -cut, cut));
    share.push_back(readings[i].local_db / std::hypot(readings[i].local_db, readings[i].spot_db));
  }
  for (std::size_t i = 0; i < readings.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      if (readings[i].site != readings[j].site) continue;
      const double apart = apart_m(readings[i], readings[j]);
      if (apart >= farthest_m) continue;
      PairBin& bin = bins[static_cast<std::size_t>(apart / bin_m)];
      bin.products += off[i] * off[j];
      bin.shares += share[i] * share[j];
      bin.pairs += 1;
      bin.apart_m += apart;
    }
  }
  return bins;
}

using Part = Eigen::Ref<Eigen::MatrixXd, 0, Eigen::OuterStride<>>;

/// So small a triangle is inverted as it stands, a larger one by its halves: Eigen's solution for an identity
/// knows nothing of its zeros.
constexpr Eigen::Index kSmallTriangle = 48;

/// The inverse of a lower triangle in its place; what stands over the diagonal is neither read nor changed.
void invert_lower(Part of) {
  const Eigen::Index size = of.rows(), half = size / 2;
  if (size <= kSmallTriangle) {
    const Eigen::MatrixXd inverse =
        of.triangularView<Eigen::Lower>().solve(Eigen::MatrixXd::Identity(size, size));
    of.triangularView<Eigen::Lower>() = inverse;
    return;
  }
  Part first = of.topLeftCorner(half, half), last = of.bottomRightCorner(size - half, size - half);
  Part below = of.bottomLeftCorner(size - half, half);
  invert_lower(first);
  invert_lower(last);
  const Eigen::MatrixXd once = below * first.triangularView<Eigen::Lower>();
  below.noalias() = last.triangularView<Eigen::Lower>() * once;
  below = -below;
}

/// The product of a lower triangle's transpose and itself, its lower part in the place of the triangle.
void square_lower(Part of) {
  const Eigen::Index size = of.rows(), half = size / 2;
  if (size <= kSmallTriangle) {
    const Eigen::MatrixXd lower = of.triangularView<Eigen::Lower>();
    of.triangularView<Eigen::Lower>() = lower.transpose() * lower;
    return;
  }
  Part first = of.topLeftCorner(half, half), last = of.bottomRightCorner(size - half, size - half);
  Part below = of.bottomLeftCorner(size - half, half);
  square_lower(first);
  first.selfadjointView<Eigen::Lower>().rankUpdate(below.transpose());
  const Eigen::MatrixXd old = below;
  below.noalias() = last.transpose().triangularView<Eigen::Upper>() * old;
  square_lower(last);
}

}  // namespace

double correlation(const ReadingSpread& a, const ReadingSpread& b, double length_m) {
  if (a.site != b.site) return 0;
  return shadowing_correlation(apart_m(a, b), length_m);
}

Eigen::VectorXd effective_sigma_db(std::span<const ReadingSpread> readings, double length_m) {
  Eigen::VectorXd variance(static_cast<Eigen::Index>(readings.size()));
  for (std::size_t i = 0; i < readings.size(); ++i)
    variance[static_cast<Eigen::Index>(i)] =
        readings[i].spot_db * readings[i].spot_db + readings[i].local_db * readings[i].local_db;
  const ReadingPlaces places(readings);
  Eigen::VectorXd local_db(variance.size()), alike(variance.size());
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const auto before = static_cast<Eigen::Index>(i);
    const double own_db = local_db[before] = readings[i].local_db;
    places.correlations(readings[i], length_m, std::span(alike.data(), i));
    variance.head(before) += own_db * alike.head(before).cwiseProduct(local_db.head(before));
    variance[before] += own_db * alike.head(before).dot(local_db.head(before));
  }
  return variance.cwiseSqrt();
}

ShadowingCorrelation fitted_shadowing_correlation(std::span<const ReadingSpread> readings,
                                                  const Eigen::VectorXd& deviations) {
  const std::vector<PairBin> bins = pair_bins(readings, deviations);
  double pairs = 0;
  for (const PairBin& bin : bins) pairs += bin.pairs;
  // Pairs of one reading are no news of each other: in all they count as much as there are readings.
  const double worth = pairs > 0 ? std::min(1.0, static_cast<double>(readings.size()) / pairs) : 0;
  const auto misfit = [&](const ShadowingCorrelation& guess) {
    const double octaves = std::log2(guess.length_m / kShadowingCorrelationM);
    const double off = (guess.local_share - 1) / 0.2;
    double sum = octaves * octaves + off * off;
    for (const PairBin& bin : bins) {
      if (bin.pairs == 0) continue;
      const double expected = guess.local_share * guess.local_share * bin.shares / bin.pairs *
                              shadowing_correlation(bin.apart_m / bin.pairs, guess.length_m);
      const double found = bin.products / bin.pairs;
      sum += worth * bin.pairs * (found - expected) * (found - expected) / (1 + expected * expected);
    }
    return sum;
  };
  ShadowingCorrelation best;
  double least = misfit(best);
  for (int eighth = -24; eighth <= 24; ++eighth) {  // octaves of length: 0.25 to 16 m
    for (int percent = 50; percent <= 100; percent += 2) {
      const ShadowingCorrelation guess{kShadowingCorrelationM * std::exp2(eighth / 8.0), percent / 100.0};
      if (const double sum = misfit(guess); sum < least) {
        least = sum;
        best = guess;
      }
    }
  }
  return best;
}

std::vector<ReadingSpread> split_variance(std::span<const ReadingSpread> readings,
                                          const ShadowingCorrelation& correlation) {
  std::vector<ReadingSpread> result(readings.begin(), readings.end());
  for (ReadingSpread& reading : result) {
    const double sigma_db = std::hypot(reading.local_db, reading.spot_db);
    reading.local_db *= correlation.local_share;
    reading.spot_db = std::sqrt(sigma_db * sigma_db - reading.local_db * reading.local_db);
  }
  return result;
}

std::vector<CovarianceBlock> covariance_blocks(std::span<const ReadingSpread> readings, double length_m) {
  std::vector<CovarianceBlock> blocks;
  for (auto& rows : groups(readings, CorrelatedSpread::kHubsApartLengths * length_m)) {
    const auto count = static_cast<Eigen::Index>(rows.size());
    Eigen::MatrixXd local_db2(count, count);
    const auto reading = [&](Eigen::Index i) -> const ReadingSpread& {
      return readings[static_cast<std::size_t>(rows[static_cast<std::size_t>(i)])];
    };
    for (Eigen::Index j = 0; j < count; ++j) {
      for (Eigen::Index i = j; i < count; ++i) {
        const ReadingSpread &a = reading(i), &b = reading(j);
        double shared = a.local_db * b.local_db;
        if (i != j) shared *= correlation(a, b, length_m);
        local_db2(i, j) = local_db2(j, i) = shared;
      }
    }
    blocks.push_back({std::move(rows), std::move(local_db2)});
  }
  return blocks;
}

CorrelatedSpread::CorrelatedSpread(std::span<const ReadingSpread> readings, double length_m)
    : CorrelatedSpread(covariance_blocks(readings, length_m), readings) {}

CorrelatedSpread::CorrelatedSpread(const std::vector<CovarianceBlock>& blocks,
                                   std::span<const ReadingSpread> readings)
    : sigma_db_(static_cast<Eigen::Index>(readings.size())) {
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const ReadingSpread& reading = readings[i];
    if (!(reading.spot_db > 0 && reading.local_db >= 0))
      throw DomainError("a reading's spread must be over 0");
    sigma_db_[static_cast<Eigen::Index>(i)] = std::hypot(reading.spot_db, reading.local_db);
  }
  for (const CovarianceBlock& block : blocks) {
    Eigen::MatrixXd covariance = block.local_db2;
    for (Eigen::Index i = 0; i < covariance.rows(); ++i) {
      const double spot_db =
          readings[static_cast<std::size_t>(block.rows[static_cast<std::size_t>(i)])].spot_db;
      covariance(i, i) += spot_db * spot_db;
    }
    const Eigen::LLT<Eigen::Ref<Eigen::MatrixXd>> in_place(covariance);
    if (in_place.info() != Eigen::Success) throw DomainError("the readings' spreads are no covariance");
    blocks_.push_back({block.rows, std::move(covariance)});
  }
}

Eigen::MatrixXd CorrelatedSpread::whitened(const Eigen::MatrixXd& columns) const {
  Eigen::MatrixXd result(columns.rows(), columns.cols());
  for (const Block& block : blocks_) {
    const Eigen::MatrixXd part = columns(block.rows, Eigen::all);
    result(block.rows, Eigen::all) = block.factor.triangularView<Eigen::Lower>().solve(part).eval();
  }
  return result;
}

Eigen::MatrixXd CorrelatedSpread::back(const Eigen::MatrixXd& columns) const {
  Eigen::MatrixXd result(columns.rows(), columns.cols());
  for (const Block& block : blocks_) {
    const Eigen::MatrixXd part = columns(block.rows, Eigen::all);
    result(block.rows, Eigen::all) =
        block.factor.transpose().triangularView<Eigen::Upper>().solve(part).eval();
  }
  return result;
}

CovarianceInverse CorrelatedSpread::inverse() const {
  CovarianceInverse result;
  result.place_.resize(static_cast<std::size_t>(size()));
  for (const Block& block : blocks_) {
    Eigen::MatrixXd inverse = block.factor;
    invert_lower(inverse);
    square_lower(inverse);
    inverse.triangularView<Eigen::StrictlyUpper>() = inverse.transpose();
    for (std::size_t i = 0; i < block.rows.size(); ++i)
      result.place_[static_cast<std::size_t>(block.rows[i])] = {result.blocks_.size(),
                                                                static_cast<Eigen::Index>(i)};
    result.blocks_.push_back({block.rows, std::move(inverse)});
  }
  return result;
}

double CovarianceInverse::squared(std::span<const Eigen::Index> readings,
                                  const Eigen::VectorXd& values) const {
  double sum = 0;
  for (std::size_t j = 0; j < readings.size(); ++j) {
    const Place& of = place_[static_cast<std::size_t>(readings[j])];
    const double* const column = blocks_[of.block].local_db2.col(of.row).data();
    const double own = values[static_cast<Eigen::Index>(j)];
    double before = 0;
    for (std::size_t i = 0; i < j; ++i) {
      const Place& other = place_[static_cast<std::size_t>(readings[i])];
      if (other.block == of.block) before += values[static_cast<Eigen::Index>(i)] * column[other.row];
    }
    sum += own * (own * column[of.row] + 2 * before);
  }
  return sum;
}

Eigen::VectorXd CovarianceInverse::column(Eigen::Index reading) const {
  Eigen::VectorXd result = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(place_.size()));
  const auto [block, row] = place_[static_cast<std::size_t>(reading)];
  result(blocks_[block].rows) = blocks_[block].local_db2.col(row);
  return result;
}

double CovarianceInverse::at(Eigen::Index one, Eigen::Index other) const {
  const Place &a = place_[static_cast<std::size_t>(one)], &b = place_[static_cast<std::size_t>(other)];
  return a.block == b.block ? blocks_[a.block].local_db2(a.row, b.row) : 0;
}

}  // namespace linkmargin
