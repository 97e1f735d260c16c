#pragma once

#include "linkmargin/geometry/box.hpp"
#include "linkmargin/prediction/uncertainty/local_mean.hpp"
#include "linkmargin/prediction/uncertainty/reading_spread.hpp"
#include "linkmargin/propagation/fading/heavy_tail.hpp"

#include <cstddef>
#include <memory>
#include <vector>

namespace linkmargin {

/// What was read, off its prediction.
struct ReadingDeviation {
  ReadingKind kind = ReadingKind::exact;
  double read_db = 0;  ///< the bound of a reading that is one
  ReadingSpread spread;
};

/// What readings say of the local means near them: Gaussian-process regression (kriging) on what they lie off
/// the site's predictions. Near a reading the prediction moves towards it and gets surer; some correlation
/// lengths away, at either end of the link, it is the model's again. Outliers are held back and bounds count
/// as in calibration(). A quarter of a local mean's variance is taken to be another one the next day, and is
/// not learned. What a reading is worth for the spread is its information at the mean
/// (heavy_tail_information): a bound that the prediction keeps anyhow makes nothing surer.
///
/// Read-only after construction; safe to share between threads.
class ShadowingRegression {
 public:
  ShadowingRegression() = default;  ///< none: shifts nothing

  /// @param threads  >= 1; two at most are of use. Changes nothing in the result
  explicit ShadowingRegression(const std::vector<ReadingDeviation>& readings, int threads = 1);

  bool empty() const { return !found_; }
  std::size_t count() const;  ///< of the readings, those left out among them

  /// The same less one of the readings, for what was known of its place beside it. The others count as they
  /// did, outliers too.
  /// @param reading  its position
  /// @throws DomainError when there is none of that position, or one is left out already
  ShadowingRegression without(std::size_t reading) const;

  /// Whether the device of a reading was in a block: there the shift has a peak.
  bool any_in(const Box2& block) const;

  /// What is known of a link's local mean.
  /// @param sigma_db  of the link without readings; what calibration left open of the parameters is part of
  /// it
  /// @param local_db  the part of it that is a matter of the place: link.loss.sigma_db
  LocalMean at(Point3 device, Point3 hub, double sigma_db, double local_db) const;

  /// The shift of at() alone, which takes no triangular solution.
  double shift_db(Point3 device, Point3 hub, double local_db) const;

  /// What two local means share without readings, in dB^2; and what the readings tell of one, as causes of
  /// variance 1: the covariance that they leave is shared_db2() less the product of two told().
  double shared_db2(const ReadingSpread& a, const ReadingSpread& b) const;
  std::vector<double> told(const ReadingSpread& link) const;  ///< as many as readings; none without

 private:
  struct Found;
  std::shared_ptr<const Found> found_;
};

}  // namespace linkmargin
