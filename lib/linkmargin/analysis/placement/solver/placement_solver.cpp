#include "linkmargin/analysis/placement/solver/placement_solver.hpp"

#include "linkmargin/analysis/placement/solver/placement_assignment.hpp"
#include "linkmargin/analysis/placement/solver/placement_bound.hpp"
#include "linkmargin/analysis/placement/solver/placement_cover.hpp"
#include "linkmargin/analysis/placement/solver/placement_search.hpp"
#include "linkmargin/base/range.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace linkmargin {
namespace {

/// How the work is shared out: assumptions, all of them. Of 300 random problems (up to 10 items and 25
/// places, a small part of the usual work) doubling and halving each changes no answer, but for kCoverStarts:
/// 7 and 10 answers.
constexpr std::int64_t kCoverNodes = 20'000;
constexpr int kBoundRounds = 400;
constexpr std::size_t kCoverStarts = 3;
constexpr int kNarrowings = 6;
constexpr std::int64_t kShareOfNarrowing = 24;
constexpr std::int64_t kStartWork = 1'000'000;

/// Fewer repeaters than asked for get this part of the work at most.
constexpr std::int64_t kShareOfFewer = 8;

/// The rounds of a search: without repeaters, then with one more each time.
class Rounds {
 public:
  Rounds(const PlacementProblem& problem, const PlacementSolverOptions& options)
      : problem_(problem), work_(options.work, options.stop), assignment_(problem), search_(problem, work_) {}

  PlacementSolution run();

 private:
  std::vector<int> counts_with(int repeaters) const;
  void start(const std::vector<int>& counts);
  void narrow(const std::vector<int>& counts);
  std::vector<PlacementPart> completed(std::vector<PlacementPart> parts,
                                       const std::vector<int>& counts) const;
  PlacementSolution told(PlacementSolution solution, int repeaters);

