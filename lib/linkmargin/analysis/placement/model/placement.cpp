#include "linkmargin/analysis/placement/model/placement.hpp"

#include "linkmargin/analysis/placement/model/placement_choice.hpp"
#include "linkmargin/analysis/placement/model/placement_comparison.hpp"
#include "linkmargin/analysis/placement/solver/placement_solver.hpp"
#include "linkmargin/base/sure_probability.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

constexpr double kMostGainDb = 80;
constexpr double kGainRoundDb = 1e-3;

std::vector<PlacementCase> cases_of(const Site& site, const PlacementOptions& options) {
  std::vector<PlacementCase> cases;
  const auto add = [&](const std::string& name, const Site& of) {
    for (const Doors doors : options.doors) {
      cases.push_back({name, of, doors, std::make_shared<const Scene>(of, doors, options.threads)});
    }
  };
  if (options.cases.empty()) add({}, site);
  for (const NamedEdits& named : options.cases) {
    const auto edited = edited_site(site, named.edits);
    if (!edited) throw DomainError("case '" + named.name + "': " + edited.error().front().message);
    add(named.name, *edited);
  }
  if (cases.empty()) throw DomainError("no state of the doors is asked for");
  return cases;
}

std::size_t worst_item(const PlacementLayout& layout) {
  const auto worst = std::ranges::min_element(layout.routes, {}, &PlacementRoute::chance);
  return static_cast<std::size_t>(worst - layout.routes.begin());
}

/// A layout on the places that it was found on.
struct Found {
  PlacementPlaces places;
  PlacementLayout layout;
};

class Run {
 public:
  Run(const Site& site, const PlacementOptions& options)
      : site_(site),
        options_(options),
        hubs_(options.hubs.value_or(static_cast<int>(site.hubs.size()))),
        repeaters_(site.hops < 1 ? 0 : options.repeaters.value_or(static_cast<int>(site.repeaters.size()))),
        mounting_(site),
        cases_(cases_of(site, options)),
        chances_(cases_, options.target_probability),
        choice_report_(cases_, options.threads) {}

  PlacementAnswer run() {
    begin();
    const auto radios = placed_radios(site_, hubs_, repeaters_, options_.anywhere);
    const PlacementPlaces places = affordable_places(radios);
    for (const PlaceGroup& group : places.groups) {
      if (!group.points.empty() || group.radios.front().repeater) continue;
      for (const PlacedRadio& radio : group.radios) answer_.without_place.push_back(radio.radio.name);
    }
    if (auto present = extras().present()) {
      answer_.present = std::move(present->choice);
      answer_.present_one_db_more = present->one_db_more;
    }
    const PlacementProblem problem =
        chances_.problem(places, options_.threads, part_of_progress(0, 0.6), options_.stop);
    if (stopped()) {
      answer_.status = PlacementStatus::stopped;
      return std::move(answer_);
    }
    const PlacementSolution solution = solve_placement(problem, {options_.work, options_.stop});
    take(problem, places, solution);
    say(0.7);
    if (!solution.best.exists()) return std::move(answer_);
    const Found best = refined({places, solution.best});
    answer_.choices.push_back(choice_report_.tell(best.places, best.layout));
    if (!options_.best_only && !stopped()) add_extras(problem, places, solution.best, best);
    say(1);
    return std::move(answer_);
  }

 private:
  bool stopped() const { return options_.stop && options_.stop(); }
  PlacementComparison extras() const {
    return {site_, mounting_, options_, cases_, chances_, choice_report_, hubs_, repeaters_};
  }

  void say(double share) const {
    if (options_.progress) options_.progress(share);
  }
  ProgressCall part_of_progress(double from, double to) const {
    if (!options_.progress) return {};
    return [=, call = options_.progress](double share) { call(from + (to - from) * share); };
  }

  void begin() {
    answer_.site = site_.name;
    answer_.frequency_hz = site_.radio.frequency_hz;
    answer_.reading = site_.reading;
    answer_.step_m = options_.step_m;
    answer_.anywhere = options_.anywhere;
    for (const PlacementCase& of : cases_) answer_.cases.push_back({of.name, of.doors});
    answer_.warnings = all_site_warnings(site_);
    for (const PlacementCase& of : cases_) add_once(answer_.warnings, of.scene->warnings());
  }

  PlacementPlaces affordable_places(const std::vector<PlacedRadio>& radios) {
    for (double step_m = options_.step_m;; step_m *= 2) {
      PlacementPlaces places = placement_places(site_, mounting_, radios, step_m);
      const double cost = static_cast<double>(chances_.links(places.points.size())) * chances_.link_cost();
      if (cost > options_.link_work && step_m * 2 <= kPlacementStepM.max) continue;
      answer_.proved_step_m = step_m;
      answer_.places = places.points.size();
      return places;
    }
  }

