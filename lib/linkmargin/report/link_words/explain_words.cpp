#include "linkmargin/report/link_words/explain_words.hpp"

#include "linkmargin/link/radio/metal_mount.hpp"
#include "linkmargin/prediction/weak_hop.hpp"
#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/report/link_words/cause_words.hpp"
#include "linkmargin/report/link_words/outlook_words.hpp"
#include "linkmargin/report/link_words/reading_words.hpp"
#include "linkmargin/report/words/learned_words.hpp"
#include "linkmargin/report/words/nearby_words.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/words/remedy_words.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

/// One link in sentences, each part by itself.
class Explainer {
 public:
  Explainer(const Wording& wording, const Site& site, const LinkTable& table, const Link& link)
      : wording_(wording), site_(site), table_(table), link_(link) {}

  /// Verdict, how much is expected, and by how much that is over or under what is needed.
  std::string headline() const {
    const bool down = speaks_of_downlink();
    const LinkBudget& way = down ? *link_.downlink : link_.uplink;
    const Language::Place device{"device", wording_.name(link_.device)};
    if (way.below_sensitivity()) {
      return say(down ? "explain.no_reading_down" : "explain.no_reading",
                 {device,
                  {"hub", wording_.hub(site_, link_.heard_by())},
                  {"short", wording_.decibels(-way.margin.value)}});
    }
    if (link_.read_percent && !is_weak_farther_on(link_)) {
      return say(link_.outcome == Outcome::weak       ? "explain.read_weak"
                 : link_.outcome == Outcome::doubtful ? "explain.read_doubtful"
                                                      : "explain.read_good",
                 {device,
                  {"read", percent(*link_.read_percent)},
                  {"percent", percent(way.reading_percent)},
                  threshold()});
    }
    const double over_db = (way.level - threshold_level(table_.reading)).value;
    const bool doubtful = link_.pass_probability < kSureProbability;
    return say(is_weak_farther_on(link_) ? "explain.onward_weak"
               : link_.weak              ? "explain.weak"
               : doubtful                ? "explain.doubtful"
                                         : "explain.good",
               {device,
                {"percent", percent(way.reading_percent)},
                threshold(),
                {"difference", wording_.decibels(std::abs(over_db))},
                {"chance", wording_.chance(link_.pass_probability)},
                {"repeater", wording_.name(first_weak_hop(link_).device)}});
  }

  /// The way by repeaters, hop by hop; nothing where the hub hears the device itself.
  std::vector<std::string> hops() const {
    std::vector<std::string> texts;
    if (!link_.onward) return texts;
    for (const Link* hop = &link_; hop != nullptr; hop = hop->onward.get()) {
      const double reading_percent = hop->weaker().reading_percent;
      texts.push_back(say("explain.hop", {{"from", wording_.name(hop->device)},
                                          {"to", wording_.hub(site_, hop->heard_by())},
                                          {"percent", percent(reading_percent)},
                                          {"loss", wording_.decibels(hop->loss.path_loss_db)},
                                          {"cause", cause_words(wording_, site_, *hop)},
                                          {"chance", wording_.chance(hop->own_probability)}}));
    }
    texts.push_back(say("explain.way", {{"chance", wording_.chance(link_.pass_probability)}}));
    const Link* direct = direct_link();
    if (direct != nullptr) {
      texts.push_back(say("explain.directly", {{"hub", wording_.hub(site_, direct->hub)},
                                               {"percent", percent(direct->weaker().reading_percent)},
                                               {"chance", wording_.chance(direct->pass_probability)}}));
    }
    return texts;
  }

