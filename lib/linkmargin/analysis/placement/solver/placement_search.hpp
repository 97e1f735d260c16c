#pragma once

#include "linkmargin/analysis/placement/solver/placement_assignment.hpp"
#include "linkmargin/analysis/placement/solver/placement_bits.hpp"
#include "linkmargin/analysis/placement/solver/placement_relaxed.hpp"

#include <cstdint>
#include <functional>
#include <vector>

// Inside analysis/ only: the exact search.
namespace linkmargin {

/// What may be done before a search ends with what it has.
class PlacementWork {
 public:
  PlacementWork(std::int64_t work, std::function<bool()> stop) : left_(work), stop_(std::move(stop)) {}

  /// Tells whether there is work left; asks now and then whether to stop.
  bool spend(std::int64_t work);
  const std::function<bool()>& stop() const { return stop_; }
  bool ended() const { return ended_; }
  bool stopped() const { return stopped_; }

  /// Sets most of it aside, and gives that back with what then is left of the rest.
  std::int64_t set_aside(std::int64_t share);
  void give_back(std::int64_t work);

 private:
  std::int64_t left_;
  std::function<bool()> stop_;
  std::int64_t next_question_ = INT64_MAX;
  bool ended_ = false;
  bool stopped_ = false;
};

/// All layouts of some numbers of parts, by branch and bound.
class PlacementSearch {
 public:
  PlacementSearch(const PlacementProblem& problem, PlacementWork& work)
      : problem_(problem), assignment_(problem), work_(work) {}

  /// The best of `best` and of every layout with these numbers of each group (of repeaters at most so many),
  /// as far as the work goes.
  void run(const std::vector<int>& counts, PlacementLayout& best);

 private:
  /// What a branch still lacks.
  struct Wanted {
    PlacementBits items;                   ///< under the best least chance by the parts chosen
    std::vector<PlacementPart> repeaters;  ///< chosen, and with no way to a hub yet
  };

  void branch();
  void branch_on(const Wanted& wanted);
  void branch_anywhere();
  void try_places(std::uint32_t group, const PlacementBits& places, const PlacementBits& items);
  void reopen(std::size_t mark);
  void last_part(std::uint32_t group, const Wanted& wanted);
  void leaf(const RelaxedChances& have);
  void weigh(const std::vector<PlacementPart>& parts);
  void renew_ways();

  Wanted wanted(const RelaxedChances& have) const;
  bool reaches_hub(PlacementPart repeater, bool by_another) const;
  PlacementBits hop_places(PlacementPart from, std::uint32_t group, bool from_repeater) const;
  PlacementBits reached_places(std::uint32_t repeaters) const;
  std::size_t most_served(const PlacementBits& items) const;
  bool any_left(bool repeaters) const;

  const PlacementProblem& problem_;
  PlacementAssignment assignment_;
  PlacementWork& work_;
  PlacementLayout best_;

  // The branch that is looked at.
  std::vector<int> left_;
  std::vector<PlacementPart> chosen_;
  std::vector<PlacementBits> open_;   // places not yet tried, by group
  std::vector<PlacementPart> tried_;  // closed, the latest last

  // Of the level that has to be reached: that of the best.
  float level_ = -2;
  std::vector<std::vector<PlacementBits>> ways_;    // by group and item: places that serve it
  std::vector<std::vector<std::size_t>> count_;     // of those
  std::vector<std::vector<PlacementBits>> serves_;  // by group and place: items
  std::vector<std::vector<float>> greatest_;        // chance, by group and item
};

}  // namespace linkmargin
