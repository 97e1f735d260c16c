#include "linkmargin/report/visit/visit_words.hpp"

#include "linkmargin/report/words/move_words.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/words/remedy_words.hpp"
#include "linkmargin/report/words/spot_words.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

/// Names that a stop lists: at it they are all needed.
constexpr std::size_t kStopNames = 20;

/// Whether a device is more likely enough than not.
bool is_likely(const DeviceWork& work) {
  constexpr double half = 0.5;
  return work.chance >= half;
}

/// A reading that is asked for: rounded up, so that no less will do.
std::string asked_percent(const Wording& wording, double percent) {
  return wording.number(std::ceil(percent - 1e-9), 0);
}

class StopTeller {
 public:
  StopTeller(const Wording& wording, const Site& site, const VisitPlan& plan)
      : wording_(wording), site_(site), plan_(plan) {}

  StopWords tell(const VisitStop& stop) {
    if (const auto* shared = std::get_if<SharedWork>(&stop.work))
      tell_shared(*shared, stop.place);
    else
      tell_device(std::get<DeviceWork>(stop.work));
    return std::move(words_);
  }

 private:
  std::string say(std::string_view key, Language::Places places = {}) const {
    return wording_.say(key, places);
  }
  Language::Place threshold() const {
    return {"threshold", wording_.number(plan_.reading.weak_below_percent)};
  }
  std::string percent(double value) const {
    return wording_.percent(value, plan_.reading.weak_below_percent);
  }
  void add(std::string text) { words_.steps.push_back(std::move(text)); }

  void tell_shared(const SharedWork& work, const Placement& place) {
    words_.name = wording_.name(work.radio);
    words_.where = wording_.place(site_, work.from.value_or(place));
    std::vector<std::string> devices, expected, settled, later;
    for (const SharedWork::NeededBy& needed : work.needed_by) {
      devices.push_back(needed.device);
      if (needed.here) {
        expected.push_back(say("visit.expected", {{"device", wording_.name(needed.device)},
                                                  {"percent", percent(needed.percent)}}));
      }
      (needed.settles ? settled : later).push_back(needed.device);
    }
    const Language::Place names{"names", wording_.names(devices, kStopNames)};
    if (!devices.empty()) add(say("visit.for", {names}));
    if (work.read_first)
      add(wording_.counted("visit.read_these_first", devices.size(), {names, threshold()}));
    switch (work.kind) {
      case SharedKind::spacer:
        add(say("remedy.spacer", {{"thick", wording_.with_unit(1000 * kSpacerM, 0, "mm")}}));
        break;
      case SharedKind::hub_moved:
      case SharedKind::repeater_moved:
        add(say("visit.move", {{"move", move_words(wording_, site_, *work.from, place)},
                               {"place", wording_.place(site_, place)}}));
        if (std::string off = off_metal_words(wording_, site_, work.radio, place); !off.empty())
          add(std::move(off));
        add(say(work.kind == SharedKind::hub_moved ? "visit.mains_of_hub" : "visit.mains"));
        break;
      case SharedKind::repeater_added:
        words_.name = say("visit.new", {{"name", wording_.name(work.radio)}});
        add(wording_.counted("visit.add_repeater", devices.size(), {names}));
        break;
      case SharedKind::hub_added:
        words_.name = say("visit.new", {{"name", wording_.name(work.radio)}});
        add(wording_.counted("visit.add_hub", devices.size(), {names}));
        break;
    }
    if (devices.empty()) return;
    if (expected.empty()) return add(say("visit.tested_later"));
    add(say("visit.hold", {{"expected", wording_.listed(expected, kStopNames)}}));
    if (settled.empty()) return add(say("visit.settles_later"));
    add(wording_.counted("visit.settles", settled.size(),
                         {{"names", wording_.names(settled, kStopNames)}, threshold()}));
    if (!later.empty())
      add(wording_.counted("visit.finished_later", later.size(),
                           {{"names", wording_.names(later, kStopNames)}}));
  }

  void tell_device(const DeviceWork& work) {
    const auto device = std::ranges::find(site_.devices, work.device, &Device::name);
    words_.name = wording_.name(work.device);
    words_.where = wording_.place(site_, device->place);
    const Language::Place ends{"ends", asked_percent(wording_, work.ends_at_percent)};
    const Language::Place wanted{"wanted", wording_.chance(plan_.chance)};
    switch (work.stop) {
      case DeviceStop::cause:
        add(say(*work.read_percent > 0 ? "visit.cause" : "visit.cause_nothing",
                {{"read", percent(*work.read_percent)}}));
        add(say("visit.done_read", {ends}));
        break;
      case DeviceStop::read_again:
        add(say("visit.again", {{"read", percent(*work.read_percent)}}));
        add(say("visit.done_read", {ends}));
        break;
      case DeviceStop::read:
        add(present(work));
        add(say(is_likely(work) ? "visit.nothing_helps" : "visit.nothing_helps_weak", {ends}));
        break;
      case DeviceStop::change:
        add(present(work));
        if (work.read_first && !work.change.empty())
          add(say(work.read_before ? "visit.read_before" : "visit.read_first", {ends}));
        add_change(work.change, device->place);
        add(say(work.change.read_percent ? "visit.done_there"
                : work.change.spots      ? "visit.done_spots"
                                         : "visit.done",
                {ends, {"percent", percent(work.percent)}, {"chance", wording_.chance(work.chance)}}));
        if (!work.met) add(say(is_likely(work) ? "visit.still_short" : "visit.still_weak", {wanted}));
        break;
    }
    add_fallback(work, device->place);
  }

