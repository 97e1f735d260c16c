#include "linkmargin/analysis/review/site_review.hpp"

#include "linkmargin/analysis/relocation/relocation_search.hpp"
#include "linkmargin/analysis/survey/reading_verdict.hpp"
#include "linkmargin/analysis/visit/visit_settled.hpp"
#include "linkmargin/prediction/fitted_shadowing.hpp"
#include "linkmargin/prediction/single_failures.hpp"
#include "linkmargin/prediction/station_table.hpp"
#include "linkmargin/site/storey_extent.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

constexpr double kCellsAlong = 220;
constexpr double kLeastStepM = 0.05;

/// Half a decibel is 1 % of the usual reading scale: less than a picture shows.
constexpr double kWithinDb = 0.5;

/// How far the whole work is, told from how far its parts are.
class Parts {
 public:
  Parts(const ProgressCall& tell, std::size_t parts) : tell_(tell), parts_(static_cast<double>(parts)) {}

  ProgressCall part() {
    if (!tell_) return {};
    const double done = next_++;
    return [this, done](double share) { tell_((done + share) / parts_); };
  }

 private:
  const ProgressCall& tell_;
  double parts_;
  double next_ = 0;
};

/// Whether something is on a storey that a map of it could tell of.
bool is_used(const Site& site, std::size_t storey) {
  const auto here = [storey](const auto& radio) { return radio.place.storey == storey; };
  return !site.storeys[storey].rooms.empty() || std::ranges::any_of(site.devices, here) ||
         std::ranges::any_of(site.hubs, here);
}

std::vector<std::size_t> used_storeys(const Site& site) {
  std::vector<std::size_t> used;
  for (std::size_t storey = 0; storey < site.storeys.size(); ++storey) {
    if (is_used(site, storey)) used.push_back(storey);
  }
  return used;
}

bool some_leaf_opens(const Site& site) {
  return std::ranges::any_of(site.storeys, [](const Storey& storey) {
    return std::ranges::any_of(storey.openings, [](const Opening& opening) {
      return opening.opens && opening.leaf.material != kNoMaterial;
    });
  });
}

DoorsReview reviewed(const Site& site, Doors doors, const ReviewOptions& options, Parts& parts) {
  const Scene scene(site, doors, options.threads);
  const ShadowingRegression nearby = fitted_shadowing(site, options.readings, doors, scene, options.threads);
  const LinkTableOptions links{
      .doors = doors, .readings = options.readings, .nearby = nearby, .threads = options.threads};
  const FadingModel fading_model(site.fading);
  DoorsReview review{
      .table = link_table(site, links, scene, stations(site, scene, fading_model, nearby), fading_model),
      .maps = {}};
  const bool several = site.hubs.size() + site.repeaters.size() > 1;
  if (options.single_failures && several && doors == options.doors)
    review.table.failures = single_failures(site, links, review.table);
  for (const std::size_t storey : used_storeys(site)) {
    CoverageOptions map{.doors = doors, .storey = site.storeys[storey].name};
    map.step_m = options.step_m > 0 ? options.step_m : review_step_m(storey_extent(site, storey));
    map.within_db = kWithinDb;
    map.nearby = nearby;
    map.threads = options.threads;
    map.progress = parts.part();
    review.maps.push_back(coverage(site, map, scene));
  }
  return review;
}

CaseReview reviewed(const Site& site, const NamedEdits& named, const ReviewOptions& options) {
  const Result<Site> edited = edited_site(site, named.edits);
  if (!edited) throw DomainError("case '" + named.name + "': " + to_text(edited.error().front()));
  return {named.name, link_table(*edited, {.doors = options.doors, .threads = options.threads})};
}

/// Of the devices whose reading is enough those that is_far_lower() tells.
std::vector<std::string> far_lower(const Site& site, const SiteReview& review) {
  std::vector<std::string> names;
  if (review.present.of_device.empty()) return names;
  const FadingModel fading_model(site.fading);
  for (const Link& link : review.as_planned.links) {
    const auto read = review.present.of_device.find(link.device);
    if (!link.serving || read == review.present.of_device.end()) continue;
    const double percent = read->second.percent;
    const bool other_hub = read->second.hub && *read->second.hub != link.hub;
    if (other_hub || percent <= 0 || percent < site.reading.weak_below_percent) continue;
    if (is_far_lower(fading_model, site.reading, link, percent)) names.push_back(link.device);
  }
  return names;
}

}  // namespace

double review_step_m(const Box2& extent) {
  if (extent.empty()) return kLeastStepM;
  const Point2 size = extent.max - extent.min;
  return std::clamp(std::max(size.x, size.y) / kCellsAlong, kLeastStepM, kCoverageStepM.max);
}

SiteReview site_review(const Site& site, const ReviewOptions& options) {
  std::vector<Doors> states{options.doors};
  if (some_leaf_opens(site)) states.push_back(options.doors == Doors::armed ? Doors::open : Doors::armed);
  Parts parts(options.progress, states.size() * used_storeys(site).size());
  SiteReview review;
  for (const Doors doors : states) review.states.push_back(reviewed(site, doors, options, parts));
  const RelocationOptions asked{
      .doors = options.doors, .devices = {}, .readings = options.readings, .threads = options.threads};
  const RelocationSearch search(site, asked);
  EquipmentPlaces places(search);
  review.relocation = relocation(search, places);
  review.visit = visit_plan(search, places, VisitPlanOptions().most_sets);
  review.as_planned = options.readings.empty()
                          ? review.states.front().table
                          : link_table(site, {.doors = options.doors, .threads = options.threads});
  for (const NamedEdits& named : options.cases) {
    if (!named.edits.empty()) review.cases.push_back(reviewed(site, named, options));
  }
  if (options.before)
    review.before = link_table(*options.before, {.doors = options.doors, .threads = options.threads});
  review.readings = options.readings;
  review.present = review.states.front().table.present;
  review.far_lower = far_lower(site, review);
  if (options.place_trials) {
    PlaceTrialOptions trials{.doors = options.doors, .nearby = search.nearby, .threads = options.threads};
    for (const DeviceRelocation& device : review.relocation.devices)
      trials.moving.push_back(device.link.device);
    review.trials = place_trials(site, trials);
  }
  return review;
}

}  // namespace linkmargin
