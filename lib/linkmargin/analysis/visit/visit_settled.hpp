#pragma once

#include "linkmargin/analysis/visit/visit_search.hpp"

// Inside analysis only.
namespace linkmargin {

/// A choice carried out: the site with all its edits, and what `check` says of that.
struct SettledVisit {
  VisitChoice choice;
  StandingStations standing;
  std::vector<std::vector<DeviceOption>> options;  ///< of each needy device
  std::vector<Edit> edits;
  LinkTable after;
  bool kept = false;  ///< every link has what was promised, and no area or hub got worse

  const DeviceOption& taken(std::size_t needy) const { return options[needy][choice.option[needy]]; }
};

/// The best choice among the sets that keep what they promise once all is done at once: slots and areas
/// count here.
struct VisitOutcome {
  SettledVisit settled;
  VisitChoices choices;
};
VisitOutcome settled_visit(const RelocationSearch& search, const VisitStations& stations,
                           const VisitSearch& visit, const std::vector<std::size_t>& needy,
                           std::size_t most_sets);

/// visit_plan() of a search that is made already.
VisitPlan visit_plan(const RelocationSearch& search, EquipmentPlaces& places, int most_sets);

}  // namespace linkmargin