  std::string present(const DeviceWork& work) const {
    if (work.read_percent)
      return say(*work.read_percent > 0 ? "visit.reads" : "visit.reads_nothing",
                 {{"read", percent(*work.read_percent)}, {"percent", percent(work.percent_before)}});
    return say("visit.predicted", {{"percent", percent(work.percent_before)},
                                   threshold(),
                                   {"chance", wording_.chance(work.chance_before)}});
  }

  std::string enrolment(const VisitWay& way) const {
    const bool is_new = std::ranges::find(site_.hubs, way.hub, &Hub::name) == site_.hubs.end();
    if (way.via.empty())
      return say("visit.enrol_hub",
                 {{"hub", is_new ? wording_.name(way.hub) : wording_.hub(site_, way.hub)}});
    return say("visit.enrol_repeater", {{"repeater", wording_.name(way.via.front())}});
  }

  /// Through a repeater that the plan adds.
  bool is_new(const VisitWay& way) const {
    return !way.via.empty() &&
           std::ranges::find(site_.repeaters, way.via.front(), &Repeater::name) == site_.repeaters.end();
  }

  std::vector<std::string> change_words(const DeviceStep& change, const Placement& from) const {
    std::vector<std::string> texts;
    if (change.enrol) texts.push_back(enrolment(*change.enrol));
    if (change.place)
      texts.push_back(say("visit.move", {{"move", move_words(wording_, site_, from, *change.place)},
                                         {"place", wording_.place(site_, *change.place)}}));
    if (change.read_percent)
      texts.push_back(say("visit.read_there", {{"percent", percent(*change.read_percent)}}));
    if (change.spacer)
      texts.push_back(say("remedy.spacer", {{"thick", wording_.with_unit(1000 * kSpacerM, 0, "mm")}}));
    if (change.spots) texts.push_back(spots_words(wording_, *change.spots));
    return texts;
  }

  void add_change(const DeviceStep& change, const Placement& from) {
    for (std::string& text : change_words(change, from)) add(std::move(text));
  }

  void add_fallback(const DeviceWork& work, const Placement& from) {
    if (work.stop == DeviceStop::cause && !work.otherwise && !work.remedy) return add(say("visit.swap"));
    std::string text;
    if (work.stop == DeviceStop::cause && work.otherwise && work.otherwise->enrol &&
        is_new(*work.otherwise->enrol)) {
      return add(say("visit.otherwise",
                     {{"text", say("visit.enrol_later",
                                   {{"repeater", wording_.name(work.otherwise->enrol->via.front())}})}}));
    }
    if (work.otherwise) {
      for (const std::string& one : change_words(*work.otherwise, work.change.place.value_or(from)))
        text += (text.empty() ? "" : " ") + one;
    } else if (work.remedy) {
      text = remedy_action(wording_, site_, *work.remedy);
    } else {
      text = say("visit.wire");
    }
    const bool reads_itself = work.otherwise && work.otherwise->spots;
    const bool changes = work.otherwise && !work.otherwise->empty();
    if (changes && !reads_itself) text += " " + say("visit.then_read");
    add(say("visit.otherwise", {{"text", text}}));
  }

  const Wording& wording_;
  const Site& site_;
  const VisitPlan& plan_;
  StopWords words_;
};

}  // namespace

StopWords stop_words(const Wording& wording, const Site& site, const VisitPlan& plan, const VisitStop& stop) {
  return StopTeller(wording, site, plan).tell(stop);
}

