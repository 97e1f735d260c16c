#include "linkmargin/propagation/material/leakage.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {

double with_leakage_db(double through_db, double leakage_db) {
  require_in(kThroughDb, through_db);
  require_in(kLeakage, leakage_db);
  const double less_db = std::min(through_db, leakage_db);
  const double more_db = std::max(through_db, leakage_db);
  const double sum_db = less_db - 10 * std::log1p(std::pow(10, (less_db - more_db) / 10)) / std::log(10.0);
  return std::max(0.0, sum_db);
}

}  // namespace linkmargin
