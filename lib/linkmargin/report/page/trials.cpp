#include "linkmargin/report/page/trials.hpp"

#include "linkmargin/analysis/review/place_trials.hpp"
#include "linkmargin/base/sure_probability.hpp"
#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/report/drawing/palette.hpp"
#include "linkmargin/report/drawing/picture_file.hpp"
#include "linkmargin/report/json/json_values.hpp"
#include "linkmargin/report/page/plan.hpp"
#include "linkmargin/report/words/phrases.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace linkmargin::page {
namespace {

/// A place on its own in a text, for the script to fill.
Language::Place open_place(std::string_view name) {
  return {name, "{" + std::string(name) + "}"};
}

class TrialWriter {
 public:
  explicit TrialWriter(const PageModel& content) : content_(content), points_(content) {}

  json::Value write() {
    const SiteReview& review = content_.review();
    json::Value devices = json::Value::array(), names = json::Value::array();
    json::Value storeys = json::Value::array();
    for (const CoverageMap& map : review.states.front().maps) storeys.push_back(html::plain(map.storey));
    for (const Device& device : content_.site().devices) {
      devices.push_back(content_.entry(device.name).id());
      names.push_back(html::plain(device.name));
    }
    json::Value radios = json::Value::array(), cases = json::Value::array(), colours = json::Value::array();
    for (const RadioTrials& radio : review.trials) radios.push_back(written(radio));
    for (const CaseReview& one : review.cases)
      cases.push_back({{"name", html::plain(one.name)},
                       {"figures", bytes(trial_figures(content_.site(), one.table))},
                       {"slots", slots_used(one.table)}});
    json::Value chance_colours = json::Value::array();
    for (int percent = 0; percent <= 100; ++percent) {
      colours.push_back(hex_text(map_colour(percent / 100.0, content_.threshold_percent() / 100)));
      chance_colours.push_back(hex_text(map_colour(percent / 100.0, kSureProbability)));
    }
    const LinkTable& now = review.states.front().table;
    json::Value rooms = json::Value::array();
    for (const std::string& room : rooms_) rooms.push_back(room);
    // Cases leave readings out.
    const bool compares_plainly = !review.cases.empty() && !review.readings.empty();
    return {{"devices", std::move(devices)},
            {"names", std::move(names)},
            {"stations", stations()},
            {"capacities", capacities(now)},
            {"figures", bytes(as_read(trial_figures(content_.site(), now)))},
            {"without_readings", compares_plainly
                                     ? json::Value(bytes(trial_figures(content_.site(), review.as_planned)))
                                     : json::Value(nullptr)},
            {"slots", slots_used(now)},
            {"storeys", std::move(storeys)},
            {"rooms", std::move(rooms)},
            {"radios", std::move(radios)},
            {"cases", std::move(cases)},
            {"colours", std::move(colours)},
            {"chance_colours", std::move(chance_colours)},
            {"signs",
             {standing_sign(content_.wording(), Standing::fine),
              standing_sign(content_.wording(), Standing::close),
              standing_sign(content_.wording(), Standing::weak)}},
            {"words", words()}};
  }

 private:
  /// What was read stands in the place of what was expected, as it does in the table.
  std::vector<TrialFigures> as_read(std::vector<TrialFigures> figures) const {
    const std::vector<Device>& devices = content_.site().devices;
    for (std::size_t i = 0; i < std::min(figures.size(), devices.size()); ++i) {
      const auto read = content_.entry(devices[i].name).read_percent;
      if (!read) continue;
      figures[i].percent = figures[i].low_percent = figures[i].high_percent = *read;
      figures[i].pass_probability = *read < content_.threshold_percent() ? 0 : 1;
    }
    return figures;
  }

