#include "linkmargin/analysis/placement/solver/placement_search.hpp"

#include <algorithm>

namespace linkmargin {

bool PlacementWork::spend(std::int64_t work) {
  constexpr std::int64_t between_questions = 3'000'000;
  left_ -= work;
  if (left_ < 0) ended_ = true;
  if (stop_ && left_ < next_question_) {
    next_question_ = left_ - between_questions;
    if (stop_()) stopped_ = ended_ = true;
  }
  return !ended_;
}

std::int64_t PlacementWork::set_aside(std::int64_t share) {
  const std::int64_t aside = left_ - left_ / share;
  left_ -= aside;
  return aside;
}

void PlacementWork::give_back(std::int64_t work) {
  left_ = std::max<std::int64_t>(left_, 0) + work;
  next_question_ = INT64_MAX;
  if (!stopped_) ended_ = false;
}

void PlacementSearch::run(const std::vector<int>& counts, PlacementLayout& best) {
  best_ = std::move(best);
  left_ = counts;
  chosen_.clear();
  tried_.clear();
  open_.clear();
  for (std::size_t g = 0; g < counts.size(); ++g) {
    open_.push_back(PlacementBits::all(problem_.groups[g].places));
    if (problem_.groups[g].places == 0) left_[g] = 0;
  }
  if (!work_.ended()) branch();
  best = std::move(best_);
}

bool PlacementSearch::any_left(bool repeaters) const {
  for (std::size_t g = 0; g < left_.size(); ++g) {
    if (left_[g] > 0 && problem_.groups[g].repeater == repeaters) return true;
  }
  return false;
}

void PlacementSearch::weigh(const std::vector<PlacementPart>& parts) {
  work_.spend(static_cast<std::int64_t>(problem_.items.size() * 20));
  PlacementLayout found = assignment_.best(parts, best_.worst);
  if (better(found, best_)) best_ = std::move(found);
}

void PlacementSearch::renew_ways() {
  if (level_ == best_.worst) return;
  level_ = best_.worst;
  ways_.assign(problem_.groups.size(), {});
  count_.assign(problem_.groups.size(), {});
  serves_.assign(problem_.groups.size(), {});
  greatest_.assign(problem_.groups.size(), {});
  for (std::uint32_t g = 0; g < problem_.groups.size(); ++g) {
    const std::size_t places = problem_.groups[g].places;
    serves_[g].assign(places, PlacementBits(problem_.items.size()));
    for (std::size_t i = 0; i < problem_.items.size(); ++i) {
      PlacementBits ways(places);
      float greatest = -1;
      for (std::uint32_t p = 0; may_serve(problem_, g, i) && p < places; ++p) {
        const float chance = problem_.chance(i, {g, p});
        if (chance >= level_) {
          ways.add(p);
          serves_[g][p].add(i);
        }
        greatest = std::max(greatest, chance);
      }
      count_[g].push_back(ways.count());
      ways_[g].push_back(std::move(ways));
      greatest_[g].push_back(greatest);
    }
    work_.spend(static_cast<std::int64_t>(problem_.items.size() * places));
  }
}

/// Where a hub, or a repeater, would give a hop of the level to or from a part.
PlacementBits PlacementSearch::hop_places(PlacementPart from, std::uint32_t group, bool from_repeater) const {
  PlacementBits places(problem_.groups[group].places);
  const std::vector<float>& row = problem_.hops(from, group, from_repeater);
  for (std::size_t p = 0; p < row.size(); ++p) {
    if (row[p] >= level_) places.add(p);
  }
  work_.spend(static_cast<std::int64_t>(row.size()));
  return places;
}

bool PlacementSearch::reaches_hub(PlacementPart repeater, bool by_another) const {
  return std::ranges::any_of(chosen_, [&](PlacementPart other) {
    if (other == repeater) return false;
    if (!problem_.groups[other.group].repeater) return problem_.hop(repeater, other) >= level_;
    return by_another && problem_.hop(repeater, other) >= level_ && reaches_hub(other, false);
  });
}

PlacementSearch::Wanted PlacementSearch::wanted(const RelaxedChances& have) const {
  Wanted wanted{PlacementBits(problem_.items.size()), {}};
  for (std::size_t i = 0; i < problem_.items.size(); ++i) {
    if (have.of_item[i] < level_) wanted.items.add(i);
  }
  if (!problem_.hops) return wanted;
  for (const PlacementPart part : chosen_) {
    if (problem_.groups[part.group].repeater && !reaches_hub(part, problem_.most_hops > 1))
      wanted.repeaters.push_back(part);
  }
  return wanted;
}

/// The places of a group of repeaters from which a chosen hub is reached.
PlacementBits PlacementSearch::reached_places(std::uint32_t repeaters) const {
  PlacementBits places(problem_.groups[repeaters].places);
  for (const PlacementPart part : chosen_) {
    const bool hub = !problem_.groups[part.group].repeater;
    if (hub || (problem_.most_hops > 1 && reaches_hub(part, false)))
      places |= hop_places(part, repeaters, false);
  }
  return places;
}

/// The most of some items that the parts left can serve.
std::size_t PlacementSearch::most_served(const PlacementBits& items) const {
  std::size_t sum = 0;
  for (std::size_t g = 0; g < left_.size(); ++g) {
    if (left_[g] == 0) continue;
    std::size_t most = 0;
    for (const PlacementBits& serves : serves_[g]) most = std::max(most, serves.count_shared(items));
    sum += most * static_cast<std::size_t>(left_[g]);
    work_.spend(static_cast<std::int64_t>(4 * serves_[g].size()));
  }
  return sum;
}

void PlacementSearch::leaf(const RelaxedChances& have) {
  RelaxedOutcome outcome{problem_.target_probability};
  for (const float value : have.of_item) outcome.take(value);
  if (outcome.beats(best_)) weigh(chosen_);
}

void PlacementSearch::last_part(std::uint32_t group, const Wanted& wanted) {
  PlacementBits places = open_[group];
  wanted.items.each([&](std::size_t item) { places &= ways_[group][item]; });
  if (!work_.spend(static_cast<std::int64_t>(problem_.groups[group].places / 8 + problem_.items.size())))
    return;
  if (places.empty()) return;
  if (problem_.hops) {
    for (const PlacementPart repeater : wanted.repeaters) {
      if (problem_.groups[group].repeater && problem_.most_hops < 2) return;
      places &= hop_places(repeater, group, true);
    }
    if (problem_.groups[group].repeater) places &= reached_places(group);
  }
  const RelaxedChances have(problem_, chosen_);
  if (!work_.spend(static_cast<std::int64_t>(places.count() * problem_.items.size()))) return;
  places.each([&](std::size_t place) {
    const PlacementPart part{group, static_cast<std::uint32_t>(place)};
    RelaxedOutcome outcome{problem_.target_probability};
    for (std::size_t i = 0; i < problem_.items.size(); ++i) {
      const float value = have.of_item[i];
      outcome.take(may_serve(problem_, group, i) ? std::max(value, problem_.chance(i, part)) : value);
    }
    if (!outcome.beats(best_)) return;
    chosen_.push_back(part);
    weigh(chosen_);
    chosen_.pop_back();
  });
}

/// Puts a part of a group at each place in turn. A place that was tried is then closed: every layout with a
/// part there that could be better has been seen.
void PlacementSearch::try_places(std::uint32_t group, const PlacementBits& places,
                                 const PlacementBits& items) {
  --left_[group];
  const std::size_t most = most_served(items);
  std::vector<std::uint32_t> closed;
  places.each([&](std::size_t place) {
    if (work_.ended() || !open_[group].has(place)) return;
    closed.push_back(static_cast<std::uint32_t>(place));
    const bool enough = items.count() - serves_[group][place].count_shared(items) <= most;
    if (enough) {
      chosen_.push_back({group, static_cast<std::uint32_t>(place)});
      branch();
      chosen_.pop_back();
    }
    open_[group].remove(place);
  });
  work_.spend(static_cast<std::int64_t>(8 * closed.size()));
  for (const std::uint32_t place : closed) tried_.push_back({group, place});
  ++left_[group];
}

void PlacementSearch::reopen(std::size_t mark) {
  for (; tried_.size() > mark; tried_.pop_back()) open_[tried_.back().group].add(tried_.back().place);
}

/// On what the fewest places serve: an item, or a repeater without a hub.
void PlacementSearch::branch_on(const Wanted& wanted) {
  std::size_t fewest = SIZE_MAX;
  std::vector<PlacementBits> places(left_.size());
  std::size_t hardest = SIZE_MAX;
  wanted.items.each([&](std::size_t item) {
    std::size_t ways = 0;
    for (std::size_t g = 0; g < left_.size(); ++g) ways += left_[g] > 0 ? count_[g][item] : 0;
    if (ways >= fewest) return;
    fewest = ways;
    hardest = item;
  });
  if (hardest != SIZE_MAX) {
    for (std::size_t g = 0; g < left_.size(); ++g) places[g] = ways_[g][hardest];
  }
  for (const PlacementPart repeater : wanted.repeaters) {
    std::vector<PlacementBits> of_group;
    std::size_t ways = 0;
    for (std::uint32_t g = 0; g < left_.size(); ++g) {
      const bool may = left_[g] > 0 && (!problem_.groups[g].repeater || problem_.most_hops > 1);
      of_group.push_back(may ? hop_places(repeater, g, true) : PlacementBits(problem_.groups[g].places));
      ways += may ? of_group.back().count() : 0;
    }
    if (ways >= fewest) continue;
    fewest = ways;
    places = std::move(of_group);
  }
  const std::size_t mark = tried_.size();
  for (std::uint32_t g = 0; g < left_.size() && !work_.ended(); ++g) {
    if (left_[g] > 0) try_places(g, places[g], wanted.items);
  }
  reopen(mark);
}

/// Where all is well already: any place of a hub that is left, else of a repeater.
void PlacementSearch::branch_anywhere() {
  for (const bool repeater : {false, true}) {
    for (std::uint32_t g = 0; g < left_.size(); ++g) {
      if (left_[g] == 0 || problem_.groups[g].repeater != repeater) continue;
      const std::size_t mark = tried_.size();
      try_places(g, PlacementBits::all(problem_.groups[g].places), PlacementBits(problem_.items.size()));
      reopen(mark);
      return;
    }
  }
}

void PlacementSearch::branch() {
  renew_ways();
  if (!work_.spend(static_cast<std::int64_t>(2 * problem_.items.size()))) return;
  const RelaxedChances have(problem_, chosen_);
  if (!any_left(false)) leaf(have);
  if (!any_left(false) && !any_left(true)) return;
  RelaxedOutcome most{problem_.target_probability};
  for (std::size_t i = 0; i < problem_.items.size(); ++i) {
    float value = have.of_item[i];
    for (std::size_t g = 0; g < left_.size(); ++g) {
      if (left_[g] > 0) value = std::max(value, greatest_[g][i]);
    }
    most.take(value);
  }
  if (!most.beats(best_)) return;
  const Wanted lacking = wanted(have);
  if (!lacking.repeaters.empty() && !any_left(false) && problem_.most_hops < 2) return;
  int left = 0;
  std::uint32_t last = 0;
  for (std::uint32_t g = 0; g < left_.size(); ++g) {
    left += left_[g];
    if (left_[g] > 0) last = g;
  }
  if (left == 1) {
    last_part(last, lacking);
  } else if (lacking.items.empty() && lacking.repeaters.empty()) {
    branch_anywhere();
  } else {
    branch_on(lacking);
  }
}

}  // namespace linkmargin
