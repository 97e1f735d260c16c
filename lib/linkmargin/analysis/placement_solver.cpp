#include "linkmargin/analysis/placement_solver.hpp"

#include "linkmargin/analysis/placement_bits.hpp"
#include "linkmargin/analysis/placement_bound.hpp"
#include "linkmargin/analysis/placement_cover.hpp"
#include "linkmargin/base/range.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

constexpr std::int64_t kCoverNodes = 20'000;
constexpr int kBoundRounds = 400;

/// Whether a group's part may serve an item at all.
bool may_serve(const PlacementProblem& problem, std::uint32_t group, std::size_t item) {
  const auto& hub = problem.items[item].hub;
  return problem.groups[group].repeater || !hub || *hub == group;
}

/// What items have by some parts, repeaters taken to reach their hub.
struct Relaxed {
  std::vector<float> of_item;

  explicit Relaxed(std::size_t items) : of_item(items, -1) {}
  void take(const PlacementProblem& problem, PlacementPart part) {
    for (std::size_t i = 0; i < of_item.size(); ++i) {
      if (may_serve(problem, part.group, i)) of_item[i] = std::max(of_item[i], problem.chance(i, part));
    }
  }
};

/// The least and the sum that items would have with one part more.
struct Outcome {
  float worst = 1;
  double sum = 0;

  /// Whether a layout of such figures would be better: of two as good the first found stays.
  bool beats(const PlacementLayout& best) const {
    return worst > best.worst || (worst == best.worst && sum > best.sum);
  }
};

/// Parts with one place for a group more at every place, found row by row.
class LastPart {
 public:
  LastPart(const PlacementProblem& problem, const Relaxed& others, std::uint32_t group)
      : worst_(problem.groups[group].places, 1), sum_(problem.groups[group].places, 0) {
    for (std::size_t i = 0; i < problem.items.size(); ++i) {
      const float have = others.of_item[i];
      const float* row = &problem.groups[group].chances[i * worst_.size()];
      const bool may = may_serve(problem, group, i);
      for (std::size_t p = 0; p < worst_.size(); ++p) {
        const float value = may ? std::max(have, row[p]) : have;
        worst_[p] = std::min(worst_[p], value);
        sum_[p] += static_cast<double>(value);
      }
    }
  }
  Outcome at(std::size_t place) const { return {worst_[place], sum_[place]}; }
  std::size_t size() const { return worst_.size(); }

 private:
  std::vector<float> worst_;
  std::vector<double> sum_;
};

class Search {
 public:
  Search(const PlacementProblem& problem, const PlacementSolverOptions& options)
      : problem_(problem), options_(options), assignment_(problem), left_work_(options.work) {}

  PlacementSolution run();

 private:
  std::vector<int> counts_with(int repeaters) const;
  void start(const std::vector<int>& counts);
  void branch();
  void branch_on(std::size_t item);
  void branch_anywhere();
  void last_part(std::uint32_t group);
  void leaf();
  void weigh(const std::vector<PlacementPart>& parts);
  void renew_ways();
  bool spend(std::int64_t work);

  Relaxed relaxed() const {
    Relaxed found(problem_.items.size());
    for (const PlacementPart part : chosen_) found.take(problem_, part);
    return found;
  }
  bool hubs_left() const {
    for (std::size_t g = 0; g < left_.size(); ++g) {
      if (left_[g] > 0 && !problem_.groups[g].repeater) return true;
    }
    return false;
  }

  /// Puts a part of a group at each place in turn. A place that was tried is then closed: every layout with
  /// a part there has been seen.
  template <typename Places>
  void try_places(std::uint32_t group, const Places& places) {
    --left_[group];
    std::vector<std::uint32_t> closed;
    places.each([&](std::size_t place) {
      if (ended_ || !open_[group].has(place)) return;
      chosen_.push_back({group, static_cast<std::uint32_t>(place)});
      branch();
      chosen_.pop_back();
      open_[group].remove(place);
      closed.push_back(static_cast<std::uint32_t>(place));
    });
    for (const std::uint32_t place : closed) tried_.push_back({group, place});
    ++left_[group];
  }

  const PlacementProblem& problem_;
  const PlacementSolverOptions& options_;
  PlacementAssignment assignment_;
  std::int64_t left_work_;
  std::int64_t next_question_ = 0;
  bool ended_ = false;
  bool stopped_ = false;
  PlacementLayout best_;
  float bound_ = 1;
  double sum_bound_ = 0;

