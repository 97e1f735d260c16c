#include "linkmargin/prediction/serving/endpoint_cache.hpp"

#include "linkmargin/site/site_radios.hpp"

#include <algorithm>
#include <utility>

namespace linkmargin {
namespace {

/// What a scene and the paths in it hang on: noise only raises what receivers need.
PropagationSettings without_noise(const Site& site) {
  PropagationSettings radio = radio_with_equipment(site);
  radio.noise = {};
  radio.noise_rise_db = 0;
  return radio;
}

}  // namespace

const LossBreakdown& EndpointCache::path_loss(Point3 to) {
  const auto known = losses_.find(to);
  if (known != losses_.end()) return known->second;
  const auto staying = staying_->find(snapped_in_plan(to));
  LossBreakdown loss = staying == staying_->end() ? linkmargin::path_loss(*from_, to)
                                                  : linkmargin::path_loss(*staying->second, from_->at());
  return losses_.emplace(to, std::move(loss)).first->second;
}

SceneCache::SceneCache(const Site& site, Doors doors)
    : radio_(without_noise(site)),
      calibration_(site.calibration),
      materials_(site.materials),
      storeys_(site.storeys),
      scene_(std::make_shared<const Scene>(site, doors)) {}

bool SceneCache::fits(const Site& site, Doors doors) const {
  return doors == scene_->doors() && without_noise(site) == radio_ && site.calibration == calibration_ &&
         site.storeys == storeys_ && site.materials == materials_;
}

std::shared_ptr<EndpointCache> SceneCache::end(Point3 at) {
  const auto known = ends_.find(at);
  if (known != ends_.end()) return known->second;
  std::size_t losses = 0;
  for (const auto& [place, known_end] : ends_) losses += known_end->size();
  if (losses >= kMostLosses) ends_.clear();
  return ends_.emplace(at, std::make_shared<EndpointCache>(*scene_, at, staying_)).first->second;
}

void SceneCache::let_stay(std::span<const Point3> places) {
  auto staying = std::make_shared<StayingEnds>();
  for (const Point3 place : places) {
    const Point3 at = snapped_in_plan(place);
    const auto known = staying_->find(at);
    staying->emplace(
        at, known == staying_->end() ? std::make_shared<const LinkEndpoint>(*scene_, at) : known->second);
  }
  staying_ = std::move(staying);
  ends_.clear();
}

std::shared_ptr<SceneCache> SceneCacheSet::scene(const Site& site, Doors doors) {
  auto found =
      std::ranges::find_if(latest_first_, [&](const auto& known) { return known->fits(site, doors); });
  if (found == latest_first_.end()) {
    if (latest_first_.size() >= most_) latest_first_.pop_back();
    latest_first_.push_back(std::make_shared<SceneCache>(site, doors));
    found = std::prev(latest_first_.end());
  }
  std::rotate(latest_first_.begin(), found, std::next(found));
  return latest_first_.front();
}

const FadingModel& SceneCacheSet::fading_model(const Fading& fading) {
  if (fading_ != fading) {
    fading_model_.emplace(fading);
    fading_ = fading;
  }
  return *fading_model_;
}

}  // namespace linkmargin
