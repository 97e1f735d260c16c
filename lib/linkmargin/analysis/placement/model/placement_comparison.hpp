#pragma once

#include "linkmargin/analysis/placement/model/placement_answer.hpp"
#include "linkmargin/analysis/placement/model/placement_chances.hpp"
#include "linkmargin/analysis/placement/model/placement_choice.hpp"

#include <optional>
#include <vector>

// Inside analysis/ only: what a choice is held against.
namespace linkmargin {

/// Hubs and repeaters where they are.
struct PresentLayout {
  PlacementChoice choice;
  double one_db_more = 1;  ///< the least chance, were every level 1 dB higher
};

/// The chance of the whole way of an item, were every level so much higher.
double layout_chance(const PlacementChances& chances, const PlacementPlaces& places,
                     const PlacementLayout& layout, std::size_t item, double gain_db);

class PlacementComparison {
 public:
  PlacementComparison(const Site& site, const MountingPlaces& mounting, const PlacementOptions& options,
                      const std::vector<PlacementCase>& cases, const PlacementChances& chances,
                      const ChoiceReport& teller, int hubs, int repeaters)
      : site_(site),
        mounting_(mounting),
        options_(options),
        cases_(cases),
        chances_(chances),
        choice_report_(teller),
        hubs_(hubs),
        repeaters_(repeaters) {}

  /// Everything where it is; nothing where slots do not suffice or too many are there to be calculated.
  std::optional<PresentLayout> present() const;

  /// Up to two layouts more, each the best found that is distinct from the best and from those before it:
  /// exact for one part, else found by moving parts one at a time.
  std::vector<PlacementLayout> distinct(const PlacementProblem& problem, const PlacementPlaces& places,
                                        const PlacementLayout& on_grid, const PlacementPlaces& best_places,
                                        const PlacementLayout& best) const;

  /// The first hub that may move, at every place on the storey where it is best.
  std::optional<PlacementField> field(const PlacementProblem& problem, const PlacementPlaces& places,
                                      const PlacementLayout& best) const;

  /// That hub in the middle of the rooms of the storey with most devices.
  std::optional<PlacementChoice> middle(const PlacementProblem& problem, const PlacementPlaces& places,
                                        const PlacementLayout& best) const;

  std::vector<CountTradeoff> prices(const PlacementPlaces& places, const PlacementLayout& best) const;

 private:
  const Site& site_;
  const MountingPlaces& mounting_;
  const PlacementOptions& options_;
  const std::vector<PlacementCase>& cases_;
  const PlacementChances& chances_;
  const ChoiceReport& choice_report_;
  int hubs_;
  int repeaters_;
};

}  // namespace linkmargin
