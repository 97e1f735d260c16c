#pragma once

#include "linkmargin/analysis/visit/visit_effort.hpp"
#include "linkmargin/base/range.hpp"

#include <cstddef>
#include <functional>
#include <optional>
#include <span>
#include <vector>

/// The choice of remedies as numbers alone. What is done to shared equipment is a set; once a set is taken,
/// the devices have no more to do with each other, and each has options of its own.
namespace linkmargin {

/// One thing to do, or nothing, for one device.
struct VisitOption {
  VisitEffort effort;
  double chance = 0;       ///< [0, 1], of reaching the threshold
  double near_chance = 0;  ///< [0, 1], the same were its level 1 dB higher
  bool met = false;        ///< it has the chance asked for, and nothing else is short
};

/// The options of each device under a set.
using VisitOptions = std::vector<std::vector<VisitOption>>;

/// A set with an option for each device.
struct VisitChoice {
  std::size_t set = 0;
  std::vector<std::size_t> option;  ///< of each device
  int unmet = 0;                    ///< devices short of what was asked for
  int shortfall = 0;   ///< of these, what they lack of the chance, in whole steps of kShortfallStep
  VisitEffort effort;  ///< of the set and all options
  double sum = 0;      ///< of the chances
  std::vector<VisitOption> taken;  ///< the options themselves

  /// Fewer devices short, then less that they lack, then less effort, then a greater sum.
  bool is_better_than(const VisitChoice& other) const;
};

inline constexpr double kShortfallStep = 0.1;

/// Something dearer is worth it where it raises the chance of some device by this, and by more than 1 dB
/// would: the same as in `place` (kWorthMovingChance).
inline constexpr double kWorthVisitChance = 0.03;

/// A hole is drilled, and a part bought, for no device that then still has less chance than this: it would
/// more likely be short than not.
inline constexpr double kLikelyVisitChance = 0.5;

/// Two parts more, or a hub, are bought for no device that has this chance without them: a reading settles it
/// first (common practice).
inline constexpr double kFairVisitChance = 0.8;

/// The set of changes chosen for a visit, and how far the others were looked at.
struct VisitChoices {
  std::optional<VisitChoice> best;  ///< nothing where no set is allowed
  std::size_t tried = 0;            ///< sets whose options were asked for
  std::size_t sets = 0;             ///< of all
  /// Nothing is better among all sets; else the search reached its limit.
  bool proved = false;
  /// Where not proved: every set of less effort than this was tried.
  VisitEffort tried_below;
};

/// The options of a set; nothing where the set is not allowed, since it harms some other device.
using VisitOptionsCall = std::function<std::optional<VisitOptions>(std::size_t set)>;

/// The best choice that is worth its effort. Sets are taken in order of their effort, until all devices have
/// what was asked for and further sets alone cost more than that.
///
/// - Of a device's own options one with more holes counts only where it is worth it over every one with
///   fewer (is_worth_more()).
/// - Of the best choices for each number of parts and holes, the cheapest is taken; a dearer one in its place
///   where it is better and worth it over that for some device. A part is bought only for a device that then
///   has what was asked for, two and more only for one that has less than kFairVisitChance without.
/// @param efforts    of the sets
/// @param asked      the chance asked for, (0, 1]
/// @param most_sets  whose options are asked for; >= 1
VisitChoices visit_choice(std::span<const VisitEffort> efforts, double asked, const VisitOptionsCall& options,
                          std::size_t most_sets);

/// Whether a dearer option is worth it over a cheaper one.
bool is_worth_more(const VisitOption& dearer, const VisitOption& than);

}  // namespace linkmargin
