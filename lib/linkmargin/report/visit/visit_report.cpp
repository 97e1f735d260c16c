#include "linkmargin/report/visit/visit_report.hpp"

#include "linkmargin/base/joined.hpp"
#include "linkmargin/report/json/json_values.hpp"
#include "linkmargin/report/visit/visit_words.hpp"
#include "linkmargin/report/words/cautions.hpp"
#include "linkmargin/report/words/nearby_words.hpp"
#include "linkmargin/report/words/phrases.hpp"

#include <algorithm>
#include <iterator>

namespace linkmargin {
namespace {

std::string_view shared_code(SharedKind kind) {
  switch (kind) {
    case SharedKind::spacer:
      return "fit_spacer";
    case SharedKind::hub_moved:
      return "move_hub";
    case SharedKind::repeater_moved:
      return "move_repeater";
    case SharedKind::repeater_added:
      return "add_repeater";
    case SharedKind::hub_added:
      break;
  }
  return "add_hub";
}

std::string_view device_code(DeviceStop stop) {
  switch (stop) {
    case DeviceStop::change:
      return "device";
    case DeviceStop::read:
      return "read";
    case DeviceStop::cause:
      return "cause";
    case DeviceStop::read_again:
      break;
  }
  return "read_again";
}

std::string kind_code(const VisitStop& stop) {
  const auto* shared = std::get_if<SharedWork>(&stop.work);
  return std::string(shared != nullptr ? shared_code(shared->kind)
                                       : device_code(std::get<DeviceWork>(stop.work).stop));
}

std::string radio_of(const VisitStop& stop) {
  const auto* shared = std::get_if<SharedWork>(&stop.work);
  return shared != nullptr ? shared->radio : std::get<DeviceWork>(stop.work).device;
}

std::string stop_text(const Wording& wording, const Site& site, const VisitPlan& plan,
                      const VisitStop& stop) {
  return joined(stop_words(wording, site, plan, stop).steps, " ");
}

json::Value change_json(const DeviceStep& change) {
  json::Value value{{"spacer", change.spacer}, {"at_m", nullptr}, {"height_m", nullptr},
                    {"hub", nullptr},          {"via", nullptr},  {"spots", nullptr}};
  if (change.place) {
    value["at_m"] = {json::number(change.place->at.x), json::number(change.place->at.y)};
    value["height_m"] = json::number(change.place->height_m);
  }
  if (change.enrol) {
    value["hub"] = change.enrol->hub;
    value["via"] = change.enrol->via;
  }
  if (change.spots)
    value["spots"] = {{"distance_m", json::number(change.spots->distance_m)}, {"spots", change.spots->spots}};
  return value;
}

void add_device_json(json::Value& value, const DeviceWork& work) {
  value["outcome_before"] = std::string(outcome_code(work.outcome));
  value["read_percent"] = work.read_percent ? json::number(*work.read_percent) : json::Value(nullptr);
  value["reading_before_percent"] = json::number(work.percent_before);
  value["pass_probability_before"] = json::number(work.chance_before);
  value["read_first"] = work.read_first;
  value["change"] = change_json(work.change);
  value["reading_percent"] = json::number(work.percent);
  value["pass_probability"] = json::number(work.check_chance);
  value["spots_pass_probability"] = work.change.spots ? json::number(work.chance) : json::Value(nullptr);
  value["met"] = work.met;
  value["ends_at_percent"] = json::number(work.ends_at_percent);
  value["otherwise"] = work.otherwise ? change_json(*work.otherwise) : json::Value(nullptr);
}

json::Value stop_json(const Wording& wording, const Site& site, const VisitPlan& plan,
                      const VisitStop& stop) {
  json::Value value{{"kind", kind_code(stop)},
                    {"radio", radio_of(stop)},
                    {"storey", site.storeys[stop.place.storey].name},
                    {"at_m", {json::number(stop.place.at.x), json::number(stop.place.at.y)}},
                    {"height_m", json::number(stop.place.height_m)}};
  if (const auto* shared = std::get_if<SharedWork>(&stop.work)) {
    value["needed_by"] = json::Value::array();
    for (const SharedWork::NeededBy& needed : shared->needed_by)
      value["needed_by"].push_back({{"device", needed.device},
                                    {"reading_percent", json::number(needed.percent)},
                                    {"settles", needed.settles}});
    value["read_first"] = shared->read_first;
  } else {
    add_device_json(value, std::get<DeviceWork>(stop.work));
  }
  value["text"] = stop_text(wording, site, plan, stop);
  return value;
}

bool is_stop_for_cause(const VisitStop& stop) {
  const auto* work = std::get_if<DeviceWork>(&stop.work);
  return work != nullptr && work->stop == DeviceStop::cause;
}

bool drills(const VisitPlan& plan) {
  return visit_parts(plan).drill;
}

}  // namespace

Document visit_document(const Language& language, const Site& site, const VisitPlan& plan,
                        const TypedSite& typed) {
  const Wording wording(language);
  Document document;
  auto& blocks = document.blocks;
  blocks.emplace_back(Paragraph{
      wording.say("verdict.site", {{"site", plan.site}, {"doors", doors_phrase(wording, plan.doors)}})});
  const Tone tone = short_devices(plan).empty() ? Tone::strong : Tone::weak;
  for (const std::string& text : visit_verdict(wording, plan)) blocks.emplace_back(Paragraph{text, tone});
  for (const std::string& text : visit_spot_words(wording, plan)) blocks.emplace_back(Paragraph{text});
  if (plan.nearby_readings > 0) blocks.emplace_back(Paragraph{nearby_phrase(wording, plan.nearby_readings)});
  if (const auto parts = visit_part_words(wording, plan); !parts.empty()) {
    blocks.emplace_back(Heading{wording.say("visit.take")});
    blocks.emplace_back(bullet_list(parts));
  }
  int number = 0;
  for (const VisitStop& stop : plan.stops) {
    const StopWords words = stop_words(wording, site, plan, stop);
    blocks.emplace_back(Heading{std::to_string(++number) + ". " + words.name});
    blocks.emplace_back(Paragraph{words.where});
    blocks.emplace_back(bullet_list(words.steps));
  }
  std::vector<std::string> closing = visit_left(wording, plan);
  if (std::ranges::any_of(plan.after.areas, &AreaCover::weak)) {
    for (const char* key : {"check.place_for_areas", "check.areas_where"})
      closing.push_back(onward_words(wording, key, typed));
  }
  if (!closing.empty()) {
    blocks.emplace_back(Heading{wording.say("visit.after")});
    blocks.emplace_back(bullet_list(closing));
  }
  if (const std::vector<std::string> about = visit_proof(wording, plan); !about.empty()) {
    blocks.emplace_back(Heading{wording.say("visit.about")});
    blocks.emplace_back(bullet_list(about));
  }
  if (!plan.warnings.empty()) {
    blocks.emplace_back(Heading{wording.say("notes.site_cautions")});
    blocks.emplace_back(warning_list(language, plan.warnings));
  }
  const auto first = std::ranges::find_if(plan.stops, is_stop_for_cause);
  if (first != plan.stops.end())
    blocks.emplace_back(
        Paragraph{onward_words(wording, "relocate.next", typed, std::get<DeviceWork>(first->work).device)});
  using enum StandingCaution;
  for (Block& line : drills(plan)
                         ? closing_cautions(wording, {reading_decides, detectors_stay, ladders, drilling})
                         : closing_cautions(wording, {reading_decides, detectors_stay, ladders}))
    blocks.push_back(std::move(line));
  return document;
}

Table visit_rows(const Language& language, const Site& site, const VisitPlan& plan) {
  const Wording wording(language);
  Table table;
  for (const char* key : {"stop",
                          "kind",
                          "radio",
                          "storey",
                          "x_m",
                          "y_m",
                          "height_m",
                          "read_percent",
                          "reading_before_percent",
                          "pass_probability_before",
                          "hub",
                          "via",
                          "spacer",
                          "moves",
                          "spots",
                          "reading_percent",
                          "pass_probability",
                          "spots_pass_probability",
                          "met",
                          "ends_at_percent",
                          "text"})
    table.columns.push_back({.key = key});
  double number = 0;
  for (const VisitStop& stop : plan.stops) {
    const auto* work = std::get_if<DeviceWork>(&stop.work);
    const auto reading = [&](double percent) {
      return reading_cell(percent, plan.reading.weak_below_percent);
    };
    const auto of_work = [&](auto figure) { return work != nullptr ? Cell{figure(*work)} : Cell{}; };
    const auto of_change = [&](auto figure) { return work != nullptr ? figure(work->change) : Cell{}; };
    table.rows.push_back(
        {{{++number},
          {kind_code(stop)},
          {radio_of(stop)},
          {site.storeys[stop.place.storey].name},
          {stop.place.at.x},
          {stop.place.at.y},
          {stop.place.height_m},
          work != nullptr && work->read_percent ? reading(*work->read_percent) : Cell{},
          work != nullptr ? reading(work->percent_before) : Cell{},
          of_work([](const DeviceWork& one) { return one.chance_before; }),
          of_change([](const DeviceStep& one) { return one.enrol ? Cell{one.enrol->hub} : Cell{}; }),
          of_change(
              [](const DeviceStep& one) { return one.enrol ? Cell{joined(one.enrol->via, "; ")} : Cell{}; }),
          of_change([](const DeviceStep& one) { return flag_cell(one.spacer); }),
          of_change([](const DeviceStep& one) { return flag_cell(one.place.has_value()); }),
          of_change([](const DeviceStep& one) {
            return one.spots ? Cell{static_cast<double>(one.spots->spots)} : Cell{};
          }),
          work != nullptr ? reading(work->percent) : Cell{},
          of_work([](const DeviceWork& one) { return one.check_chance; }),
          work != nullptr && work->change.spots ? Cell{work->chance} : Cell{},
          work != nullptr ? flag_cell(work->met) : Cell{},
          of_work([](const DeviceWork& one) { return one.ends_at_percent; }),
          {stop_text(wording, site, plan, stop)}}});
  }
  return table;
}

std::string visit_json(const Language& language, const Site& site, const VisitPlan& plan) {
  const Wording wording(language);
  json::Value stops = json::Value::array();
  for (const VisitStop& stop : plan.stops) stops.push_back(stop_json(wording, site, plan, stop));
  const VisitParts parts = visit_parts(plan);
  json::Value value{{"site", plan.site},
                    {"frequency_mhz", json::number(mhz_from_hz(plan.frequency_hz))},
                    {"doors", doors_word(plan.doors)},
                    {"chance", json::number(plan.chance)},
                    {"short_devices", short_devices(plan)},
                    {"parts",
                     {{"hubs", parts.hubs},
                      {"repeaters", parts.repeaters},
                      {"spacers", parts.spacers},
                      {"spare_spacers", parts.spare_spacers}}},
                    {"holes", plan.effort.holes},
                    {"stops", std::move(stops)},
                    {"read_again", plan.read_again},
                    {"edits", json::edits(plan.edits)},
                    {"sets", plan.sets},
                    {"sets_tried", plan.tried},
                    {"proved", plan.proved},
                    {"text", joined(visit_verdict(wording, plan), " ")},
                    {"cautions", json::warnings(language, plan.warnings)}};
  if (plan.nearby_readings > 0) value["nearby_readings"] = plan.nearby_readings;
  return json::text(value);
}

}  // namespace linkmargin