  const PlacementProblem& problem_;
  PlacementWork work_;
  PlacementAssignment assignment_;
  PlacementSearch search_;
  PlacementLayout best_;
  float bound_ = 1;
};

std::vector<int> Rounds::counts_with(int repeaters) const {
  std::vector<int> counts;
  for (const PlacementGroup& group : problem_.groups) {
    counts.push_back(group.repeater ? std::min(group.count, repeaters) : group.count);
    if (group.repeater) repeaters -= counts.back();
  }
  return counts;
}

/// With the parts that are missing, each where it brings most.
std::vector<PlacementPart> Rounds::completed(std::vector<PlacementPart> parts,
                                             const std::vector<int>& counts) const {
  std::vector<int> left = counts;
  for (const PlacementPart part : parts) --left[part.group];
  for (std::uint32_t g = 0; g < counts.size(); ++g) {
    if (problem_.groups[g].places == 0) continue;
    for (; left[g] > 0; --left[g]) {
      const RelaxedLastPart last(problem_, {problem_, parts}, g);
      std::uint32_t best = 0;
      for (std::uint32_t p = 1; p < last.size(); ++p) {
        if (last.at(p).sum > last.at(best).sum) best = p;
      }
      parts.push_back({g, best});
    }
  }
  return parts;
}

/// Layouts to begin with: of covers, and of the best so far with one part more, each bettered.
void Rounds::start(const std::vector<int>& counts) {
  const CoverBound cover = cover_bound(problem_, counts, best_.worst, kCoverNodes, work_.stop());
  bound_ = cover.at_most;
  std::vector<std::vector<PlacementPart>> starts;
  if (best_.exists()) starts.push_back(best_.parts);
  const std::size_t first = cover.covers.size() - std::min<std::size_t>(cover.covers.size(), kCoverStarts);
  for (std::size_t i = first; i < cover.covers.size(); ++i) starts.push_back(cover.covers[i]);
  starts.emplace_back();
  for (std::vector<PlacementPart>& parts : starts) {
    PlacementLayout layout =
        bettered_placement(problem_, assignment_.best(completed(std::move(parts), counts)));
    if (better(layout, best_)) best_ = std::move(layout);
    if (!work_.spend(kStartWork)) return;
  }
}

/// Brings the bound and the best nearer to each other: asks whether any layout exceeds a level between them.
/// A high level leaves few places, so that the answer is often no before long.
void Rounds::narrow(const std::vector<int>& counts) {
  float asked = bound_;
  for (int round = 0; round < kNarrowings && best_.worst < bound_ && !work_.stopped(); ++round) {
    const float from = asked < bound_ ? asked : best_.worst;
    const auto middle = static_cast<float>(
        1 - std::sqrt((1 - static_cast<double>(from)) * (1 - static_cast<double>(bound_))));
    if (!(middle > best_.worst) || !(middle < bound_)) return;
    const std::int64_t aside = work_.set_aside(kShareOfNarrowing);
    PlacementLayout found;
    found.worst = middle;
    found.sum = std::numeric_limits<double>::infinity();
    search_.run(counts, found);
    const bool complete = !work_.ended();
    work_.give_back(aside);
    if (!found.parts.empty()) {
      best_ = bettered_placement(problem_, std::move(found));
      asked = bound_;
    } else if (complete) {
      bound_ = middle;
      asked = bound_;
    } else {
      asked = middle;  // not known: the next level lies above
    }
  }
}

PlacementSolution Rounds::run() {
  PlacementSolution solution;
  int repeaters = 0;
  std::vector<PlacementPart> hubs;
  bool places = true;
  for (std::uint32_t g = 0; g < problem_.groups.size(); ++g) {
    const PlacementGroup& group = problem_.groups[g];
    repeaters += group.repeater ? group.count : 0;
    if (group.repeater) continue;
    places = places && (group.places > 0 || group.count == 0);
    hubs.insert(hubs.end(), static_cast<std::size_t>(group.count), PlacementPart{g, 0});
  }
  if (hubs.size() > kMostPlacedHubs || repeaters > kMostPlacedRepeaters)
    throw DomainError("more than " + std::to_string(kMostPlacedHubs) + " hubs or " +
                      std::to_string(kMostPlacedRepeaters) + " repeaters cannot be placed at once");
  solution.missing_slots = assignment_.missing_slots(hubs);
  if (!places || solution.missing_slots > 0 || hubs.empty()) return solution;
  if (hubs.size() == 1 && repeaters == 0) {  // every place is looked at
    best_ = moved_part(problem_, hubs, 0, {});
    return told(solution, 0);
  }
  bound_ = problem_.target_probability;
  for (int with = 0; with <= repeaters && !work_.ended(); ++with) {
    const std::vector<int> counts = counts_with(with);
    const std::int64_t aside = with < repeaters ? work_.set_aside(kShareOfFewer) : 0;
    start(counts);
    if (with == repeaters) narrow(counts);
    search_.run(counts, best_);
    if (with < repeaters) work_.give_back(aside);
  }
  return told(solution, repeaters);
}

PlacementSolution Rounds::told(PlacementSolution solution, int repeaters) {
  solution.best = best_;
  if (!work_.ended()) {
    solution.status = PlacementStatus::optimal;
    solution.worst_bound = best_.worst;
    solution.sum_bound = best_.sum;
    return solution;
  }
  solution.status = work_.stopped() ? PlacementStatus::stopped : PlacementStatus::bounded;
  solution.worst_bound = std::max(bound_, best_.worst);
  solution.sum_bound = static_cast<double>(problem_.items.size());
  if (!work_.stopped() && best_.worst >= solution.worst_bound) {
    solution.sum_bound = std::max(
        best_.sum, sum_bound(problem_, counts_with(repeaters), best_.worst, best_.sum, kBoundRounds));
  }
  return solution;
}

}  // namespace

PlacementLayout moved_part(const PlacementProblem& problem, const std::vector<PlacementPart>& parts,
                           std::size_t part, PlacementLayout floor, const LayoutFilter& may) {
  const PlacementAssignment assignment(problem);
  std::vector<PlacementPart> others = parts;
  others.erase(others.begin() + static_cast<std::ptrdiff_t>(part));
  const RelaxedLastPart last(problem, {problem, others}, parts[part].group);
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
  return Rounds(problem, options).run();
}

}  // namespace linkmargin
