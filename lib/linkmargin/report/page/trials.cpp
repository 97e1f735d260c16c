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

  json::Value write() const {
    const SiteReview& review = content_.review();
    json::Value devices = json::Value::array(), names = json::Value::array();
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
    return {{"devices", std::move(devices)},
            {"names", std::move(names)},
            {"stations", stations()},
            {"capacities", capacities(now)},
            {"figures", bytes(trial_figures(content_.site(), now))},
            {"slots", slots_used(now)},
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

  json::Value written(const RadioTrials& radio) const {
    json::Value places = json::Value::array(), slots = json::Value::array();
    std::vector<TrialFigures> figures;
    for (const PlaceTrial& trial : radio.places) {
      const auto point = points_.of(trial.place);
      if (!point) continue;
      places.push_back({point->map, std::round(10 * point->at_px.x) / 10,
                        std::round(10 * point->at_px.y) / 10,
                        html::plain(content_.wording().place(content_.site(), trial.place))});
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
      return json::Value::array({say(key + ".one", {open_place("names"), open_place("count")}),
                                 say(key + ".other", {open_place("names"), open_place("count")})});
    };
    return {{"weak_figure", say("sign.weak", {open_place("figure")})},
            {"chance", say("chance.about", {open_place("count")})},
            {"no_chance", say("chance.least")},
            {"sure", say("chance.most")},
            {"as_planned", say("try.shown_as_planned")},
            {"at", say("try.shown_at", {open_place("radio"), open_place("place")})},
            {"case", say("try.shown_case", {open_place("case")})},
            {"weak", both("try.weak")},
            {"doubtful", both("try.doubtful")},
            {"good", say("try.good")},
            {"full", say("try.full", {open_place("hub"), open_place("used"), open_place("capacity")})},
            {"range", say("try.range", {open_place("device"), open_place("percent"), open_place("low"),
                                        open_place("high"), open_place("chance"), open_place("hub")})},
            {"take", say("try.take", {open_place("radio")})}};
  }

  const PageModel& content_;
  MapPoints points_;
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
  out.element("p", {{"class", "tried"}, {"aria-live", "polite"}}, content.say("try.shown_as_planned"));
  out.close();
}

void write_trial_help(html::Writer& out, const PageModel& content) {
  if (has_trials(content.review()))
    out.element("p", {{"class", "aside trial-help"}, {"hidden", ""}}, content.say("try.how"));
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