  // The branch that is looked at.
  std::vector<int> left_;
  std::vector<PlacementPart> chosen_;
  std::vector<PlacementBits> open_;               ///< places not yet tried, by group
  std::vector<PlacementPart> tried_;              ///< closed, the latest last
  std::vector<std::vector<PlacementBits>> ways_;  ///< by group and item: places with at least ways_level_
  std::vector<std::vector<float>> greatest_;      ///< by group and item
  float ways_level_ = -2;
};

/// Tells whether there is work left; asks now and then whether to stop.
bool Search::spend(std::int64_t work) {
  left_work_ -= work;
  if (left_work_ < 0) ended_ = true;
  if (options_.stop && left_work_ < next_question_) {
    next_question_ = left_work_ - 3'000'000;
    if (options_.stop()) stopped_ = ended_ = true;
  }
  return !ended_;
}

std::vector<int> Search::counts_with(int repeaters) const {
  std::vector<int> counts;
  for (const PlacementGroup& group : problem_.groups) {
    counts.push_back(group.repeater ? std::min(group.count, repeaters) : group.count);
    if (group.repeater) repeaters -= counts.back();
  }
  return counts;
}

void Search::weigh(const std::vector<PlacementPart>& parts) {
  PlacementLayout found = assignment_.best(parts, best_.worst);
  if (better(found, best_)) best_ = std::move(found);
}

/// Layouts to begin with: of covers, and of the best so far with one part more, each bettered.
void Search::start(const std::vector<int>& counts) {
  const CoverBound cover = cover_bound(problem_, counts, best_.worst, kCoverNodes);
  bound_ = cover.at_most;
  std::vector<std::vector<PlacementPart>> starts;
  if (best_.exists()) starts.push_back(best_.parts);
  const std::size_t first = cover.covers.size() - std::min<std::size_t>(cover.covers.size(), 3);
  for (std::size_t i = first; i < cover.covers.size(); ++i) starts.push_back(cover.covers[i]);
  starts.emplace_back();
  for (std::vector<PlacementPart> parts : starts) {
    std::vector<int> left = counts;
    for (const PlacementPart part : parts) --left[part.group];
    for (std::uint32_t g = 0; g < counts.size(); ++g) {
      if (problem_.groups[g].places == 0) continue;
      for (; left[g] > 0; --left[g]) {  // where it brings most
        Relaxed others(problem_.items.size());
        for (const PlacementPart part : parts) others.take(problem_, part);
        const LastPart last(problem_, others, g);
        std::uint32_t best = 0;
        for (std::uint32_t p = 1; p < last.size(); ++p) {
          const Outcome here = last.at(p);
          const Outcome there = last.at(best);
          if (here.sum > there.sum) best = p;
        }
        parts.push_back({g, best});
      }
    }
    PlacementLayout layout = bettered_placement(problem_, assignment_.best(parts));
    if (better(layout, best_)) best_ = std::move(layout);
    if (!spend(1'000'000)) return;
  }
}

void Search::renew_ways() {
  if (ways_level_ == best_.worst) return;
  ways_level_ = best_.worst;
  ways_.assign(problem_.groups.size(), {});
  greatest_.assign(problem_.groups.size(), {});
  for (std::uint32_t g = 0; g < problem_.groups.size(); ++g) {
    const std::size_t places = problem_.groups[g].places;
    for (std::size_t i = 0; i < problem_.items.size(); ++i) {
      PlacementBits ways(places);
      float greatest = -1;
      for (std::uint32_t p = 0; may_serve(problem_, g, i) && p < places; ++p) {
        const float chance = problem_.chance(i, {g, p});
        if (chance >= ways_level_) ways.add(p);
        greatest = std::max(greatest, chance);
      }
      ways_[g].push_back(std::move(ways));
      greatest_[g].push_back(greatest);
    }
  }
  spend(static_cast<std::int64_t>(problem_.items.size() * 1000));
}

void Search::leaf() {
  Outcome outcome;
  const Relaxed have = relaxed();
  for (const float value : have.of_item) {
    outcome.worst = std::min(outcome.worst, value);
    outcome.sum += static_cast<double>(value);
  }
  if (!outcome.beats(best_)) return;
  spend(static_cast<std::int64_t>(problem_.items.size() * 20));
  weigh(chosen_);
}

