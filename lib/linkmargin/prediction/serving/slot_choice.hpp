#pragma once

#include "linkmargin/prediction/serving/hub_load.hpp"
#include "linkmargin/prediction/serving/serving.hpp"

#include <string>
#include <vector>

namespace linkmargin {

/// The slots of a site's hubs and repeaters as they are taken. What is enrolled at a repeater takes slots of
/// it and of the hub; the repeater itself takes one of the hub, and one of the repeater that it is enrolled
/// at.
class SlotBook {
 public:
  /// With what the repeaters take.
  SlotBook(const Site& site, const Stations& stations);

  void take(const Link& way, const SlotUser& user);

  /// Whether the hub of a way, and the repeater that it begins at, have the slots left.
  bool fits(const Link& way, const SlotUser& user) const;

  /// How many of those two lack the slots: 0 where a way fits.
  int lacking(const Link& way, const SlotUser& user) const;

  /// Of the hubs, in the order of the site; of the repeaters.
  const std::vector<HubLoad>& hub_loads() const { return hubs_; }
  const std::vector<HubLoad>& repeater_loads() const { return repeaters_; }

  bool over_capacity() const;

 private:
  std::vector<HubLoad> hubs_;
  std::vector<HubLoad> repeaters_;
};

SlotUser slot_user(const Site& site, const Device& device);

/// The devices' best ways within the slots that are left. Where slots are short, the device goes first that
/// would lose most by its second best way; one that finds no slot goes by the way that overfills least,
/// and a hub or repeater is then over its capacity. The order of the file changes nothing.
/// @param best  of the site's devices in their order, slots not looked at
/// @param book  as the areas left it; holds all that was taken in the end
std::vector<Link> ways_within_slots(const Site& site, const Stations& stations,
                                    const FadingModel& fading_model, std::vector<Link> best, SlotBook& book);

}  // namespace linkmargin
