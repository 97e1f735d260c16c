#include "linkmargin/analysis/placement/model/placement_places.hpp"
#include "linkmargin/base/range.hpp"
#include "linkmargin/prediction/serving/serving.hpp"
#include "linkmargin/site/site_radios.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

bool name_taken(const Site& site, const std::vector<PlacedRadio>& radios, const std::string& name) {
  const auto has = [&](const auto& list) {
    return std::ranges::any_of(list, [&](const auto& one) { return one.name == name; });
  };
  return has(site.hubs) || has(site.repeaters) || has(site.devices) || has(site.areas) ||
         std::ranges::any_of(radios, [&](const PlacedRadio& one) { return one.radio.name == name; });
}

/// One more of a kind: free to go anywhere.
PlacedRadio one_more(const Site& site, const std::vector<PlacedRadio>& radios, Hub like, bool repeater) {
  like.may_move.reset();
  like.mount.reset();
  like.fixed = false;
  for (int number = repeater ? 1 : 2;; ++number) {
    like.name = (repeater ? "repeater " : "hub ") + std::to_string(number);
    if (!name_taken(site, radios, like.name)) return {like, repeater, false};
  }
}

Hub new_repeater(const Site& site) {
  if (!site.repeaters.empty()) return as_hub(site.repeaters.front());
  if (!site.profiles.contains(kRepeaterProfile)) throw DomainError("no profile is called 'repeater'");
  const Placement at = site.hubs.front().place;
  return {.name = {}, .profile = kRepeaterProfile, .place = {at.storey, at.at, kRepeaterHeightM}};
}

void take_kind(const Site& site, std::vector<PlacedRadio>& radios, std::vector<Hub> known, int count,
               bool repeater) {
  std::stable_partition(known.begin(), known.end(), [](const Hub& one) { return one.fixed; });
  const auto fixed = std::ranges::count_if(known, [](const Hub& one) { return one.fixed; });
  if (count < fixed)
    throw DomainError(std::to_string(fixed) + (repeater ? " repeaters" : " hubs") +
                      " are fixed: fewer cannot be");
  for (int i = 0; i < count; ++i) {
    if (static_cast<std::size_t>(i) < known.size()) {
      radios.push_back({known[static_cast<std::size_t>(i)], repeater, true});
    } else {
      radios.push_back(one_more(site, radios, repeater ? new_repeater(site) : known.front(), repeater));
    }
  }
}

/// What may not move at all has one place.
Mobility or_stays(const std::optional<Mobility>& mobility) {
  return mobility.value_or(Mobility{Mobility::Radius{0}});
}

}  // namespace

std::vector<PlacedRadio> placed_radios(const Site& site, int hubs, int repeaters, bool anywhere) {
  std::vector<Hub> known_hubs = site.hubs;
  std::vector<Hub> known_repeaters;
  for (const Repeater& repeater : site.repeaters) known_repeaters.push_back(as_hub(repeater));
  if (!anywhere) {
    for (Hub& hub : known_hubs) hub.may_move = or_stays(mobility(site, hub));
    for (std::size_t i = 0; i < known_repeaters.size(); ++i)
      known_repeaters[i].may_move = or_stays(mobility(site.repeaters[i]));
  }
  std::vector<PlacedRadio> radios;
  take_kind(site, radios, std::move(known_hubs), hubs, false);
  take_kind(site, radios, std::move(known_repeaters), repeaters, true);
  return radios;
}

}  // namespace linkmargin