void Search::last_part(std::uint32_t group) {
  const Relaxed have = relaxed();
  PlacementBits places = open_[group];
  for (std::size_t i = 0; i < problem_.items.size(); ++i) {
    if (have.of_item[i] < best_.worst) places &= ways_[group][i];
  }
  if (!spend(static_cast<std::int64_t>(problem_.groups[group].places / 4 + problem_.items.size()))) return;
  const auto many = static_cast<std::int64_t>(places.count());
  if (many == 0 || !spend(many * static_cast<std::int64_t>(problem_.items.size()))) return;
  const auto weigh_at = [&](std::size_t place, const Outcome& outcome) {
    if (!outcome.beats(best_)) return;
    chosen_.push_back({group, static_cast<std::uint32_t>(place)});
    spend(static_cast<std::int64_t>(problem_.items.size() * 20));
    weigh(chosen_);
    chosen_.pop_back();
  };
  if (static_cast<std::size_t>(many) * 8 > problem_.groups[group].places) {
    const LastPart last(problem_, have, group);
    places.each([&](std::size_t place) { weigh_at(place, last.at(place)); });
    return;
  }
  places.each([&](std::size_t place) {
    Outcome outcome;
    for (std::size_t i = 0; i < problem_.items.size(); ++i) {
      float value = have.of_item[i];
      if (may_serve(problem_, group, i))
        value = std::max(value, problem_.chance(i, {group, static_cast<std::uint32_t>(place)}));
      outcome.worst = std::min(outcome.worst, value);
      outcome.sum += static_cast<double>(value);
    }
    weigh_at(place, outcome);
  });
}

void Search::branch_on(std::size_t item) {
  const std::size_t mark = tried_.size();
  for (std::uint32_t g = 0; g < left_.size() && !ended_; ++g) {
    if (left_[g] > 0) try_places(g, PlacementBits(ways_[g][item]));
  }
  for (; tried_.size() > mark; tried_.pop_back()) open_[tried_.back().group].add(tried_.back().place);
}

void Search::branch_anywhere() {
  for (const bool repeater : {false, true}) {
    for (std::uint32_t g = 0; g < left_.size(); ++g) {
      if (left_[g] == 0 || problem_.groups[g].repeater != repeater) continue;
      const std::size_t mark = tried_.size();
      try_places(g, PlacementBits::all(problem_.groups[g].places));
      for (; tried_.size() > mark; tried_.pop_back()) open_[tried_.back().group].add(tried_.back().place);
      return;
    }
  }
}

void Search::branch() {
  renew_ways();
  if (!spend(static_cast<std::int64_t>(problem_.items.size()))) return;
  int left = 0;
  for (const int count : left_) left += count;
  if (!hubs_left()) leaf();
  if (left == 0) return;
  const Relaxed have = relaxed();
  Outcome most;
  std::size_t hardest = problem_.items.size();
  std::size_t fewest = 0;
  for (std::size_t i = 0; i < problem_.items.size(); ++i) {
    float value = have.of_item[i];
    for (std::size_t g = 0; g < left_.size(); ++g) {
      if (left_[g] > 0) value = std::max(value, greatest_[g][i]);
    }
    most.worst = std::min(most.worst, value);
    most.sum += static_cast<double>(value);
  }
  if (!most.beats(best_)) return;
  if (left == 1) {
    for (std::uint32_t g = 0; g < left_.size(); ++g) {
      if (left_[g] > 0) return last_part(g);
    }
  }
  for (std::size_t i = 0; i < problem_.items.size(); ++i) {
    if (have.of_item[i] >= best_.worst) continue;
    std::size_t ways = 0;
    for (std::size_t g = 0; g < left_.size(); ++g) {
      if (left_[g] > 0) ways += ways_[g][i].count_shared(open_[g]);
    }
    spend(static_cast<std::int64_t>(open_.size() * open_[0].count() / 64 + 1));
    if (hardest == problem_.items.size() || ways < fewest) {
      hardest = i;
      fewest = ways;
    }
  }
  if (hardest < problem_.items.size()) {
    branch_on(hardest);
  } else {
    branch_anywhere();
  }
}

