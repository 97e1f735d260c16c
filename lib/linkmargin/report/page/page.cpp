#include "linkmargin/report/page/page.hpp"

#include "linkmargin/base/embedded.hpp"
#include "linkmargin/base/joined.hpp"
#include "linkmargin/base/sure_probability.hpp"
#include "linkmargin/report/page/card.hpp"
#include "linkmargin/report/page/frame.hpp"
#include "linkmargin/report/page/gauge.hpp"
#include "linkmargin/report/page/html.hpp"
#include "linkmargin/report/page/notes.hpp"
#include "linkmargin/report/page/page_model.hpp"
#include "linkmargin/report/page/plan.hpp"
#include "linkmargin/report/page/runs.hpp"
#include "linkmargin/report/page/tables.hpp"
#include "linkmargin/report/page/trials.hpp"
#include "linkmargin/report/page/words.hpp"
#include "linkmargin/report/visit/visit_words.hpp"
#include "linkmargin/report/words/phrases.hpp"

#include <algorithm>

namespace linkmargin {
namespace page {
namespace {

class Page {
 public:
  explicit Page(const PageModel& content) : content_(content) {}

  std::string write() {
    open_page(out_, content_.wording(), content_.site().name, content_.options().reader);
    out_.element("a", {{"class", "skip"}, {"href", "#devices"}}, say("page.skip"));
    out_.markup(plan_parts(content_));
    title();
    out_.open("main");
    maps();
    todo();
    open_section(out_, "overview", say("overview.title"));
    write_overview(out_, content_);
    out_.close();
    write_before(out_, content_);
    write_readings(out_, content_);
    devices();
    write_cases(out_, content_);
    write_runs(out_, content_);
    write_areas_and_hubs(out_, content_);
    write_failures(out_, content_);
    write_notes(out_, content_);
    out_.close();
    write_footer(out_, say("page.footer",
                           {{"date", content_.options().date}, {"version", content_.options().version}}));
    write_trial_figures(out_, content_);
    out_.open("script");
    out_.markup(joined(embedded::page_script(), ""));
    out_.close();
    close_page(out_);
    return out_.take();
  }

 private:
  std::string say(std::string_view key, Language::Places places = {}) const {
    return content_.say(key, places);
  }

  void title() {
    out_.open("header");
    out_.open("div");
    write_heading(out_, content_.wording(), html::name(content_.site().name), content_.options().reader);
    out_.open("p", {{"class", "verdict " + word(standing(content_))}});
    out_.markup(standing_sign(content_.wording(), standing(content_)));
    out_.open("span");
    out_.text(verdict(content_));
    out_.close();
    out_.close();
    const std::string doubt = doubt_words(content_);
    if (!doubt.empty()) out_.element("p", {{"class", "doubt"}}, doubt);
    out_.close();
    out_.open("div", {{"class", "about"}});
    out_.element("p", {{"class", "intro"}}, say("page.intro", {{"threshold", content_.threshold_text()}}));
    const bool adds_repeater = std::ranges::any_of(content_.review().visit.stops, [](const VisitStop& stop) {
      const auto* work = std::get_if<SharedWork>(&stop.work);
      return work != nullptr && work->kind == SharedKind::repeater_added;
    });
    if (adds_repeater || !content_.site().repeaters.empty()) out_.element("p", say("page.intro_repeater"));
    out_.element("p", {{"class", "estimate"}}, say("caution.short.reading_decides"));
    if (!content_.site().note.empty())
      out_.element("p", {{"class", "note"}}, html::name(content_.site().note));
    out_.close();
    out_.close();
  }

  /// The plan for the visit: what each device could be helped by alone stands on its card.
  void todo() {
    const VisitPlan& plan = content_.review().visit;
    out_.open("section", {{"id", "todo"}, {"aria-labelledby", "todo-title"}});
    out_.element("h2", {{"id", "todo-title"}}, say("todo.title"));
    if (plan.stops.empty()) {
      out_.element("p", say("todo.nothing"));
    } else {
      for (const std::string& text : visit_verdict(content_.wording(), plan)) out_.element("p", text);
      list("visit.take", visit_part_words(content_.wording(), plan));
      out_.open("ol", {{"class", "todo"}});
      for (const VisitStop& stop : plan.stops) todo(stop);
      out_.close();
      list("visit.after", visit_left(content_.wording(), plan));
      out_.element("p", {{"class", "aside"}}, say("todo.enrol"));
    }
    out_.element("p", {{"class", "aside"}},
                 say("caution.short.detectors_stay") + " " + say("caution.short.local_rules"));
    out_.close();
  }

  void list(std::string_view title, const std::vector<std::string>& texts) {
    if (texts.empty()) return;
    out_.element("h3", say(title));
    items(texts);
  }

  void items(const std::vector<std::string>& texts) {
    out_.open("ul");
    for (const std::string& text : texts) out_.element("li", text);
    out_.close();
  }

  void todo(const VisitStop& stop) {
    const StopWords words = stop_words(content_.wording(), content_.site(), content_.review().visit, stop);
    out_.open("li");
    if (const auto* work = std::get_if<DeviceWork>(&stop.work))
      out_.element("a", {{"href", "#" + content_.entry(work->device).id()}}, words.name);
    else
      out_.element("strong", words.name);
    out_.text(": " + words.where);
    items(words.steps);
    out_.close();
  }