  std::string bytes(const std::vector<TrialFigures>& figures) const {
    std::string all;
    const auto add = [&](double value) {
      all += static_cast<char>(static_cast<unsigned char>(std::clamp(value, 0.0, 255.0)));
    };
    for (const TrialFigures& one : figures) {
      const double threshold = content_.threshold_percent();
      for (const double percent : {one.percent, one.low_percent, one.high_percent})
        add(whole_percent(percent, threshold));
      const double chance = one.pass_probability;
      add(is_no_chance(chance) ? 0 : is_certain(chance) ? 100 : whole_chance(chance));
      add(one.outcome == Outcome::weak ? 2 : one.outcome == Outcome::doubtful ? 1 : 0);
      add(static_cast<double>(one.heard_by));
    }
    return base64(all);
  }

  std::size_t room_of(const Placement& place) {
    const std::string room = html::plain(content_.place_text(place));
    const auto found = std::ranges::find(rooms_, room);
    const auto position = static_cast<std::size_t>(found - rooms_.begin());
    if (found == rooms_.end()) rooms_.push_back(room);
    return position;
  }

  json::Value written(const RadioTrials& radio) {
    json::Value places = json::Value::array(), slots = json::Value::array();
    std::vector<TrialFigures> figures;
    for (const PlaceTrial& trial : radio.places) {
      const auto point = points_.of(trial.place);
      if (!point) continue;
      places.push_back(
          {point->map, std::round(10 * point->at_px.x) / 10, std::round(10 * point->at_px.y) / 10,
           html::plain(content_.wording().place(content_.site(), trial.place)), room_of(trial.place)});
      figures.insert(figures.end(), trial.devices.begin(), trial.devices.end());
      slots.push_back(trial.slots_used);
    }
    json::Value value{{"name", html::plain(radio.radio)},
                      {"device", -1},
                      {"places", std::move(places)},
                      {"figures", bytes(figures)},
                      {"slots", std::move(slots)}};
    const auto& devices = content_.site().devices;
    const auto device = std::ranges::find(devices, radio.radio, &Device::name);
    if (radio.device) value["device"] = device - devices.begin();
    if (const auto now = points_.of(placed(radio)))
      value["now"] = {now->map, std::round(10 * now->at_px.x) / 10, std::round(10 * now->at_px.y) / 10};
    return value;
  }

  const Placement& placed(const RadioTrials& radio) const {
    const Site& site = content_.site();
    if (const auto hub = std::ranges::find(site.hubs, radio.radio, &Hub::name); hub != site.hubs.end())
      return hub->place;
    if (const auto one = std::ranges::find(site.repeaters, radio.radio, &Repeater::name);
        one != site.repeaters.end())
      return one->place;
    return std::ranges::find(site.devices, radio.radio, &Device::name)->place;
  }

  json::Value stations() const {
    json::Value names = json::Value::array();
    for (const Hub& hub : content_.site().hubs) names.push_back(html::plain(content_.hub_text(hub.name)));
    for (const Repeater& repeater : content_.site().repeaters)
      names.push_back(html::plain(content_.hub_text(repeater.name)));
    return names;
  }

  static json::Value capacities(const LinkTable& table) {
    json::Value found = json::Value::array();
    for (const auto* loads : {&table.hubs, &table.repeater_loads}) {
      for (const HubLoad& load : *loads)
        found.push_back(load.capacity ? json::Value(*load.capacity) : json::Value(nullptr));
    }
    return found;
  }

