#include "linkmargin/report/page/loss_waterfall.hpp"

#include "linkmargin/report/page/html.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>
#include <string_view>

namespace linkmargin::page {
namespace {

/// What of the budget a radio's own place makes, at the end that sends and at the one that receives.
constexpr std::array<std::string_view, 3> kPlaceItems{"mounting", "metal", "body"};
constexpr std::string_view kAtSender = " at the transmitter";
constexpr std::string_view kAtReceiver = " at the receiver";
constexpr std::array<std::string_view, 2> kLearnedItems{kLearnedName, kNearbyName};

double lost_db(const LinkBudget& way, std::span<const std::string_view> names) {
  double lost = 0;
  for (const BudgetItem& item : way.items) {
    if (std::ranges::find(names, item.name) != names.end()) lost -= item.value_db;
  }
  return lost;
}

double place_db(const LinkBudget& way, std::string_view what, std::string_view where) {
  const std::string name = std::string(what) + std::string(where);
  const std::array<std::string_view, 1> one{name};
  return lost_db(way, one);
}

double place_db(const LinkBudget& way, std::string_view where) {
  double lost = 0;
  for (const std::string_view what : kPlaceItems) lost += place_db(way, what, where);
  return lost;
}

bool in_the_way(const LossItem& item) {
  return item.cause != LossCause::distance && item.cause != LossCause::detour;
}

class Fall {
 public:
  Fall(const PageModel& content, const DevicePage& entry) : content_(content), entry_(entry) {
    const Link& link = *entry.link;
    const LinkBudget& way = link.weaker();
    level_ = 100 * (way.level - content.site().reading.zero).value /
             (content.site().reading.full - content.site().reading.zero).value;
    double all_db = 0;
    for (const LossItem& item : link.loss.items)
      all_db += item.cause == LossCause::distance ? 0 : item.loss_db;
    const bool down = link.weaker_is_downlink;
    device_db_ = place_db(way, down ? kAtReceiver : kAtSender);
    hub_db_ = place_db(way, down ? kAtSender : kAtReceiver);
    learned_db_ = lost_db(way, kLearnedItems);
    now_ = level_ + content.points(all_db + device_db_ + hub_db_ + learned_db_);
  }

  std::vector<FallStep> take() {
    const Link& link = *entry_.link;
    steps_.push_back(
        {.kind = FallStep::Kind::distance,
         .text = content_.say("fall.distance", {{"distance", content_.length_text(link.loss.distance_m)}}),
         .to_percent = now_});
    double small_db = 0, bends_db = 0, gains_db = 0;
    for (const LossItem& item : link.loss.items) {
      if (in_the_way(item)) {
        if (item.loss_db >= kSmallDb) {
          thing(item);
        } else {
          small_db += item.loss_db;
        }
      } else if (item.cause == LossCause::detour) {
        (item.loss_db > 0 ? bends_db : gains_db) += item.loss_db;
      }
    }
    step(FallStep::Kind::thing, "fall.small", small_db);
    step(FallStep::Kind::bends, "fall.bends", bends_db);
    step(FallStep::Kind::gains, "fall.gains", gains_db);
    step(FallStep::Kind::mounting, "fall.mounting", device_db_);
    step(FallStep::Kind::mounting, "fall.hub_mounting", hub_db_);
    step(FallStep::Kind::learned, "fall.learned", learned_db_);
    steps_.push_back(
        {.kind = FallStep::Kind::expected, .text = content_.say("fall.expected"), .to_percent = level_});
    return std::move(steps_);
  }

 private:
  void thing(const LossItem& item) {
    FallStep& made = add(FallStep::Kind::thing, thing_text(content_, item), item.loss_db);
    made.number = ++things_;
    made.at = item.at;
    made.item = &item;
  }

  void step(FallStep::Kind kind, std::string_view key, double loss_db) {
    if (std::abs(loss_db) >= 0.05) add(kind, content_.say(key), loss_db);
  }

  FallStep& add(FallStep::Kind kind, std::string text, double loss_db) {
    const double next = now_ - content_.points(loss_db);
    steps_.push_back({.kind = kind,
                      .text = std::move(text),
                      .from_percent = now_,
                      .to_percent = next,
                      .loss_db = loss_db});
    now_ = next;
    return steps_.back();
  }

  const PageModel& content_;
  const DevicePage& entry_;
  double level_ = 0;  ///< the reading, not cut
  double now_ = 0;
  double device_db_ = 0;
  double hub_db_ = 0;
  double learned_db_ = 0;
  std::size_t things_ = 0;
  std::vector<FallStep> steps_;
};

}  // namespace

std::vector<FallStep> fall(const PageModel& content, const DevicePage& entry) {
  return Fall(content, entry).take();
}

std::string thing_text(const PageModel& content, const LossItem& item) {
  const bool named =
      item.cause == LossCause::opening || item.cause == LossCause::obstacle;  // as somebody chose
  const std::string thing = html::name(named ? item.name : content.language().translated(item.name));
  if (item.material.empty()) return thing;
  return content.say(
      "fall.thing", {{"thing", thing}, {"material", html::name(content.language().material(item.material))}});
}

double device_item_db(const Link& link, std::string_view what) {
  return place_db(link.weaker(), what, link.weaker_is_downlink ? kAtReceiver : kAtSender);
}

double device_mount_db(const Link& link) {
  return place_db(link.weaker(), link.weaker_is_downlink ? kAtReceiver : kAtSender);
}

}  // namespace linkmargin::page
