#include "linkmargin/analysis/placement/model/placement_chances.hpp"

#include "linkmargin/analysis/placement/model/placement_hops.hpp"
#include "linkmargin/base/parallel.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

/// What a link by the straight line alone takes of the time of one that looks for detours.
constexpr double kStraightCost = 0.05;

}  // namespace

/// Of one thread.
struct PlacementChances::Memory {
  WayMemory ways;
  std::vector<std::vector<float>> sums;  // by group
};

PlacementChances::PlacementChances(const std::vector<PlacementCase>& cases, double target_probability)
    : target_probability_(static_cast<float>(target_probability)) {
  for (const PlacementCase& of : cases) scenarios_.push_back(std::make_unique<const PlacementScenario>(of));
}

std::size_t PlacementChances::links(std::size_t places) const {
  std::size_t ends = 0;
  for (const auto& scenario : scenarios_) {
    const std::size_t items = scenario->site().devices.size() + scenario->site().areas.size();
    for (std::size_t item = 0; item < items; ++item) ends += scenario->ends(item).size();
  }
  return ends * places;
}

double PlacementChances::link_cost() const {
  double most = 0;
  for (const auto& scenario : scenarios_) {
    const double pieces = static_cast<double>(scenario->scene().panels().size());
    most = std::max(most, (scenario->diffracts() ? 1 : kStraightCost) * std::max(1.0, pieces / 100));
  }
  return most;
}

std::vector<PlacementItem> PlacementChances::items(const PlacementPlaces& places) const {
  const Site& site = scenarios_.front()->site();
  std::vector<PlacementItem> items;
  const auto add = [&](const auto& served) {
    PlacementItem item{served.slots, site.profiles.at(served.profile).device_class, {}};
    for (std::uint32_t g = 0; served.hub && g < places.groups.size(); ++g) {
      for (const PlacedRadio& radio : places.groups[g].radios) {
        if (!radio.repeater && radio.radio.name == *served.hub) item.hub = g;
      }
    }
    if (served.hub && !item.hub)
      throw DomainError("hub '" + *served.hub + "' serves '" + served.name + "': it cannot be left out");
    items.push_back(std::move(item));
  };
  for (const Device& device : site.devices) add(device);
  for (const Area& area : site.areas) add(area);
  return items;
}

PlacementProblem PlacementChances::problem(const PlacementPlaces& places, int threads,
                                           const ProgressCall& progress, const StopCall& stop) const {
  PlacementProblem problem;
  problem.items = items(places);
  problem.target_probability = target_probability_;
  problem.most_hops = std::min(2, scenarios_.front()->site().hops);
  const Site& site = scenarios_.front()->site();
  for (const PlaceGroup& group : places.groups) {
    const PlacedRadio& radio = group.radios.front();
    problem.groups.push_back({.repeater = radio.repeater,
                              .count = static_cast<int>(group.radios.size()),
                              .places = group.points.size(),
                              .chances = std::vector<float>(problem.items.size() * group.points.size(), 0),
                              .slots = radio.radio.capacity,
                              .device_class = site.profiles.at(radio.radio.profile).device_class});
  }
  Progress steps(progress, problem.items.size());
  const auto workers = static_cast<std::size_t>(std::max(1, threads));
  parallel_for(workers, threads, [&](std::size_t worker) {
    Memory memory;
    memory.ways.stop = stop;
    for (std::size_t item = worker; item < problem.items.size(); item += workers) {
      if (stop && stop()) return;
      fill(places, item, memory, problem);
      steps.step();
    }
  });
  const auto hops = std::make_shared<PlacementHops>(scenarios_, places);
  problem.hop = [hops](PlacementPart repeater, PlacementPart to) { return hops->get(repeater, to); };
  if (!scenarios_.front()->diffracts()) {
    problem.hops = [hops](PlacementPart part, std::uint32_t group,
                          bool is_repeater) -> const std::vector<float>& {
      return hops->all(part, group, is_repeater);
    };
  }
  return problem;
}

void PlacementChances::fill(const PlacementPlaces& places, std::size_t item, Memory& memory,
                            PlacementProblem& problem) const {
  const bool exact = problem.items.size() * places.points.size() <= kExactChances;
  memory.sums.resize(places.groups.size());
  for (std::size_t w = 0; w < scenarios_.size(); ++w) {
    const PlacementScenario& scenario = *scenarios_[w];
    const std::vector<FarEnd> ends = scenario.ends(item);
    for (std::size_t g = 0; g < places.groups.size(); ++g)
      memory.sums[g].assign(places.groups[g].points.size(), 0.0F);
    for (const FarEnd& end : ends) {
      scenario.find_losses(end.at, places, memory.ways);
      for (std::size_t g = 0; g < places.groups.size(); ++g) {
        const PlaceGroup& group = places.groups[g];
        scenario.add_chances(end, group.radios.front().radio, places, group.points, memory.ways, exact,
                             memory.sums[g]);
      }
    }
    const float share = 1 / static_cast<float>(ends.size());
    for (std::size_t g = 0; g < places.groups.size(); ++g) {
      const std::vector<float>& sums = memory.sums[g];
      float* row = problem.groups[g].chances.data() + item * sums.size();
      for (std::size_t p = 0; p < sums.size(); ++p)
        row[p] = w == 0 ? sums[p] * share : std::min(row[p], sums[p] * share);
    }
  }
}

double PlacementChances::chance(std::size_t item, const Hub& radio, const Placement& place,
                                double gain_db) const {
  double least = 1;
  for (const auto& scenario : scenarios_) {
    const LinkEndpoint endpoint(scenario->scene(), scenario->site().point(place));
    const std::vector<FarEnd> ends = scenario->ends(item);
    double sum = 0;
    for (const FarEnd& end : ends)
      sum += static_cast<double>(scenario->chance(end, radio, place, endpoint, gain_db));
    least = std::min(least, sum / static_cast<double>(ends.size()));
  }
  return least;
}

double PlacementChances::hop_chance(const Hub& repeater, const Placement& place, const Hub& to,
                                    const Placement& to_place, double gain_db) const {
  double least = 1;
  for (const auto& scenario : scenarios_) {
    const LinkEndpoint endpoint(scenario->scene(), scenario->site().point(to_place));
    const FarEnd end = scenario->end_of(repeater, place);
    const float chance = scenario->chance(end, to, to_place, endpoint, gain_db);
    least = std::min(least, static_cast<double>(chance));
  }
  return least;
}

}  // namespace linkmargin
