#pragma once

#include <cmath>
#include <cstddef>

namespace linkmargin::validation {

/// How far computed values lie from reference values.
class Deviations {
 public:
  void add(double computed, double reference) {
    const double apart = computed - reference;
    ++count_;
    sum_ += apart;
    squares_ += apart * apart;
    if (!(std::abs(apart) <= worst_)) worst_ = std::abs(apart);  // NaN is kept
  }

  std::size_t count() const { return count_; }
  double mean() const { return count_ == 0 ? 0 : sum_ / static_cast<double>(count_); }
  double rms() const { return count_ == 0 ? 0 : std::sqrt(squares_ / static_cast<double>(count_)); }
  double worst() const { return worst_; }

 private:
  std::size_t count_ = 0;
  double sum_ = 0;
  double squares_ = 0;
  double worst_ = 0;
};

}  // namespace linkmargin::validation
