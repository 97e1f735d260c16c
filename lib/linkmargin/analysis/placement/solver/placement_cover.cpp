#include "linkmargin/analysis/placement/solver/placement_cover.hpp"

#include "linkmargin/analysis/placement/solver/placement_bits.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

/// What a place serves, of what is asked.
struct Served {
  PlacementBits items;
  PlacementPart part;
};

/// Leaves out what serves no more than another; of equals the first stays. The ones that serve most come
/// first.
void keep_greatest(std::vector<Served>& all) {
  std::ranges::stable_sort(
      all, [](const Served& one, const Served& other) { return one.items.count() > other.items.count(); });
  std::vector<Served> kept;
  for (Served& one : all) {
    const auto holds = [&](const Served& other) { return one.items.within(other.items); };
    if (std::ranges::none_of(kept, holds)) kept.push_back(std::move(one));
  }
  all = std::move(kept);
}

class Covering {
 public:
  Covering(const PlacementProblem& problem, const std::vector<int>& counts, float level, std::int64_t& nodes)
      : problem_(problem), left_(counts), nodes_(nodes), served_(problem.groups.size()) {
    for (std::uint32_t g = 0; g < problem.groups.size(); ++g) {
      if (counts[g] == 0) continue;
      for (std::uint32_t p = 0; p < problem.groups[g].places; ++p) {
        Served one{PlacementBits(problem.items.size()), {g, p}};
        for (std::size_t i = 0; i < problem.items.size(); ++i) {
          if (problem.chance(i, one.part) >= level && may(i, g)) one.items.add(i);
        }
        served_[g].push_back(std::move(one));
      }
      keep_greatest(served_[g]);
    }
  }

  Cover run() {
    Cover cover;
    const bool found = search(PlacementBits::all(problem_.items.size()));
    cover.answer = found ? Cover::Answer::yes : gave_up_ ? Cover::Answer::unknown : Cover::Answer::no;
    if (found) cover.parts = chosen_;
    return cover;
  }

 private:
  bool may(std::size_t item, std::uint32_t group) const {
    return problem_.groups[group].repeater || !problem_.items[item].hub || *problem_.items[item].hub == group;
  }

  /// Whether the parts that are left could serve so many at the very best.
  bool can_be(const PlacementBits& wanted) const {
    std::size_t most = 0;
    for (std::size_t g = 0; g < served_.size(); ++g) {
      if (left_[g] == 0) continue;
      std::size_t greatest = 0;
      for (const Served& one : served_[g]) greatest = std::max(greatest, one.items.count_shared(wanted));
      most += greatest * static_cast<std::size_t>(left_[g]);
    }
    return most >= wanted.count();
  }

  /// The wanted item that the fewest places serve.
  std::size_t hardest(const PlacementBits& wanted) const {
    std::vector<std::size_t> ways(problem_.items.size());
    for (std::size_t g = 0; g < served_.size(); ++g) {
      if (left_[g] == 0) continue;
      for (const Served& one : served_[g]) one.items.each([&](std::size_t item) { ++ways[item]; });
    }
    std::size_t found = problem_.items.size();
    wanted.each([&](std::size_t item) {
      if (found == problem_.items.size() || ways[item] < ways[found]) found = item;
    });
    return found;
  }

  bool search(const PlacementBits& wanted) {
    if (wanted.empty()) return true;
    if (--nodes_ < 0) gave_up_ = true;
    if (gave_up_ || !can_be(wanted)) return false;
    const std::size_t item = hardest(wanted);
    for (std::uint32_t g = 0; g < served_.size(); ++g) {
      if (left_[g] == 0) continue;
      std::vector<Served> options;
      for (const Served& one : served_[g]) {
        if (!one.items.has(item)) continue;
        Served wanted_of{one.items, one.part};
        wanted_of.items &= wanted;
        options.push_back(std::move(wanted_of));
      }
      keep_greatest(options);
      --left_[g];
      for (const Served& option : options) {
        PlacementBits rest = wanted;
        rest -= option.items;
        chosen_.push_back(option.part);
        if (search(rest)) return true;
        chosen_.pop_back();
        if (gave_up_) break;
      }
      ++left_[g];
      if (gave_up_) return false;
    }
    return false;
  }

  const PlacementProblem& problem_;
  std::vector<int> left_;
  std::int64_t& nodes_;
  std::vector<std::vector<Served>> served_;
  std::vector<PlacementPart> chosen_;
  bool gave_up_ = false;
};

}  // namespace

Cover cover_at(const PlacementProblem& problem, const std::vector<int>& counts, float level,
               std::int64_t& nodes) {
  return Covering(problem, counts, level, nodes).run();
}

CoverBound cover_bound(const PlacementProblem& problem, const std::vector<int>& counts, float at_least,
                       std::int64_t nodes, const std::function<bool()>& stop) {
  // No item can have more than at its best place.
  std::vector<float> best(problem.items.size(), 0);
  for (std::size_t i = 0; i < problem.items.size(); ++i) {
    for (std::uint32_t g = 0; g < problem.groups.size(); ++g) {
      if (counts[g] == 0) continue;
      for (std::uint32_t p = 0; p < problem.groups[g].places; ++p)
        best[i] = std::max(best[i], problem.chance(i, {g, p}));
    }
  }
  CoverBound bound{problem.target_probability, {}};
  for (const float most : best) bound.at_most = std::min(bound.at_most, most);
  std::vector<float> levels;
  for (std::uint32_t g = 0; g < problem.groups.size(); ++g) {
    if (counts[g] == 0) continue;
    for (const float chance : problem.groups[g].chances) {
      const float level = std::min(chance, problem.target_probability);
      if (level > at_least && level <= bound.at_most) levels.push_back(level);
    }
  }
  std::ranges::sort(levels);
  levels.erase(std::unique(levels.begin(), levels.end()), levels.end());
  std::size_t known = 0;
  std::size_t beyond = levels.size();
  std::size_t refuted = levels.size();  // every level from here on is proved to be out of reach
  while (known < beyond && !(stop && stop())) {
    const std::size_t middle = known + (beyond - known) / 2;
    std::int64_t left = nodes;
    Cover cover = cover_at(problem, counts, levels[middle], left);
    if (cover.answer == Cover::Answer::yes) bound.covers.push_back(std::move(cover.parts));
    if (cover.answer == Cover::Answer::no) {
      refuted = middle;
      beyond = middle;
    } else {
      known = middle + 1;
    }
  }
  if (refuted < levels.size()) bound.at_most = refuted == 0 ? at_least : levels[refuted - 1];
  return bound;
}

}  // namespace linkmargin
