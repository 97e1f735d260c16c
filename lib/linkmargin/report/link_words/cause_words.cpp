#include "linkmargin/report/link_words/cause_words.hpp"

#include "linkmargin/report/words/codes/part_words.hpp"
#include "linkmargin/report/words/phrases.hpp"

#include <algorithm>
#include <initializer_list>
#include <vector>

namespace linkmargin {
namespace {

/// What reflections and bends bring back is worth a word from here on.
constexpr double kWorthWordDb = 2;

/// What is in the way, the dearest first.
std::vector<const LossItem*> obstacles(const Link& link) {
  std::vector<const LossItem*> found;
  for (const LossItem& item : link.loss.items) {
    if (stands_in_the_way(item.cause) && item.loss_db >= kSmallDb) found.push_back(&item);
  }
  std::ranges::stable_sort(found,
                           [](const LossItem* a, const LossItem* b) { return a->loss_db > b->loss_db; });
  return found;
}

double sum_db(const std::vector<const LossItem*>& items) {
  double sum = 0;
  for (const LossItem* item : items) sum += item->loss_db;
  return sum;
}

/// Losses this near to each other are not ranked: nobody could tell which is more.
constexpr double kAlikeDb = 1;

/// Whether several things cost about the same each. @param found  the dearest first
bool are_alike(const std::vector<const LossItem*>& found) {
  return found.size() > 1 && found.front()->loss_db - found.back()->loss_db < kAlikeDb;
}

/// "3 walls", "2 obstacles".
std::string count_words(const Wording& wording, const std::vector<const LossItem*>& found) {
  const bool walls =
      std::ranges::all_of(found, [](const LossItem* one) { return one->cause == LossCause::wall; });
  return wording.counted(walls ? "cause.walls" : "cause.obstacles", found.size());
}

std::string between_words(const Wording& wording, const Site& site, const Link& link) {
  const std::vector<const LossItem*> found = obstacles(link);
  const Language::Place distance{"distance", wording.length(link.loss.distance_m)};
  const Language::Place hub{"hub", wording.hub(site, link.heard_by())};
  const std::string bends = bends_words(wording, link.loss);
  if (found.empty() && !bends.empty()) return wording.say("cause.round", {distance, hub, {"bends", bends}});
  if (found.empty())
    return wording.say(itemises(site.radio.model) ? "cause.in_sight" : "cause.not_itemised", {distance, hub});
  const Language::Place thing{"thing", thing_words(wording, *found.front())};
  const Language::Place count{"count", count_words(wording, found)};
  std::string text;
  if (distance_outweighs(link.loss)) {
    text = are_alike(found) ? wording.say("cause.distance_alone", {distance, hub, count})
                            : wording.say("cause.distance", {distance, hub, count, thing});
  } else if (found.size() == 1) {
    text = wording.say("cause.only", {distance, hub, thing});
  } else if (are_alike(found) && found.size() == 2) {
    text = wording.say("cause.two_alike",
                       {distance, hub, count, thing, {"second", thing_words(wording, *found[1])}});
  } else if (are_alike(found)) {
    text = wording.say("cause.alike", {distance, hub, count});
  } else if (found.size() > 2 && 2 * found.front()->loss_db > sum_db(found)) {
    text = wording.say("cause.more_than_all", {distance, hub, count, thing});
  } else {
    text =
        wording.say("cause.most", {distance, hub, count, thing, {"second", thing_words(wording, *found[1])}});
  }
  return bends.empty() ? text : text + " " + wording.say("cause.bends", {{"bends", bends}});
}

}  // namespace

std::string thing_words(const Wording& wording, const LossItem& item) {
  const std::string thing = wording.name(item_text(wording.language(), item));
  if (item.material.empty()) return thing;
  return wording.say("fall.thing", {{"thing", thing},
                                    {"material", wording.name(wording.language().material(item.material))}});
}

std::string bends_words(const Wording& wording, const LossBreakdown& loss) {
  if (loss.turns.empty()) return {};
  std::vector<std::string> names;
  for (const LossItem& item : loss.items) {
    if (item.cause == LossCause::bend) names.push_back(part_text(wording.language(), item.part));
  }
  return wording.names(names, names.size());
}

double device_mount_db(const Link& link) {
  using enum BudgetTerm;
  return link.weaker_is_downlink
             ? lost_db(link.weaker(), {receiver_mounting, receiver_metal, receiver_body})
             : lost_db(link.weaker(), {transmitter_mounting, transmitter_metal, transmitter_body});
}

std::string cause_words(const Wording& wording, const Site& site, const Link& link) {
  std::string text = between_words(wording, site, link);
  if (const double mount_db = device_mount_db(link); mount_db >= kBigMountDb) {
    text += " " + wording.say("cause.mounting", {{"points", points_text(wording, site.reading, mount_db)}});
  }
  const double reflected_db = diffuse_db(link.loss);
  const bool brings_back =
      reflected_db >= kWorthWordDb || bends_db(link.loss) - reflected_db <= -kWorthWordDb;
  if (brings_back && !obstacles(link).empty()) text += " " + wording.say("cause.gains");
  return text;
}

}  // namespace linkmargin
