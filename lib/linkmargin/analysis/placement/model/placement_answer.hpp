#pragma once

#include "linkmargin/analysis/placement/solver/placement_status.hpp"
#include "linkmargin/base/progress.hpp"
#include "linkmargin/prediction/area_cover.hpp"
#include "linkmargin/prediction/serving/device_link.hpp"
#include "linkmargin/prediction/serving/hub_load.hpp"
#include "linkmargin/site/edit/edit.hpp"

#include <algorithm>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

struct PlacementOptions {
  bool anywhere = false;           ///< what has no `may_move` may go into every room; else mobility() has it
  std::optional<int> hubs{};       ///< in all, fixed ones included; absent: as many as the site has
  std::optional<int> repeaters{};  ///< the same; at most so many are used
  double step_m = 0.25;            ///< between candidate places along a wall, kPlacementStepM
  std::vector<Doors> doors{Doors::armed, Doors::open};  ///< the choice holds in each
  std::vector<NamedEdits> cases{};                      ///< and with each of these; none: the site as it is
  /// What the worst chance counts to, 0 to 1: of choices that all have so much the sum of chances decides. 0:
  /// the sum alone; 1: the worst first.
  double target_probability = 1;
  bool best_only = false;  ///< the best choice and nothing beside it: no other choices, prices and field
  std::int64_t work = 6'000'000'000;  ///< see PlacementSolverOptions
  /// Links that are calculated one by one before the grid is made coarser, in those of a site of a hundred
  /// pieces of wall, some 20 us each; of more pieces in proportion.
  double link_work = 600'000;
  int threads = 1;  ///< >= 1; changes nothing in the result
  ProgressCall progress{};
  std::function<bool()> stop{};  ///< asked now and then, from any thread: true ends the search
};

inline constexpr Range kPlacementStepM{0.05, 10, "step_m", "common practice"};
inline constexpr Range kPlacementEnough{0, 1, "enough", "definition"};
inline constexpr Range kPlacementHubs{1, kMostPlacedHubs, "hubs", "bounds of the search"};
inline constexpr Range kPlacementRepeaters{0, kMostPlacedRepeaters, "repeaters", "bounds of the search"};

/// A hub or repeater of a choice.
struct ChosenPart {
  std::string name;
  std::string profile;
  bool repeater = false;
  bool present = true;  ///< the site has it; else it is one more
  bool fixed = false;
  Placement place;
  std::optional<double>
      moved_m{};                  ///< in plan, from where it is on this storey; absent: new or another storey
  std::optional<HubLoad> load{};  ///< of a hub; of a repeater where its capacity is said
  int serves = 0;                 ///< devices and areas, directly or as the first hop
};

/// What a choice holds in: the site with a case of edits and in a state of the doors.
struct HeldCase {
  std::string name{};  ///< of the case; empty: the site as it is
  Doors doors = Doors::armed;
};

/// How a choice serves a device or an area.
struct ChosenService {
  std::string name;
  bool area = false;
  std::string hub;
  std::vector<std::string> via;  ///< repeaters, the first beside the device
  double chance = 0;             ///< the least over the cases, of the whole way; of an area the share
  std::size_t in_case = 0;       ///< where it is least: position in PlacementAnswer::cases
  Link link;                     ///< as `check` has it there; of an area nothing but names
  double reading_percent =
      0;              ///< of its own hop, in the case of its least chance; of an area the lowest in it
  bool weak = false;  ///< in any case and hop
};

/// Where hubs and repeaters go, and which of them then serves what.
struct PlacementChoice {
  std::vector<ChosenPart> parts;
  std::vector<ChosenService> services;  ///< devices in order, then areas
  std::size_t worst = 0;                ///< position in services of the least chance
  double sum = 0;                       ///< of the chances
  double worst_reading_percent = 0;     ///< the lowest of a device
  int weak_count = 0;                   ///< devices that are weak and areas that are
  std::vector<Edit> edits;              ///< that make the site so

  double worst_chance() const { return services.empty() ? 1 : services[worst].chance; }
};