std::vector<std::string> visit_verdict(const Wording& wording, const VisitPlan& plan) {
  const Language::Place wanted{"wanted", wording.chance(plan.chance)};
  const Language::Place threshold{"threshold", wording.number(plan.reading.weak_below_percent)};
  if (plan.stops.empty())
    return {wording.say(plan.before.present.of_device.empty() ? "visit.nothing" : "visit.nothing_read",
                        {wanted, threshold})};
  std::vector<std::string> works;
  for (const VisitStop& stop : plan.stops) {
    if (const auto* work = std::get_if<DeviceWork>(&stop.work)) works.push_back(work->device);
  }
  std::vector<std::string> texts{
      wording.counted("visit.devices", works.size(), {{"names", wording.names(works)}})};
  std::vector<std::string> causes, open, weak;
  for (const VisitStop& stop : plan.stops) {
    const auto* work = std::get_if<DeviceWork>(&stop.work);
    if (work == nullptr || work->met) continue;
    (work->stop == DeviceStop::cause ? causes : is_likely(*work) ? open : weak).push_back(work->device);
  }
  const auto add = [&](std::string_view key, const std::vector<std::string>& names) {
    if (!names.empty()) texts.push_back(wording.say(key, {{"names", wording.names(names)}, wanted}));
  };
  const std::size_t left = causes.size() + open.size() + weak.size();
  add("visit.open", open);
  add("visit.weak", weak);
  add("visit.cause_first", causes);
  constexpr std::size_t several = 3;
  if (causes.size() >= several) texts.push_back(wording.say("visit.hub_first"));
  if (left < works.size())
    texts.push_back(wording.say(left == 0 ? "visit.all_reach" : "visit.others_reach", {wanted, threshold}));
  if (plan.effort.parts == 0) texts.push_back(wording.say("visit.nothing_bought"));
  return texts;
}

std::vector<std::string> visit_spot_words(const Wording& wording, const VisitPlan& plan) {
  std::vector<std::string> by_spots;
  for (const VisitStop& stop : plan.stops) {
    const auto* work = std::get_if<DeviceWork>(&stop.work);
    if (work != nullptr && work->met && work->change.spots) by_spots.push_back(work->device);
  }
  if (by_spots.empty()) return {};
  return {wording.counted("visit.counts_spots", by_spots.size(), {{"names", wording.names(by_spots)}})};
}

std::vector<std::string> visit_part_words(const Wording& wording, const VisitPlan& plan) {
  const VisitParts parts = visit_parts(plan);
  std::vector<std::string> texts;
  const auto add = [&](std::string_view key, int count) {
    if (count > 0) texts.push_back(wording.counted(key, static_cast<std::size_t>(count)));
  };
  add("visit.part.hub", parts.hubs);
  add("visit.part.repeater", parts.repeaters);
  if (parts.spacers > 0) {
    texts.push_back(wording.counted("visit.part.spacer", static_cast<std::size_t>(parts.spacers),
                                    {{"thick", wording.with_unit(1000 * kSpacerM, 0, "mm")}}));
  }
  if (parts.spare_spacers > 0) {
    texts.push_back(wording.counted("visit.part.spare_spacer", static_cast<std::size_t>(parts.spare_spacers),
                                    {{"thick", wording.with_unit(1000 * kSpacerM, 0, "mm")}}));
  }
  add("visit.part.board", parts.boards);
  if (parts.lead) texts.push_back(wording.say("visit.part.lead"));
  if (parts.drill) texts.push_back(wording.say("visit.part.drill"));
  return texts;
}

std::vector<std::string> visit_left(const Wording& wording, const VisitPlan& plan) {
  std::vector<std::string> texts;
  if (!plan.read_again.empty())
    texts.push_back(wording.say("visit.read_others", {{"names", wording.names(plan.read_again)}}));
  std::vector<std::string> areas;
  for (const AreaCover& area : plan.after.areas) {
    if (area.weak) areas.push_back(area.area);
  }
  if (!areas.empty()) texts.push_back(wording.say("visit.weak_areas", {{"names", wording.names(areas)}}));
  std::vector<std::string> full;
  for (const auto* loads : {&plan.after.hubs, &plan.after.repeater_loads}) {
    for (const HubLoad& load : *loads) {
      if (load.over_capacity) full.push_back(load.hub);
    }
  }
  if (!full.empty()) texts.push_back(wording.say("visit.full", {{"names", wording.names(full)}}));
  return texts;
}

std::vector<std::string> visit_proof(const Wording& wording, const VisitPlan& plan) {
  std::vector<std::string> texts;
  if (plan.stops.empty()) return texts;
  texts.push_back(wording.say("visit.figures"));
  if (!plan.before.present.of_device.empty()) texts.push_back(wording.say("visit.old_readings"));
  if (plan.tried > 1) {
    const Language::Place tried{"tried", wording.number(static_cast<double>(plan.tried), 0)};
    const Language::Place sets{"sets", wording.number(static_cast<double>(plan.sets), 0)};
    const Language::Place most{"most", wording.number(static_cast<double>(plan.most_changes), 0)};
    texts.push_back(wording.say(plan.proved ? "visit.proved" : "visit.limit", {tried, sets, most}));
    if (!plan.proved && plan.tried_parts > 0)
      texts.push_back(wording.counted("visit.limit_parts", static_cast<std::size_t>(plan.tried_parts)));
  }
  return texts;
}

}  // namespace linkmargin
