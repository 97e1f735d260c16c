#pragma once

#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/site/site.hpp"

#include <cstddef>
#include <map>
#include <string>
#include <vector>

namespace linkmargin {

/// The parameters that a calibrated site is not sure of, with how they go together: what they leave open of
/// the level that a link reads at. Read-only after construction; safe to share between threads.
class ParameterSpread {
 public:
  /// Of the site's calibration, and of the rows of its table learned from readings of other sites; those go
  /// with nothing else.
  /// @param site sound: validate(site) is empty
  explicit ParameterSpread(const Site& site);

  /// Every parameter is sure: all links keep the spread of their path loss.
  bool empty() const { return covariance_.empty() && independent_.empty(); }

  /// J' C J, with C the covariance of the parameters and J the derivatives of the level, less the level that
  /// makes the reading:
  /// - offset: 1
  /// - exponent: -10 log10(distance / 1 m) times the share of the first item, where the site's model has one.
  ///   The straight distance, of kNearestM at least: ways round are longer by little
  /// - a material's shift: minus the sum of the shares of its items. What echoes lose by it is left out
  /// - zero and full of the reading's scale: -(1 - q) and -q
  /// @param reading_share  q, the reading predicted over 100: cut to 0..1
  double variance_db2(const LossBreakdown& loss, double reading_share) const;

  /// The spread of the level: that of the path loss, and the parameters' on top. That of the path loss, bit
  /// for bit, where every parameter is sure.
  /// @param level  predicted; where on the scale it reads tells what zero and full leave open
  double sigma_db(const LossBreakdown& loss, Dbm level) const;

 private:
  friend class ParameterCauses;
  std::vector<double> derivatives(const LossBreakdown& loss, double reading_share) const;

  ReadingScale scale_;
  bool has_exponent_ = false;
  std::map<std::string, std::size_t> rows_;    // of the calibration's materials in the covariance
  std::vector<double> covariance_;             // by parameters(), column by column; empty where all is sure
  std::map<std::string, double> independent_;  // variances of a table's rows, dB2
};

/// The same variance as a sum of squares: of causes that have nothing in common, each of variance 1. What two
/// links' levels share of the parameters is the product of their causes. Read-only after construction.
class ParameterCauses {
 public:
  explicit ParameterCauses(const ParameterSpread& spread);

  /// @param reading_share  as ParameterSpread::variance_db2() takes it
  std::vector<double> of(const LossBreakdown& loss, double reading_share) const;

 private:
  ParameterSpread spread_;
  std::vector<double> root_;  // of the covariance, column by column: root' root
};

}  // namespace linkmargin