/// What one part more or less would do.
struct CountTradeoff {
  int hubs = 0;
  int repeaters = 0;
  double worst_chance = 0;
  double sum = 0;
  std::string worst{};    ///< the device or area that is then worst
  int missing_slots = 0;  ///< it cannot be: so many are short
  bool proved = false;    ///< the best there is on the grid of the prices
};

/// Fewer parts than were chosen, and what they came to.
struct FewestParts {
  double chance = 0;     ///< asked of every device and area
  bool reached = false;  ///< with the parts of the answer
  bool proved = true;    ///< of all fewer parts, on the grids that they were searched on
  /// The best layout of so many parts.
  struct Count {
    int hubs = 0;
    int repeaters = 0;
    double worst_chance = 0;
    int missing_slots = 0;
  };
  std::vector<Count> not_enough{};  ///< in the order in which they were tried
};

/// The least chance if one hub hung elsewhere on a storey, the rest as chosen.
struct PlacementField {
  /// A place that the hub could have.
  struct Spot {
    Point2 at;
    double worst = 0;  ///< the least chance of all devices and areas
  };
  std::string hub;
  std::size_t storey = 0;
  double height_m = 0;
  double step_m = 0;        ///< between spots, at most
  std::vector<Spot> spots;  ///< every place of the hub there
  double best = 0;          ///< of the choice
  double one_db_less = 0;   ///< what the choice had if everything were 1 dB weaker

  /// Where the least chance is at least that.
  std::size_t within_1_db() const {
    return static_cast<std::size_t>(
        std::ranges::count_if(spots, [&](const Spot& spot) { return spot.worst >= one_db_less; }));
  }
};

/// The answer of `place`.
struct PlacementAnswer {
  std::string site;
  double frequency_hz = 0;
  std::vector<HeldCase> cases;  ///< what the choice holds in
  ReadingScale reading;
  PlacementStatus status = PlacementStatus::infeasible;
  bool proved =
      false;  ///< no places of the grid of proved_step_m are better; optimal where that is the one asked for
  double step_m = 0;  ///< between candidate places as asked
  double proved_step_m =
      0;  ///< of the grid that what is proved speaks of; wider where links are dear: then refined
  std::size_t places = 0;         ///< that were weighed there
  double target_probability = 1;  ///< of the options
  bool anywhere = false;          ///< of the options
  double worst_bound = 1;  ///< see PlacementSolution, on that grid; of a worst that counts to less than 1: 1
  double sum_bound = 0;
  /// By how much the worst link lacks the bound: 0 where it meets it; absent where nothing is known of it.
  std::optional<double> bound_db{};
  int missing_slots = 0;                   ///< where infeasible
  std::vector<std::string> without_place;  ///< radios that may go nowhere, where infeasible
  std::vector<PlacementChoice> choices;    ///< best first, all distinct
  std::optional<PlacementChoice> present;  ///< hubs and repeaters where they are
  double present_one_db_more = 0;          ///< the least chance then, were every level 1 dB higher
  int hubs_not_needed = 0;       ///< that were asked for and not placed: without them everything is good
  int repeaters_not_needed = 0;  ///< the same of repeaters
  std::optional<PlacementChoice> middle;  ///< one hub in the middle of the plan, the rest as chosen
  std::vector<CountTradeoff> prices;      ///< one more or less of each, as far as that can be
  std::optional<PlacementField> field;
  std::optional<FewestParts> fewest{};  ///< where fewest_parts() was asked
  std::vector<Warning> warnings;
};

/// Whether moving to the first choice gains too little to be worth it: under kWorthMovingChance for the
/// weakest, or no more than 1 dB would, and under kWorthMovingChance on average. Where a part is added or
/// left out it never is.
bool gains_little(const PlacementAnswer& answer);
inline constexpr double kWorthMovingChance = 0.03;  ///< common practice

/// Two choices are distinct when some part is in another room or on another storey than all of its kind in
/// the other; outside the rooms, when it is farther away than this.
inline constexpr double kDistinctM = 3;

/// The grid of the prices is this coarse, or twice as coarse as the search's.
inline constexpr double kPriceStepM = 0.5;

}  // namespace linkmargin