  /// What each kind of cause costs; they add up to what the signal loses.
  std::vector<std::string> parts() const {
    const LossBreakdown& loss = link_.loss;
    const double bent_db = bends_db(loss), reflected_db = diffuse_db(loss);
    const double distance_db = loss.path_loss_db - obstruction_db(loss) - bent_db + reflected_db;
    std::vector<std::string> texts{say("explain.part.distance", {{"loss", wording_.decibels(distance_db)}})};
    const auto add = [&](std::string_view key, double loss_db) {
      if (loss_db >= kSmallDb) texts.push_back(say(key, {{"loss", wording_.decibels(loss_db)}}));
    };
    if (const std::vector<std::string> obstacles = obstacle_figures(); !obstacles.empty()) {
      texts.push_back(
          say("explain.part.obstacles", {{"loss", wording_.decibels(obstruction_db(loss))},
                                         {"obstacles", wording_.listed(obstacles, kNamesListed)}}));
    }
    add("explain.part.bends", bent_db);
    add("explain.part.detours", -bent_db);
    add("explain.part.reflections", reflected_db);
    const double mount_db = device_mount_db(link_);
    if (mount_db >= kBigMountDb) {
      texts.push_back(
          say("explain.part.big_mounting", {{"loss", wording_.decibels(mount_db)},
                                            {"points", points_text(wording_, site_.reading, mount_db)}}));
    } else {
      add("explain.part.mounting", mount_db);
    }
    return texts;
  }

  /// What else there is to know of the causes: a grazing angle, metal behind a radio, what was learned from
  /// readings.
  std::vector<std::string> remarks() const {
    std::vector<std::string> texts;
    const LossItem* biggest = biggest_obstacle(link_.loss);
    if (biggest != nullptr && biggest->incidence_deg >= kObliqueDeg) {
      texts.push_back(say("explain.oblique", {{"thing", thing_words(wording_, *biggest)},
                                              {"angle", wording_.number(biggest->incidence_deg, 0)}}));
    }
    add_mounts(texts, site_.devices, link_.device);
    add_mounts(texts, site_.hubs, link_.heard_by());
    add_mounts(texts, site_.repeaters, link_.heard_by());
    texts.push_back(learned_words(wording_, site_, link_));
    texts.push_back(nearby_words(wording_, table_.nearby_readings, link_));
    std::erase(texts, "");
    return texts;
  }

  /// Range and chance, what they rest on, and both directions.
  std::vector<std::string> how_sure() const {
    const auto ranged = outlook_range(wording_, link_, table_.reading.weak_below_percent);
    std::string spread = say("explain.spread", {{"sigma", wording_.decibels(link_.sigma_db)}});
    if (const std::string more = sure_words(wording_, link_); !more.empty()) spread += " " + more;
    spread += " " + say(std::isinf(link_.k_db) ? "explain.fading_off" : "explain.fading_on");
    return {ranged, spread, directions()};
  }

 private:
  /// The best link of the device with a hub itself, where the table has it.
  const Link* direct_link() const {
    const Link* best = nullptr;
    for (const Link& other : table_.links) {
      if (other.device != link_.device || other.onward) continue;
      if (best == nullptr || other.weaker().margin > best->weaker().margin) best = &other;
    }
    return best;
  }

  std::string say(std::string_view key, Language::Places places = {}) const {
    return wording_.say(key, places);
  }
  std::string percent(double value) const {
    return wording_.percent(value, table_.reading.weak_below_percent);
  }
  Language::Place threshold() const {
    return {"threshold", wording_.number(table_.reading.weak_below_percent)};
  }

  /// The direction that the headline is about: the lower reading where that is the trouble, else the weaker
  /// one.
  bool speaks_of_downlink() const {
    const bool low = link_.lower().reading_percent < table_.reading.weak_below_percent;
    return low ? link_.lower_is_downlink() : link_.weaker_is_downlink;
  }

  /// "outer wall of clay shed 12.0", the dearest first.
  std::vector<std::string> obstacle_figures() const {
    std::vector<const LossItem*> items;
    for (const LossItem& item : link_.loss.items) {
      if (stands_in_the_way(item.cause)) items.push_back(&item);
    }
    std::ranges::stable_sort(items,
                             [](const LossItem* a, const LossItem* b) { return a->loss_db > b->loss_db; });
    std::vector<std::string> texts;
    for (const LossItem* item : items)
      texts.push_back(thing_words(wording_, *item) + " " + wording_.number(item->loss_db, 1));
    return texts;
  }

