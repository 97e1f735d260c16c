#pragma once

#include "linkmargin/analysis/relocation/relocation_search.hpp"
#include "linkmargin/analysis/visit/visit_result.hpp"

#include <map>
#include <string>
#include <vector>

// Inside analysis/visit only.
namespace linkmargin {

/// A hub or repeater at a place: where it is, where it may be moved, or where one may be added.
struct StationPlace {
  SharedKind kind = SharedKind::hub_moved;
  std::string name;
  std::optional<Placement> from{};  ///< absent: added
  std::variant<Hub, Repeater> radio;
  HubEndpoint endpoint;

  const Placement& place() const {
    return std::visit([](const auto& of) -> const Placement& { return of.place; }, radio);
  }
};

/// Changes of shared equipment that are made together.
struct StationSet {
  std::vector<std::size_t> changes{};  ///< positions in VisitStations::changes
  VisitEffort effort{};
};

/// A change by the name that its radio then has: where two are added, the second has a name of its own.
struct NamedChange {
  std::string name;
  std::size_t place = 0;  ///< position in VisitStations::places
};

/// What stands at a set.
struct StandingStations {
  Stations stations;
  std::map<std::string, std::size_t> place;  ///< of every hub and repeater: position in VisitStations::places
  std::vector<NamedChange> changes;          ///< in the order of the set
};

/// The places that the plan chooses among.
class VisitStations {
 public:
  /// Nothing may change: the empty set alone.
  explicit VisitStations(const RelocationSearch& search);

  /// With places to move to and to add at, chosen for the devices that need them: for each such device the
  /// best place and the nearest that does; for all together the best place of each of kKeptPlaces rooms, for
  /// each hub and repeater and for those to be added.
  /// @param needy  positions in Site::devices
  VisitStations(const RelocationSearch& search, const std::vector<HubMove>& moves,
                const std::vector<RepeaterPlace>& repeaters, const std::vector<std::size_t>& needy);

  /// Every hub and repeater where it is, then `changes`.
  const std::vector<StationPlace>& places() const { return places_; }

  /// The empty one first.
  const std::vector<StationSet>& sets() const { return sets_; }

  /// The position in places() of a change of a set.
  std::size_t place_of(std::size_t change) const { return present_ + change; }

  StandingStations standing(const StationSet& set) const;

  /// What makes the site so.
  std::vector<Edit> edits(const std::vector<NamedChange>& changes) const;

 private:
  void add_moves(const std::vector<HubMove>& moves, const std::vector<std::size_t>& needy);
  void add_repeaters(const std::vector<RepeaterPlace>& places, const std::vector<std::size_t>& needy);
  void add_hubs(const std::vector<std::size_t>& needy);
  void add_sets();

  const RelocationSearch& search_;
  std::vector<StationPlace> places_;
  std::size_t present_ = 0;
  std::vector<StationSet> sets_{StationSet{}};
};

inline constexpr std::size_t kKeptPlaces = 6;
inline constexpr std::size_t kMostChanges = 3;  ///< in one set
inline constexpr std::size_t kMostAdded = 2;    ///< of them added
inline constexpr std::size_t kManyPlaces = 60;  ///< of more places two are changed in one set
inline constexpr std::size_t kMostHubPlacesAdded = 60;
inline constexpr std::size_t kMostRepeaterPlacesAdded = 400;

}  // namespace linkmargin