  void take(const PlacementProblem& problem, const PlacementPlaces& places,
            const PlacementSolution& solution) {
    answer_.proved = solution.status == PlacementStatus::optimal;
    const bool coarser = answer_.proved_step_m > 1.001 * options_.step_m;
    answer_.status = answer_.proved && coarser ? PlacementStatus::bounded : solution.status;
    answer_.target_probability = options_.target_probability;
    const bool all_that_counts =
        options_.target_probability < 1 &&
        static_cast<double>(solution.worst_bound) >= options_.target_probability - 1e-6;
    answer_.worst_bound = all_that_counts ? 1 : static_cast<double>(solution.worst_bound);
    answer_.sum_bound = solution.sum_bound;
    answer_.missing_slots = solution.missing_slots;
    if (!solution.best.exists() || problem.items.empty() || coarser) return;
    const std::size_t item = worst_item(solution.best);
    if (solution.best.worst >= solution.worst_bound) {
      answer_.bound_db = 0;
      return;
    }
    double low_db = 0;
    double high_db = kMostGainDb;
    while (high_db - low_db > kGainRoundDb) {
      const double middle_db = (low_db + high_db) / 2;
      const bool there =
          layout_chance(chances_, places, solution.best, item, middle_db) >= answer_.worst_bound;
      (there ? high_db : low_db) = middle_db;
    }
    answer_.bound_db = high_db;
  }

  /// Where the grid had to be coarse: each part a step of half the size at a time towards better places.
  Found refined(Found best) const {
    for (double step_m = answer_.proved_step_m / 2; step_m >= options_.step_m * 0.999 && !stopped();
         step_m /= 2) {
      PlacementPlaces near = places_near(site_, mounting_, best.places, best.layout.parts, step_m);
      const PlacementProblem problem = chances_.problem(near, options_.threads, {}, {});
      const PlacementSolution solution = solve_placement(problem, {options_.work / 16, {}});
      if (!solution.best.exists()) break;
      best = {std::move(near), solution.best};
    }
    return best;
  }

  void add_extras(const PlacementProblem& problem, const PlacementPlaces& places,
                  const PlacementLayout& on_grid, const Found& best) {
    const PlacementComparison extras = this->extras();
    for (const PlacementLayout& other : extras.distinct(problem, places, on_grid, best.places, best.layout))
      answer_.choices.push_back(choice_report_.tell(places, other));
    say(0.75);
    answer_.field = extras.field(problem, places, on_grid);
    if (answer_.field && !problem.items.empty())
      answer_.field->one_db_less = layout_chance(chances_, places, on_grid, worst_item(on_grid), -1);
    answer_.middle = extras.middle(problem, places, on_grid);
    say(0.8);
    if (!stopped()) answer_.prices = extras.prices(best.places, best.layout);
  }

  const Site& site_;
  const PlacementOptions& options_;
  int hubs_;
  int repeaters_;
  MountingPlaces mounting_;
  std::vector<PlacementCase> cases_;
  PlacementChances chances_;
  ChoiceReport choice_report_;
  PlacementAnswer answer_;
};

}  // namespace

namespace {

bool all_good(const PlacementAnswer& answer) {
  return !answer.choices.empty() && answer.choices.front().weak_count == 0 &&
         answer.choices.front().worst_chance() >= kSureProbability;
}

/// With no more parts than the site has, where more are asked for than are needed: nothing is bought for what
/// is good already. Nothing where they are needed.
std::optional<PlacementAnswer> without_more(const Site& site, const PlacementOptions& options) {
  const auto more = [](const std::optional<int>& asked, std::size_t there) {
    return std::max(0, asked.value_or(0) - static_cast<int>(there));
  };
  const int hubs = more(options.hubs, site.hubs.size());
  const int repeaters = site.hops < 1 ? 0 : more(options.repeaters, site.repeaters.size());
  if (options.target_probability < 1 || hubs + repeaters == 0) return {};
  placed_radios(site, options.hubs.value_or(static_cast<int>(site.hubs.size())),
                site.hops < 1 ? 0 : options.repeaters.value_or(static_cast<int>(site.repeaters.size())),
                options.anywhere);  // tells of what cannot be placed at all
  PlacementOptions fewer = options;
  if (hubs > 0) fewer.hubs.reset();
  if (repeaters > 0) fewer.repeaters.reset();
  fewer.best_only = true;
  PlacementAnswer answer = Run(site, fewer).run();
  if (!all_good(answer)) return {};
  fewer.best_only = options.best_only;
  if (!fewer.best_only) answer = Run(site, fewer).run();
  answer.hubs_not_needed = hubs;
  answer.repeaters_not_needed = repeaters;
  return answer;
}

}  // namespace

PlacementAnswer placement(const Site& site, const PlacementOptions& options) {
  require_in(kPlacementStepM, options.step_m);
  require_in(kPlacementEnough, options.target_probability);
  if (options.hubs) require_in(kPlacementHubs, *options.hubs);
  if (options.repeaters) require_in(kPlacementRepeaters, *options.repeaters);
  if (auto answer = without_more(site, options)) return std::move(*answer);
  return Run(site, options).run();
}

bool gains_little(const PlacementAnswer& answer) {
  if (!answer.present || answer.choices.empty()) return false;
  const PlacementChoice& now = *answer.present;
  const PlacementChoice& best = answer.choices.front();
  const auto added = [](const ChosenPart& part) { return !part.present; };
  if (best.parts.size() != now.parts.size() || std::ranges::any_of(best.parts, added)) return false;
  const double gain = best.worst_chance() - now.worst_chance();
  const double on_average =
      (best.sum - now.sum) / static_cast<double>(std::max<std::size_t>(1, now.services.size()));
  return (gain < kWorthMovingChance || best.worst_chance() <= answer.present_one_db_more) &&
         on_average < kWorthMovingChance;
}

}  // namespace linkmargin
