#include "linkmargin/report/page/loss_waterfall.hpp"

#include "linkmargin/report/words/phrases.hpp"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <string_view>

namespace linkmargin::page {
namespace {

double mounting_db(const LinkBudget& way, bool at_receiver) {
  return at_receiver ? lost_db(way, {BudgetTerm::receiver_mounting, BudgetTerm::receiver_metal,
                                     BudgetTerm::receiver_body})
                     : lost_db(way, {BudgetTerm::transmitter_mounting, BudgetTerm::transmitter_metal,
                                     BudgetTerm::transmitter_body});
}

class Fall {
 public:
  Fall(const PageModel& content, const DevicePage& entry) : content_(content), entry_(entry) {
    const Link& link = *entry.link;
    const LinkBudget& way = link.weaker();
    level_ = 100 * (way.level - content.site().reading.zero).value /
             (content.site().reading.full - content.site().reading.zero).value;
    double all_db = 0;
    for (const LossItem& item : link.loss.items) all_db += is_of_distance(item.cause) ? 0 : item.loss_db;
    const bool down = link.weaker_is_downlink;
    device_db_ = mounting_db(way, down);
    hub_db_ = mounting_db(way, !down);
    learned_db_ = lost_db(way, {BudgetTerm::learned, BudgetTerm::nearby_readings});
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
      if (stands_in_the_way(item.cause)) {
        if (item.loss_db >= kSmallDb) {
          thing(item);
        } else {
          small_db += item.loss_db;
        }
      } else if (!is_of_distance(item.cause)) {
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
    FallStep& made = add(FallStep::Kind::thing, thing_words(content_.wording(), item), item.loss_db);
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

}  // namespace linkmargin::page
