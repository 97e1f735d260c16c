#include "linkmargin/propagation/fading/spot_sequence.hpp"

#include "linkmargin/base/random.hpp"
#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/fading/fading.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <limits>

namespace linkmargin {
namespace {

using Complex = std::complex<double>;

constexpr int kMeanNodes = 48;         ///< of the local mean
constexpr double kMeanDeviations = 6;  ///< either way
constexpr double kLeastVariance = 1e-6;

double amplitude(double level_db) {
  return std::pow(10, level_db / 20);
}

double level_db_of(Complex field) {
  return 10 * std::log10(std::max(std::norm(field), std::numeric_limits<double>::min()));
}

double apart(const SpotOffset& a, const SpotOffset& b) {
  return std::hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}

class Draws {
 public:
  explicit Draws(std::uint64_t field) : stream_(0x5907, field) {}

  double uniform() { return stream_.uniform(next_++); }

  /// Complex normal of unit power.
  Complex normal() {
    const double power = -std::log1p(-uniform());
    return std::polar(std::sqrt(power), 2 * kPi * uniform());
  }

  /// An angle about 0 with density exp(kappa cos) / (2 pi I0(kappa)).
  double von_mises(double kappa) {
    if (kappa < 1e-6) return kPi * (2 * uniform() - 1);
    const double t = 1 + std::sqrt(1 + 4 * kappa * kappa);
    const double rho = (t - std::sqrt(2 * t)) / (2 * kappa);
    const double r = kappa > 1e5 ? 1 + 1 / (2 * kappa) : (1 + rho * rho) / (2 * rho);
    for (;;) {
      const double z = std::cos(kPi * uniform());
      const double f = (1 + r * z) / (r + z);
      const double c = kappa * (r - f);
      const double u = 1 - uniform();
      if (c * (2 - c) <= u && std::log(c / u) + 1 - c < 0) continue;
      const double angle = std::acos(std::clamp(f, -1.0, 1.0));
      return uniform() < 0.5 ? -angle : angle;
    }
  }

 private:
  RandomStream stream_;
  std::uint64_t next_ = 0;
};

/// What the diffuse field at a spot is given those at the spots before it.
struct Given {
  std::vector<double> weights;
  double variance = 1;  ///< of what is left open, in units of the diffuse power
};

/// Spot after spot from the correlations: the rows of the inverse Cholesky factor.
std::vector<Given> given_before(Scattering scattering, const std::vector<SpotOffset>& spots) {
  std::vector<Given> rows;
  // Each spot's open part, as a sum over the spots' fields; its correlation with a later spot is that sum's.
  for (std::size_t i = 0; i < spots.size(); ++i) {
    Given row{std::vector<double>(i, 0.0), 1};
    for (std::size_t j = 0; j < i; ++j) {
      // open part of j: field j - sum of rows[j].weights times the fields before it
      double with_open = field_correlation(scattering, apart(spots[i], spots[j]));
      for (std::size_t m = 0; m < j; ++m)
        with_open -= rows[j].weights[m] * field_correlation(scattering, apart(spots[i], spots[m]));
      const double share = with_open / rows[j].variance;
      row.weights[j] += share;
      for (std::size_t m = 0; m < j; ++m) row.weights[m] -= share * rows[j].weights[m];
      row.variance -= with_open * share;
    }
    row.variance = std::max(row.variance, kLeastVariance);
    rows.push_back(std::move(row));
  }
  return rows;
}

/// Fields about one local mean that have the amplitudes read.
class FieldSampler {
 public:
  FieldSampler(Scattering scattering, double k_db, std::span<const SpotLevel> read,
               std::span<const SpotOffset> left)
      : in_space_(scattering == Scattering::space), read_(read) {
    for (const SpotLevel& spot : read) spots_.push_back(spot.at);
    spots_.insert(spots_.end(), left.begin(), left.end());
    given_ = given_before(scattering, spots_);
    const double k = rician_k_ratio(k_db);
    steady_ = std::sqrt(k / (1 + k));
    diffuse_ = 1 / (1 + k);
  }

  struct Drawn {
    double log_weight = 0;        ///< of the amplitudes read
    std::vector<double> left_db;  ///< over the local mean
  };