  /// What a mounting on metal does to one end of the link.
  template <typename Radio>
  void add_mounts(std::vector<std::string>& texts, const std::vector<Radio>& radios,
                  const std::string& name) const {
    for (const Radio& radio : radios) {
      if (radio.name != name || !radio.mount) continue;
      const MetalSheet sheet = *on_mount({}, *radio.mount, site_.radio.frequency_hz).metal;
      texts.push_back(say("explain.mount.losses", {{"name", wording_.name(name)},
                                                   {"gap", wording_.length(radio.mount->gap_m)},
                                                   {"front", wording_.decibels(sheet.front_db)},
                                                   {"behind", wording_.decibels(sheet.behind_db)}}) +
                      " " +
                      say(sheet.faces_deg ? "explain.mount.faces_known" : "explain.mount.faces_unknown") +
                      " " + say("explain.mount.dipole"));
    }
  }

  std::string directions() const {
    const Language::Place hub{"hub", wording_.hub(site_, link_.heard_by())};
    if (!link_.downlink) return say("explain.one_way", {hub});
    std::string text = say(link_.weaker_is_downlink ? "explain.down_counts" : "explain.up_counts",
                           {hub,
                            {"up", percent(link_.uplink.reading_percent)},
                            {"down", percent(link_.downlink->reading_percent)}});
    if (link_.weak) text += " " + say("explain.either_weak", {threshold()});
    return text;
  }

  const Wording& wording_;
  const Site& site_;
  const LinkTable& table_;
  const Link& link_;
};

/// What to try, as relocate() found it, but for spots that the reading's own words have named, and what it
/// says of them.
Section what_to_try(const Wording& wording, const Site& site, const Relocation& relocation, bool spots_named,
                    bool steps_shown) {
  const DeviceRelocation& found = relocation.devices.front();
  Section section{.title = wording.say("todo.title"), .numbered = true};
  for (const SkipReason left_out : found.left_out) {
    if (!spots_named || left_out != SkipReason::shift_will_not_do)
      section.remarks.push_back(skip_words(wording, found, left_out));
  }
  if (found.remedies.empty()) return section;
  const bool cause_first = found.verdict == ReadingVerdict::unexplained;
  section.title = wording.say(steps_shown   ? "explain.title.try_next"
                              : cause_first ? "explain.title.try_after"
                                            : "explain.title.try");
  section.list = mounting_words(wording, site, found);
  for (const Remedy& remedy : found.remedies) {
    if (!spots_named || remedy.kind != RemedyKind::spots)
      section.list.push_back(remedy_line(wording, site, relocation, found, remedy));
  }
  return section;
}

}  // namespace

std::string explain_headline(const Wording& wording, const Site& site, const LinkTable& table,
                             const Link& link) {
  return Explainer(wording, site, table, link).headline();
}

std::vector<Section> explain_sections(const Wording& wording, const Site& site, const LinkTable& table,
                                      const Link& link, const ReadingAnswer* read,
                                      const Relocation* relocation) {
  const Explainer explainer(wording, site, table, link);
  const bool steps_shown =
      read != nullptr && (read->tried ? read->tried->goes_on()
                                      : !reading_words(wording, site, table, link, *read).steps.empty());
  const bool shifts = steps_shown || (read != nullptr && read->tried);
  std::vector<std::string> sure = explainer.how_sure();
  if (read != nullptr) sure.insert(sure.begin(), explainer.headline());
  std::vector<Section> sections{
      relocation != nullptr ? what_to_try(wording, site, *relocation, shifts, steps_shown)
                            : Section{.title = wording.say("todo.title"),
                                      .remarks = {wording.say(read == nullptr ? "explain.needs_nothing"
                                                              : read->tried && read->tried->best > 0
                                                                  ? "explain.fix_there"
                                                                  : "explain.reading_enough")}},
      {.title = wording.say("explain.title.why"),
       .lead = {cause_words(wording, site, link)},
       .list = explainer.parts(),
       .remarks = explainer.remarks()}};
  if (std::vector<std::string> hops = explainer.hops(); !hops.empty())
    sections.push_back({.title = wording.say("explain.title.hops"), .list = std::move(hops)});
  sections.push_back(
      {.title = wording.say(read != nullptr ? "explain.title.before_reading" : "explain.title.how_sure"),
       .lead = std::move(sure)});
  return sections;
}

}  // namespace linkmargin
