#include "linkmargin/analysis/survey/reading_advice.hpp"

#include "linkmargin/base/parallel.hpp"
#include "linkmargin/geometry/polygon.hpp"
#include "linkmargin/prediction/fitted_shadowing.hpp"
#include "linkmargin/prediction/reading_prediction.hpp"
#include "linkmargin/prediction/serving/serving.hpp"
#include "linkmargin/prediction/uncertainty/parameter_spread.hpp"
#include "linkmargin/propagation/fading/shadowing.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>

namespace linkmargin {
namespace {

/// More floor positions than this are not looked at: the grid is made wider.
constexpr double kMostPositions = 600;

/// A doubt that falls by less is not worth a reading for its own sake: one decision in a hundred such sites.
constexpr double kWorthDoubt = 0.01;

/// Nor is one for the levels' sake that takes less of their variance.
constexpr double kWorthShare = 0.01;

/// A link whose local mean is asked for, or may be read.
struct Asked {
  std::size_t device = 0;
  std::optional<Placement> place;
  std::string hub;
  ReadingSpread spread;
  std::vector<double> causes;  ///< of the parameters' part, each of variance 1
  std::vector<double> told;    ///< by readings taken
  double lacks_db = 0;         ///< by what is known now
  double spread_db2 = 0;       ///< of the local mean, by what is known now
};

double product(const std::vector<double>& a, const std::vector<double>& b) {
  return std::inner_product(a.begin(), a.end(), b.begin(), 0.0);
}

class Asking {
 public:
  Asking(const Site& site, const std::vector<Reading>& taken, const ReadingAdviceOptions& options)
      : site_(site),
        scene_(site, options.doors),
        fading_model_(site.fading),
        stations_(stations(site, scene_, fading_model_)),
        parameters_(site),
        causes_(parameters_),
        nearby_(fitted_shadowing(site, taken, options.doors, scene_, options.threads)) {}

  Asked asked(std::size_t position, const std::optional<Placement>& place) const {
    Device device = site_.devices[position];
    if (place) device.place = *place;
    const Link link = predicted_serving_link(site_, device, stations_, fading_model_);
    const LinkBudget& way = link.lower();
    const double sigma_db = parameters_.sigma_db(link.loss, way.level);
    Asked found;
    found.device = position;
    found.place = place;
    found.hub = link.heard_by();
    found.spread = {0, site_.point(device.place), link.to, link.loss.sigma_db,
                    spot_sigma_db(fading_model_.k_db(link.loss))};
    found.causes = causes_.of(link.loss, reading_percent(site_.reading, way.level) / 100);
    found.told = nearby_.told(found.spread);
    const LocalMean mean = nearby_.at(found.spread.device, found.spread.hub, sigma_db, found.spread.local_db);
    found.lacks_db = link.shortfall(site_.reading).value - mean.shift_db;
    found.spread_db2 = mean.sigma_db * mean.sigma_db;
    return found;
  }

  /// What two local means have in common by what is known now.
  double common_db2(const Asked& a, const Asked& b) const {
    return product(a.causes, b.causes) + nearby_.shared_db2(a.spread, b.spread) - product(a.told, b.told);
  }

 private:
  const Site& site_;
  Scene scene_;
  FadingModel fading_model_;
  Stations stations_;
  ParameterSpread parameters_;
  ParameterCauses causes_;
  ShadowingRegression nearby_;
};

/// Chance of a wrong decision to be expected about a local mean that lacks `lacks_db`, once readings have
/// told `told_db2` of its variance: the mean then known is spread by that, and the doubt left is by the rest.
double expected_doubt(double lacks_db, double variance_db2, double told_db2) {
  constexpr int steps = 16;  // of the normal law's quantiles, midpoints
  const double told_db = std::sqrt(std::clamp(told_db2, 0.0, variance_db2));
  const double left_db = std::sqrt(std::max(1e-12, variance_db2 - told_db2));
  static const std::array<double, steps> quantiles = [] {
    std::array<double, steps> found{};
    for (int i = 0; i < steps; ++i) found[static_cast<std::size_t>(i)] = normal_quantile((i + 0.5) / steps);
    return found;
  }();
  double sum = 0;
  for (const double quantile : quantiles)
    sum += normal_cdf(-std::abs(lacks_db - told_db * quantile) / left_db);
  return sum / steps;
}

/// Floor positions where a device may be carried: the middles of a grid's cells that lie in a drawn room.
std::vector<Placement> floor_positions(const Site& site, double step_m) {
  std::vector<Placement> found;
  for (std::size_t storey = 0; storey < site.storeys.size(); ++storey) {
    for (const Room& room : site.storeys[storey].rooms) {
      const Box2 box = bounding_box(room.corners);
      const auto columns = std::max(1.0, std::floor((box.max.x - box.min.x) / step_m));
      const auto rows = std::max(1.0, std::floor((box.max.y - box.min.y) / step_m));
      for (double row = 0; row < rows; ++row) {
        for (double column = 0; column < columns; ++column) {
          const Point2 at{box.min.x + (column + 0.5) * (box.max.x - box.min.x) / columns,
                          box.min.y + (row + 0.5) * (box.max.y - box.min.y) / rows};
          if (contains(room.corners, at)) found.push_back({storey, snapped(at), 1.0});
        }
      }
    }
  }
  return found;
}

bool is_read(const std::vector<Reading>& taken, const std::string& device,
             const std::optional<Placement>& place) {
  return std::ranges::any_of(
      taken, [&](const Reading& reading) { return reading.device == device && reading.place == place; });
}

bool is_ruled(const Site& site, std::size_t device) {
  return site.profiles.at(site.devices[device].profile).fixed_by_rule;
}

/// The device that is nearest in plan, of the same storey where there is one. One whose place a standard
/// fixes is not carried about.
std::optional<std::size_t> nearest_device(const Site& site, const Placement& place) {
  std::optional<std::size_t> nearest;
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < site.devices.size(); ++i) {
    if (is_ruled(site, i)) continue;
    const Placement& other = site.devices[i].place;
    const double far = other.storey == place.storey ? 0 : 1e6;
    const double apart = distance(other.at, place.at) + far;
    if (apart < least) {
      least = apart;
      nearest = i;
    }
  }
  return nearest;
}

/// Devices where they hang, but those that cannot be read at another spot once they were read; floor
/// positions.
std::vector<Asked> candidates_of(const Site& site, const Asking& asking, const std::vector<Reading>& taken,
                                 const ReadingAdviceOptions& options) {
  std::vector<std::pair<std::size_t, std::optional<Placement>>> places;
  for (std::size_t i = 0; i < site.devices.size(); ++i) {
    if (!is_ruled(site, i) || !is_read(taken, site.devices[i].name, {})) places.push_back({i, {}});
  }
  double step_m = options.step_m;
  std::vector<Placement> floor = floor_positions(site, step_m);
  while (static_cast<double>(floor.size()) > kMostPositions) floor = floor_positions(site, step_m *= 1.5);
  for (const Placement& place : floor) {
    if (const auto device = nearest_device(site, place)) places.push_back({*device, place});
  }
  std::vector<Asked> found(places.size());
  parallel_for(places.size(), options.threads,
               [&](std::size_t i) { found[i] = asking.asked(places[i].first, places[i].second); });
  return found;
}

/// The devices as they hang, with the covariance of every candidate with them and with each other, narrowed
/// by each reading that is chosen.
class Choosing {
 public:
  Choosing(const Asking& asking, const std::vector<Asked>& candidates, std::size_t devices)
      : candidates_(candidates), devices_(static_cast<Eigen::Index>(devices)) {
    const auto count = static_cast<Eigen::Index>(candidates.size());
    common_.resize(count, count);
    for (Eigen::Index i = 0; i < count; ++i) {
      for (Eigen::Index j = 0; j <= i; ++j) {
        common_(i, j) = common_(j, i) = i == j ? at(i).spread_db2 : asking.common_db2(at(i), at(j));
      }
    }
    told_ = Eigen::VectorXd::Zero(devices_);
    taken_.assign(candidates.size(), false);
  }