  void maps() {
    out_.open("section", {{"id", "plan"}, {"aria-labelledby", "plan-title"}});
    out_.open("div", {{"class", "plan-head"}});
    out_.element("h2", {{"id", "plan-title"}}, say("plan.title"));
    controls();
    out_.close();
    write_trial_controls(out_, content_);
    out_.element("p", {{"class", "aside slides"}}, say("plan.slides"));
    out_.open("div", {{"class", "maps"}});
    for (std::size_t map = 0; map < content_.review().states.front().maps.size(); ++map)
      figure(0, map, CoverageValue::reading);
    out_.close();
    write_trial_result(out_, content_);
    out_.element("p", {{"class", "pointed"}, {"aria-live", "polite"}, {"hidden", ""}}, "");
    legend();
    out_.element("p", say("plan.intro", {{"threshold", content_.threshold_text()}}) +
                          (content_.review().readings.empty() ? std::string() : " " + say("plan.read")));
    write_trial_help(out_, content_);
    more_maps();
    out_.close();
  }

  void legend() {
    out_.open("div", {{"class", "legend"}});
    for (const CoverageValue value : {CoverageValue::reading, CoverageValue::chance}) {
      const bool chance = value == CoverageValue::chance;
      out_.open("div", {{"class", "scale-of"}, {"data-value", chance ? "chance" : "reading"}});
      out_.markup(scale_drawing(content_, value));
      out_.element("p", chance ? say("plan.scale_chance", {{"wanted", content_.chance_text(kSureProbability)},
                                                           {"threshold", content_.threshold_text()}})
                               : say("plan.scale_reading", {{"threshold", content_.threshold_text()}}));
      out_.close();
    }
    out_.element("h3", say("plan.key"));
    out_.open("ul", {{"class", "key"}});
    for (const auto& [sign, words] : plan_key(content_)) {
      out_.open("li");
      out_.markup(sign);
      out_.element("span", words);
      out_.close();
    }
    out_.close();
    out_.close();
  }

  /// Chances, and the other state of the doors.
  void more_maps() {
    out_.open("details", {{"class", "more-maps"}});
    out_.element("summary", say("plan.more"));
    const auto& states = content_.review().states;
    for (std::size_t state = 0; state < states.size(); ++state) {
      for (std::size_t map = 0; map < states[state].maps.size(); ++map) {
        if (state > 0) figure(state, map, CoverageValue::reading);
        figure(state, map, CoverageValue::chance);
      }
    }
    out_.close();
  }

  void figure(std::size_t state, std::size_t map, CoverageValue value) {
    const DoorsReview& review = content_.review().states[state];
    const CoverageMap& shown = review.maps[map];
    const bool chance = value == CoverageValue::chance;
    out_.open("figure", {{"class", "map"},
                         {"data-storey", std::to_string(map)},
                         {"data-doors", doors_word(review.table.doors)},
                         {"data-value", chance ? "chance" : "reading"}});
    out_.element("figcaption", say(chance ? "plan.chance" : "plan.reading",
                                   {{"storey", html::name(shown.storey)},
                                    {"height", content_.language().length(shown.height_m)},
                                    {"doors", doors_phrase(content_.wording(), review.table.doors)},
                                    {"threshold", content_.threshold_text()}}));
    out_.open("div", {{"class", "map-frame"},
                      {"tabindex", "0"},
                      {"role", "group"},
                      {"aria-label", say("plan.label", {{"storey", html::name(shown.storey)}})}});
    out_.markup(map_drawing(content_, state, map, value));
    out_.close();
    out_.close();
  }

  void choice(const std::string& name, const std::string& legend,
              const std::vector<std::pair<std::string, std::string>>& options) {
    if (options.size() < 2) return;
    out_.open("fieldset");
    out_.element("legend", legend);
    bool first = true;
    for (const auto& [value, label] : options) {
      const std::string id = name + "-" + value;
      out_.lone(
          "input",
          {{"type", "radio"}, {"name", name}, {"id", id}, {"value", value}, {first ? "checked" : "", ""}});
      out_.element("label", {{"for", id}}, label);
      first = false;
    }
    out_.close();
  }

  /// For the script; without it everything stands below each other.
  void controls() {
    const auto& states = content_.review().states;
    std::vector<std::pair<std::string, std::string>> storeys, doors;
    for (std::size_t map = 0; map < states.front().maps.size(); ++map)
      storeys.emplace_back(std::to_string(map), html::name(states.front().maps[map].storey));
    for (const DoorsReview& state : states) {
      const bool armed = state.table.doors == Doors::armed;
      doors.emplace_back(doors_word(state.table.doors), say(armed ? "plan.closed" : "plan.open"));
    }
    out_.open(
        "div",
        {{"class", "controls"}, {"role", "group"}, {"hidden", ""}, {"aria-label", say("plan.controls")}});
    choice("storey", say("plan.storey"), storeys);
    choice("doors", say("plan.doors"), doors);
    choice("value", say("plan.value"),
           {{"reading", say("plan.value_reading")}, {"chance", say("plan.value_chance")}});
    out_.close();
  }

  void devices() {
    out_.open("section", {{"id", "devices"}, {"aria-labelledby", "devices-title"}});
    out_.element("h2", {{"id", "devices-title"}}, say("devices.title"));
    out_.element("p", say("devices.intro", {{"threshold", content_.threshold_text()}}));
    const bool by_repeater = std::ranges::any_of(
        content_.entries(), [](const DevicePage& entry) { return entry.link->onward != nullptr; });
    if (by_repeater) out_.element("p", say("check.key.by_repeater"));
    for (const DevicePage& entry : content_.entries()) write_card(out_, content_, entry);
    out_.close();
  }

  const PageModel& content_;
  html::Writer out_;
};

}  // namespace
}  // namespace page

std::string page_html(const Site& site, const SiteReview& review, const Language& language,
                      const PageOptions& options) {
  const page::PageModel content(site, review, language, options);
  return page::Page(content).write();
}

}  // namespace linkmargin