  Drawn draw(Draws draws, double shadow_db) const {
    const double azimuth = 2 * kPi * draws.uniform();
    const double rise = in_space_ ? 2 * draws.uniform() - 1 : 0;
    const double slant = std::sqrt(1 - rise * rise);
    const SpotOffset from{slant * std::cos(azimuth), slant * std::sin(azimuth), rise};
    Drawn drawn;
    std::vector<Complex> scattered;
    for (std::size_t i = 0; i < spots_.size(); ++i) {
      const SpotOffset& at = spots_[i];
      const double phase = 2 * kPi * (from[0] * at[0] + from[1] * at[1] + from[2] * at[2]);
      const Complex steady = std::polar(steady_, phase);
      Complex mean = steady;
      for (std::size_t j = 0; j < i; ++j) mean += given_[i].weights[j] * scattered[j];
      const double variance = diffuse_ * given_[i].variance;
      Complex field;
      if (i < read_.size() && read_[i].kind == ReadingKind::exact) {
        const double here = amplitude(read_[i].over_predicted_db - shadow_db);
        drawn.log_weight += log_density(here, std::abs(mean), variance);
        const double turn = draws.von_mises(2 * here * std::abs(mean) / variance);
        field = std::polar(here, std::arg(mean) + turn);
      } else {
        field = mean + std::sqrt(variance) * draws.normal();
        if (i < read_.size()) {
          const bool over = level_db_of(field) + shadow_db >= read_[i].over_predicted_db;
          if (over != (read_[i].kind == ReadingKind::at_least))
            drawn.log_weight = -std::numeric_limits<double>::infinity();
        }
      }
      scattered.push_back(field - steady);
      if (i >= read_.size()) drawn.left_db.push_back(level_db_of(field));
    }
    return drawn;
  }

 private:
  /// Of an amplitude, per decibel but for a constant.
  static double log_density(double here, double mean, double variance) {
    const double apart = here - mean;
    return 2 * std::log(here) - std::log(variance) - apart * apart / variance +
           log_scaled_bessel_i0(2 * here * mean / variance);
  }

  bool in_space_;
  std::span<const SpotLevel> read_;
  std::vector<SpotOffset> spots_;
  std::vector<Given> given_;
  double steady_ = 0;
  double diffuse_ = 1;
};

}  // namespace

SpotSequence::SpotSequence(Scattering scattering, double k_db, double sigma_db,
                           std::span<const SpotLevel> read, std::span<const SpotOffset> left, int fields)
    : spots_left_(left.size()) {
  require_in(kRicianKDb, k_db);
  require_in(kLocalMeanSigmaDb, sigma_db);
  for (const SpotLevel& spot : read) require_in(kReadingDb, spot.over_predicted_db);
  const FieldSampler sampler(scattering, k_db, read, left);
  double most = -std::numeric_limits<double>::infinity();
  std::vector<double> log_weights;
  for (int node = -kMeanNodes / 2; node <= kMeanNodes / 2; ++node) {
    const double score = kMeanDeviations * node / (kMeanNodes / 2.0);
    const double shadow_db = score * sigma_db;
    for (int i = 0; i < fields; ++i) {
      const auto number = static_cast<std::uint64_t>((node + kMeanNodes / 2) * fields + i);
      const FieldSampler::Drawn drawn = sampler.draw(Draws(number), shadow_db);
      log_weights.push_back(drawn.log_weight - score * score / 2);
      most = std::max(most, log_weights.back());
      fields_.push_back({0, shadow_db});
      for (const double level_db : drawn.left_db) left_db_.push_back(level_db + shadow_db);
    }
  }
  double sum = 0;
  for (std::size_t i = 0; i < fields_.size(); ++i) {
    fields_[i].weight = std::isinf(most) ? 1 : std::exp(log_weights[i] - most);
    sum += fields_[i].weight;
  }
  double mean = 0, square = 0;
  for (Field& field : fields_) {
    field.weight /= sum;
    mean += field.weight * field.shadow_db;
    square += field.weight * field.shadow_db * field.shadow_db;
  }
  shadow_ = {mean, std::sqrt(std::max(0.0, square - mean * mean))};
}

double SpotSequence::shadow_reaches(double level_db) const {
  double chance = 0;
  for (const Field& field : fields_) chance += field.shadow_db >= level_db ? field.weight : 0;
  return std::min(1.0, chance);
}

std::vector<double> SpotSequence::first_to_reach(double level_db) const {
  std::vector<double> first(spots_left_, 0.0);
  for (std::size_t i = 0; i < fields_.size(); ++i) {
    for (std::size_t spot = 0; spot < spots_left_; ++spot) {
      if (left_db_[i * spots_left_ + spot] < level_db) continue;
      first[spot] += fields_[i].weight;
      break;
    }
  }
  return first;
}

int spots_worth_reading(std::span<const double> first, double cost) {
  double gain = 0, most = 0, open = 1;
  int worth = 0;
  for (std::size_t i = 0; i < first.size(); ++i) {
    gain += first[i] - cost * open;  // it is read where none before it did
    open -= first[i];
    if (gain <= most) continue;
    most = gain;
    worth = static_cast<int>(i) + 1;
  }
  return worth;
}

}  // namespace linkmargin