  double doubt() const { return doubt(told_); }
  double deviation_db() const {
    return devices_ == 0 ? 0 : std::sqrt(common_.diagonal().head(devices_).mean());
  }

  /// The candidate that tells most, or nothing when none tells anything more.
  std::optional<std::size_t> best() const {
    std::optional<std::size_t> best;
    double least_doubt = doubt() - kWorthDoubt;
    double most_told = kWorthShare * common_.diagonal().head(devices_).sum();
    bool by_doubt = false;
    for (Eigen::Index c = 0; c < common_.rows(); ++c) {
      if (taken_[static_cast<std::size_t>(c)]) continue;
      const Eigen::VectorXd more = told_by(c);
      const double then = doubt(told_ + more);
      if (then < least_doubt) {
        least_doubt = then;
        by_doubt = true;
        best = static_cast<std::size_t>(c);
      } else if (!by_doubt && more.sum() > most_told) {
        most_told = more.sum();
        best = static_cast<std::size_t>(c);
      }
    }
    return best;
  }

  void take(std::size_t candidate) {
    const auto c = static_cast<Eigen::Index>(candidate);
    taken_[candidate] = true;
    told_ += told_by(c);
    const Eigen::VectorXd column = common_.col(c);
    common_ -= column * column.transpose() / read_db2(c);
  }

 private:
  const Asked& at(Eigen::Index i) const { return candidates_[static_cast<std::size_t>(i)]; }

  /// Variance of a reading there.
  double read_db2(Eigen::Index c) const { return common_(c, c) + std::pow(at(c).spread.spot_db, 2); }

  Eigen::VectorXd told_by(Eigen::Index c) const {
    return common_.col(c).head(devices_).cwiseAbs2() / read_db2(c);
  }

  double doubt(const Eigen::VectorXd& told) const {
    double sum = 0;
    for (Eigen::Index d = 0; d < devices_; ++d)
      sum += expected_doubt(at(d).lacks_db, at(d).spread_db2, told[d]);
    return sum;
  }

  const std::vector<Asked>& candidates_;  ///< the devices first
  Eigen::Index devices_;
  Eigen::MatrixXd common_;
  Eigen::VectorXd told_;  ///< of each device's variance
  std::vector<bool> taken_;
};

}  // namespace

ReadingAdvice reading_advice(const Site& site, const std::vector<Reading>& taken,
                             const ReadingAdviceOptions& options) {
  const Asking asking(site, taken, options);
  const std::vector<Asked> candidates = candidates_of(site, asking, taken, options);
  Choosing choosing(asking, candidates, site.devices.size());
  ReadingAdvice advice;
  advice.doubt = choosing.doubt();
  advice.deviation_db = choosing.deviation_db();
  for (int i = 0; i < options.count; ++i) {
    const auto best = choosing.best();
    if (!best) break;
    choosing.take(*best);
    const Asked& chosen = candidates[*best];
    const bool again = is_read(taken, site.devices[chosen.device].name, chosen.place);
    advice.readings.push_back({.device = site.devices[chosen.device].name,
                               .hub = chosen.hub,
                               .place = chosen.place,
                               .again = again,
                               .doubt = choosing.doubt(),
                               .deviation_db = choosing.deviation_db()});
  }
  return advice;
}

}  // namespace linkmargin