  json::Value words() const {
    const auto say = [&](std::string_view key, Language::Places places = {}) {
      return html::plain(content_.say(key, places));
    };
    const auto both = [&](const std::string& key) {
      const auto form = [&](const char* count) {
        return say(key + count, {open_place("names"), open_place("count"), open_place("all")});
      };
      return json::Value::array({form(".one"), form(".other")});
    };
    const std::string doors = doors_phrase(content_.wording(), content_.review().states.front().table.doors);
    const Language::Place with_doors{"doors", doors};
    return {
        {"and", say("list.and", {open_place("names"), open_place("last")})},
        {"more", say("list.more", {open_place("names"), open_place("count")})},
        {"weak_figure", say("sign.weak", {open_place("figure")})},
        {"chance", say("chance.about", {open_place("count")})},
        {"no_chance", say("chance.least")},
        {"sure", say("chance.most")},
        {"was", say("try.was", {open_place("now"), open_place("was")})},
        {"as_planned", say("try.shown_as_planned", {with_doors})},
        {"next", say("try.next", {open_place("radio")})},
        {"head", say("try.tried", {open_place("radio"), open_place("room")})},
        {"head_case", say("try.tried_case", {open_place("case")})},
        {"at", say("try.at", {open_place("place")})},
        {"doors", say("try.with_doors", {with_doors})},
        {"caption", say("try.caption", {open_place("storey"), with_doors})},
        {"doors_off", say("try.doors_off")},
        {"planned_only", say("try.planned_only")},
        {"whole_way", say("try.whole_way")},
        {"weak", both("verdict.weak")},
        {"none_weak", say("verdict.none_weak")},
        {"doubtful", both("verdict.doubtful")},
        {"others", both("verdict.others")},
        {"all_good", both("verdict.all_good")},
        {"no_walls", itemises(content_.site().radio.model) ? std::string() : say("verdict.no_walls")},
        {"full", say("try.full", {open_place("hub"), open_place("used"), open_place("capacity")})},
        {"figures", say("try.figures", {open_place("device"), open_place("percent"), open_place("chance")})},
        {"range", say("try.range", {open_place("low"), open_place("high")})},
        {"received", say("try.received", {open_place("hub")})},
        {"take", say("try.take", {open_place("radio")})}};
  }

  const PageModel& content_;
  MapPoints points_;
  std::vector<std::string> rooms_;
};

bool has_trials(const SiteReview& review) {
  return !review.trials.empty() || !review.cases.empty();
}

}  // namespace

void write_trial_controls(html::Writer& out, const PageModel& content) {
  const SiteReview& review = content.review();
  if (!has_trials(review)) return;
  out.open("div", {{"class", "trial"}, {"hidden", ""}});
  out.open("fieldset");
  out.element("legend", content.say("try.title"));
  const auto choice = [&](const std::string& value, const std::string& label) {
    const std::string id = "trial-" + (value.empty() ? "none" : value);
    out.lone("input", {{"type", "radio"},
                       {"name", "trial"},
                       {"id", id},
                       {"value", value},
                       {value.empty() ? "checked" : "", ""}});
    out.element("label", {{"for", id}}, label);
  };
  choice("", content.say("try.as_planned"));
  for (std::size_t i = 0; i < review.trials.size(); ++i)
    choice("r" + std::to_string(i),
           content.say("try.place_of", {{"radio", html::name(review.trials[i].radio)}}));
  for (std::size_t i = 0; i < review.cases.size(); ++i)
    choice("c" + std::to_string(i), html::name(review.cases[i].name));
  out.close();
  out.close();
}

void write_trial_result(html::Writer& out, const PageModel& content) {
  if (!has_trials(content.review())) return;
  out.open("div", {{"class", "tried"}, {"aria-live", "polite"}});
  out.close();
}

void write_trial_help(html::Writer& out, const PageModel& content) {
  if (has_trials(content.review()))
    out.element(
        "p", {{"class", "aside trial-help"}, {"hidden", ""}},
        content.say("try.how", {{"doors", doors_phrase(content.wording(),
                                                       content.review().states.front().table.doors)}}));
}

void write_trial_figures(html::Writer& out, const PageModel& content) {
  if (!has_trials(content.review())) return;
  std::string text = json::line(TrialWriter(content).write());
  // Within a script element nothing may look like its end.
  for (std::size_t at = text.find('<'); at != std::string::npos; at = text.find('<', at))
    text.replace(at, 1, "\\u003c");
  out.open("script", {{"type", "application/json"}, {"id", "trials"}});
  out.markup(text);
  out.close();
}

}  // namespace linkmargin::page
