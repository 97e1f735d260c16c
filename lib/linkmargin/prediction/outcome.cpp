#include "linkmargin/prediction/outcome.hpp"

#include "linkmargin/base/sure_probability.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

Outcome own_outcome(const Link& link, const ReadingScale& scale, const PresentReading* read) {
  if (read == nullptr) {
    if (link.own_hop_weak) return Outcome::weak;
    return link.pass_probability < kSureProbability ? Outcome::doubtful : Outcome::good;
  }
  const auto is_weak = [&](double percent) { return percent < scale.weak_below_percent; };
  if (is_weak(read->percent)) return Outcome::weak;
  return std::ranges::any_of(read->earlier_percent, is_weak) ? Outcome::doubtful : Outcome::good;
}

}  // namespace

Outcome outcome(const Link& link, const ReadingScale& scale, const PresentReadings& present) {
  Outcome own = own_outcome(link, scale, present.find(link.device));
  if (link.lacks_reserve) own = std::max(own, Outcome::doubtful);
  return link.onward ? std::max(own, outcome(*link.onward, scale, present)) : own;
}

}  // namespace linkmargin
