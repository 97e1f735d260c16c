#include "linkmargin/report/page/remedies.hpp"

#include "linkmargin/report/words/advice.hpp"
#include "linkmargin/report/words/move_words.hpp"
#include "linkmargin/report/words/spot_words.hpp"
#include "linkmargin/report/page/loss_waterfall.hpp"
#include "linkmargin/report/page/html.hpp"

#include <algorithm>

namespace linkmargin::page {
namespace {

constexpr std::size_t kNamesGained = 6;

const Placement& hub_place(const Site& site, const std::string& name) {
  return std::ranges::find(site.hubs, name, &Hub::name)->place;
}

std::string gains_text(const PageModel& content, const Remedy& remedy) {
  std::vector<std::string> names;
  for (const std::string& name : remedy.gains) names.push_back(html::name(name));
  return names.empty()
             ? std::string()
             : " " + content.say("remedy.gains", {{"names", content.language().listed(names, kNamesGained)}});
}

}  // namespace

std::string remedy_words(const PageModel& content, const DevicePage& entry, const Remedy& remedy) {
  const Site& site = content.site();
  const std::string radio = html::name(remedy.radio);
  const auto moved = [&](const Placement& from) {
    return Language::Place{"move", move_words(content.wording(), content.site(), from, *remedy.place)};
  };
  const auto place = [&] { return Language::Place{"place", content.place_text(*remedy.place)}; };
  switch (remedy.kind) {
    case RemedyKind::spots:
      return spots_words(content.wording(), *remedy.trial);
    case RemedyKind::nearest_place:
      return content.say("remedy.nearest_place", {moved(entry.device->place)});
    case RemedyKind::best_place:
      return content.say("remedy.best_place", {moved(entry.device->place)});
    case RemedyKind::hub_moved:
      return content.say("remedy.hub_moved",
                         {{"hub", content.hub_text(remedy.radio)}, moved(hub_place(site, remedy.radio))}) +
             gains_text(content, remedy);
    case RemedyKind::other_hub:
      return content.say("remedy.other_hub", {{"hub", content.hub_text(remedy.radio)}});
    case RemedyKind::known_repeater:
      return content.say("remedy.known_repeater", {{"repeater", radio}});
    case RemedyKind::new_repeater:
      return content.say("remedy.new_repeater", {place()});
    case RemedyKind::wire:
      return content.say("remedy.wire");
  }
  return {};
}

std::vector<std::string> mounting_words(const PageModel& content, const DevicePage& entry) {
  const bool ruled = content.site().profiles.at(entry.device->profile).fixed_by_rule;
  std::vector<std::string> texts;
  if (device_metal_db(*entry.link) >= kBigMountDb)
    texts.push_back(content.say(ruled                    ? "mounting.ruled"
                                : entry.device->may_move ? "mounting.may_move"
                                                         : "mounting.stays"));
  if (device_body_db(*entry.link) >= kBigMountDb) texts.push_back(content.say("mounting.body"));
  return texts;
}

std::string outcome_words(const PageModel& content, const Remedy& remedy) {
  if (!remedy.expected) return {};
  return content.say(remedy.trial ? "remedy.then_spots" : "remedy.then",
                     {{"percent", content.percent_text(remedy.expected->percent)},
                      {"threshold", content.threshold_text()},
                      {"chance", content.chance_text(remedy.expected->pass_probability)}}) +
         (remedy.enough ? "" : " " + content.say("remedy.not_enough"));
}

std::string left_out_words(const PageModel& content, SkipReason left_out) {
  switch (left_out) {
    case SkipReason::low_reading:
      return content.say("left_out.low_reading");
    case SkipReason::look_for_cause:
      return content.say("left_out.look_for_cause");
    case SkipReason::shift_will_not_do:
      return content.say("left_out.shift_will_not_do");
    case SkipReason::ruled_place:
      return content.say("left_out.ruled_place");
    case SkipReason::device_stays:
      return content.say("left_out.device_stays");
    case SkipReason::hubs_stay:
      return content.say("left_out.hubs_stay");
    case SkipReason::needs_nothing:
      return content.say("left_out.needs_nothing");
  }
  return {};
}

}  // namespace linkmargin::page