PlacementSolution Search::run() {
  PlacementSolution solution;
  int hubs = 0;
  int repeaters = 0;
  std::vector<PlacementPart> all_hubs;
  bool places = true;
  for (std::uint32_t g = 0; g < problem_.groups.size(); ++g) {
    const PlacementGroup& group = problem_.groups[g];
    (group.repeater ? repeaters : hubs) += group.count;
    if (group.repeater) continue;
    places = places && (group.places > 0 || group.count == 0);
    for (int i = 0; i < group.count; ++i) all_hubs.push_back({g, 0});
  }
  if (hubs > kMostPlacedHubs || repeaters > kMostPlacedRepeaters)
    throw DomainError("more than " + std::to_string(kMostPlacedHubs) + " hubs or " +
                      std::to_string(kMostPlacedRepeaters) + " repeaters cannot be placed at once");
  solution.missing_slots = assignment_.missing_slots(all_hubs);
  if (!places || solution.missing_slots > 0 || all_hubs.empty()) return solution;
  if (hubs == 1 && repeaters == 0) {  // every place is looked at
    solution.best = moved_part(problem_, all_hubs, 0, {});
    solution.status = PlacementStatus::optimal;
    solution.worst_bound = solution.best.worst;
    solution.sum_bound = solution.best.sum;
    return solution;
  }
  for (int with = 0; with <= repeaters && !ended_; ++with) {
    const std::vector<int> counts = counts_with(with);
    start(counts);
    left_ = counts;
    for (std::size_t g = 0; g < left_.size(); ++g) {
      if (problem_.groups[g].places == 0) left_[g] = 0;
    }
    chosen_.clear();
    tried_.clear();
    open_.clear();
    for (const PlacementGroup& group : problem_.groups) open_.push_back(PlacementBits::all(group.places));
    const std::int64_t before = left_work_;
    if (with < repeaters) left_work_ /= 8;  // the rest is for the full number
    const std::int64_t share = left_work_;
    next_question_ = left_work_;
    if (!ended_) branch();
    if (with < repeaters) {
      const bool used_up = left_work_ < 0;
      left_work_ += before - share;
      next_question_ = left_work_;
      if (used_up && !stopped_) ended_ = false;
    }
  }
  solution.best = best_;
  if (!best_.exists()) {
    solution.status = stopped_ ? PlacementStatus::stopped : PlacementStatus::infeasible;
    return solution;
  }
  if (!ended_) {
    solution.status = PlacementStatus::optimal;
    solution.worst_bound = best_.worst;
    solution.sum_bound = best_.sum;
    return solution;
  }
  solution.status = stopped_ ? PlacementStatus::stopped : PlacementStatus::bounded;
  solution.worst_bound = std::max(bound_, best_.worst);
  solution.sum_bound = static_cast<double>(problem_.items.size());
  if (!stopped_ && best_.worst >= solution.worst_bound)
    solution.sum_bound = std::max(
        best_.sum, sum_bound(problem_, counts_with(repeaters), best_.worst, best_.sum, kBoundRounds));
  return solution;
}

}  // namespace

PlacementLayout moved_part(const PlacementProblem& problem, const std::vector<PlacementPart>& parts,
                           std::size_t part, PlacementLayout floor, const LayoutFilter& may) {
  const PlacementAssignment assignment(problem);
  Relaxed others(problem.items.size());
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (i != part) others.take(problem, parts[i]);
  }
  const LastPart last(problem, others, parts[part].group);
  std::vector<PlacementPart> tried = parts;
  for (std::uint32_t p = 0; p < last.size(); ++p) {
    if (!last.at(p).beats(floor)) continue;
    tried[part].place = p;
    if (may && !may(tried)) continue;
    PlacementLayout found = assignment.best(tried, floor.worst);
    if (better(found, floor)) floor = std::move(found);
  }
  return floor;
}

PlacementLayout bettered_placement(const PlacementProblem& problem, PlacementLayout layout,
                                   const LayoutFilter& may) {
  if (!layout.exists()) return layout;
  for (bool moved = true; moved;) {
    moved = false;
    for (std::size_t part = 0; part < layout.parts.size(); ++part) {
      PlacementLayout next = moved_part(problem, layout.parts, part, layout, may);
      moved = moved || better(next, layout);
      layout = std::move(next);
    }
  }
  return layout;
}

PlacementSolution solve_placement(const PlacementProblem& problem, const PlacementSolverOptions& options) {
  return Search(problem, options).run();
}

}  // namespace linkmargin
