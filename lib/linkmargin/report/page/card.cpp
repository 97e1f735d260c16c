#include "linkmargin/report/page/card.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/drawing/svg.hpp"
#include "linkmargin/report/page/gauge.hpp"
#include "linkmargin/report/page/loss_waterfall.hpp"
#include "linkmargin/report/page/plan.hpp"
#include "linkmargin/report/page/tables.hpp"
#include "linkmargin/report/page/words.hpp"
#include "linkmargin/report/words/phrases.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin::page {
namespace {

std::string signed_points(const PageModel& content, double points) {
  const std::string size = content.language().number(std::abs(points), 0);
  return (size == "0" ? "" : points < 0 ? "\u2212" : "+") + size;
}

/// One bar of a fall: from where to where on the scale, which reaches to `most`.
std::string step_drawing(const PageModel& content, const FallStep& step, double most) {
  const double low = std::clamp(std::min(step.from_percent, step.to_percent), 0.0, most);
  const double high = std::clamp(std::max(step.from_percent, step.to_percent), 0.0, most);
  const double scale = 100 / most;
  const bool level = step.kind == FallStep::Kind::distance || step.kind == FallStep::Kind::expected;
  const bool up = !level && step.to_percent > step.from_percent;
  const std::string css_class = level ? "level" : up ? "rise" : "drop";
  return "<svg class=\"step\" width=\"100%\" height=\"18\" aria-hidden=\"true\" focusable=\"false\"><rect "
         "class=\"" +
         css_class + "\" x=\"" + bar_at(scale * low) + "\" y=\"3\" width=\"" + bar_at(scale * (high - low)) +
         "\" height=\"12\"/>" + bar_line("limit", scale * content.threshold_percent(), "0", "18") + "</svg>";
}

class Card {
 public:
  Card(html::Writer& out, const PageModel& content, const DevicePage& entry)
      : out_(out), content_(content), entry_(entry), steps_(fall(content, entry)) {}

  void write() {
    const std::string standing = word(entry_.standing);
    out_.open("article", {{"class", "card " + standing},
                          {"id", entry_.id()},
                          {"data-reading", content_.percent_text(link().told().reading_percent)},
                          {"data-chance", content_.wording().chance_figure(link().pass_probability)},
                          {"tabindex", "-1"},
                          {"aria-labelledby", entry_.id() + "-name"}});
    head();
    reading();
    out_.element("p", {{"class", "why"}}, cause_words(content_, entry_));
    remedies();
    ways();
    if (content_.for_file()) figures();
    out_.close();
  }

 private:
  const Link& link() const { return *entry_.link; }

  void head() {
    out_.open("h3", {{"id", entry_.id() + "-name"}});
    out_.markup(standing_sign(content_.wording(), entry_.standing));
    out_.text(" " + html::name(entry_.device->name));
    out_.close();
    out_.element("p", {{"class", "where"}}, content_.place_text(entry_.device->place));
    out_.element("p", {{"class", "received"}}, received_words(content_, link()));
  }

  void reading() {
    Gauge gauge = gauge_of(entry_);
    gauge.label = outlook_words(content_, entry_);
    // With readings the two would not be of the same knowledge.
    const bool compares = entry_.before != nullptr && content_.review().readings.empty();
    if (compares) gauge.before = entry_.before->told().reading_percent;
    out_.markup(gauge_drawing(content_, gauge));
    if (const auto words = reading_words(content_, entry_)) {
      out_.element("p", {{"class", "read"}}, *words);
      const std::string other = other_spot_words(content_, entry_);
      if (!other.empty()) out_.element("p", other);
    } else {
      out_.element("p", outlook_words(content_, entry_));
    }
    if (entry_.other_doors != nullptr) other_doors();
    if (compares) before();
  }

  /// Only where it differs as it is shown.
  void other_doors() {
    const std::string now = content_.percent_text(link().told().reading_percent);
    const std::string other = content_.percent_text(entry_.other_doors->told().reading_percent);
    if (now == other) return;
    const bool open = content_.review().states.front().table.doors == Doors::armed;
    out_.element("p", {{"class", "aside"}},
                 content_.say(open ? "outlook.doors_open" : "outlook.doors_closed",
                              {{"percent", other},
                               {"chance", content_.chance_text(entry_.other_doors->pass_probability)},
                               {"threshold", content_.threshold_text()}}));
  }

  void before() {
    const std::string was = content_.percent_text(entry_.before->told().reading_percent);
    if (was == content_.percent_text(link().told().reading_percent)) return;
    out_.element("p", {{"class", "aside"}}, content_.say("before.was", {{"percent", was}}));
  }

  void remedies() {
    if (entry_.relocation == nullptr) return;
    const DeviceRemedies found = device_remedies(content_, entry_);
    out_.element("h4", content_.say("todo.title"));
    for (const std::string& reason : found.left_out) out_.element("p", {{"class", "aside"}}, reason);
    if (found.stop)
      out_.element("p", content_.say("card.in_plan", {{"number", std::to_string(*found.stop)}}));
    if (entry_.relocation->remedies.empty()) return;
    out_.open("ol", {{"class", "remedies"}});
    for (const DeviceRemedies::Item& item : found.items) {
      out_.open("li", {{"class", item.lead.empty() ? "" : "first"}});
      if (!item.lead.empty()) {
        out_.element("strong", item.lead);
        out_.text(" ");
      }
      out_.text(item.text);
      out_.close();
    }
    out_.close();
  }

  void ways() {
    out_.open("details", {{"class", "ways"}, {entry_.standing == Standing::fine ? "" : "open", ""}});
    out_.element("summary", content_.say("card.ways"));
    out_.open("div", {{"class", "pair"}});
    out_.open("figure", {{"class", "way-figure"}});
    out_.markup(way_drawing(content_, entry_, steps_));
    const Language::Place hub{"hub", content_.hub_text(link().heard_by())};
    out_.open("figcaption");
    out_.text(content_.say(link().loss.turns.empty() ? "way.straight" : "way.bent", {hub}));
    if (link().onward) {
      out_.text(" " + content_.say("way.onward", {{"repeater", content_.hub_text(link().heard_by())},
                                                  {"stations", station_words(content_, *link().onward)}}));
    }
    out_.close();
    out_.close();
    fall_table();
    out_.close();
    out_.close();
  }

  void fall_table() {
    double most = 100;
    for (const FallStep& step : steps_) most = std::max({most, step.from_percent, step.to_percent});
    out_.open("div", {{"class", "fall-frame"}});
    out_.open("table", {{"class", "fall"}});
    out_.element("caption", content_.say("fall.caption", {{"threshold", content_.threshold_text()}}));
    out_.open("thead");
    out_.open("tr");
    out_.element("th", {{"scope", "col"}}, content_.say("fall.what"));
    out_.element("th", {{"scope", "col"}, {"class", "bar"}}, content_.say("fall.bar"));
    out_.element("th", {{"scope", "col"}, {"class", "figure"}}, content_.say("fall.points"));
    if (content_.for_file()) out_.element("th", {{"scope", "col"}, {"class", "figure"}}, "dB");
    out_.close();
    out_.close();
    out_.open("tbody");
    for (const FallStep& step : steps_) row(step, most);
    out_.close();
    out_.close();
    out_.close();
  }

  void row(const FallStep& step, double most) {
    const bool level = step.kind == FallStep::Kind::distance || step.kind == FallStep::Kind::expected;
    const std::string number = step.number > 0 ? std::to_string(step.number) : std::string();
    out_.open("tr", {{"class", level ? "level" : "step"}, {number.empty() ? "" : "data-step", number}});
    out_.open("th", {{"scope", "row"}});
    if (step.number > 0) {
      out_.element("span", {{"class", "badge"}}, number);
      out_.text(" ");
    }
    out_.text(step.text);
    out_.close();
    out_.open("td", {{"class", "bar"}});
    out_.markup(step_drawing(content_, step, most));
    out_.close();
    const std::string points = level ? content_.percent_text(std::clamp(step.to_percent, 0.0, 100.0)) +
                                           (step.to_percent > 100 ? "+" : "") + "\u00A0%"
                                     : signed_points(content_, step.to_percent - step.from_percent);
    out_.element("td", {{"class", "figure"}}, points);
    if (content_.for_file())
      out_.element("td", {{"class", "figure"}}, level ? "" : content_.language().number(step.loss_db, 1));
    out_.close();
  }

  /// For the file: both budgets, item by item.
  void figures() {
    out_.open("details", {{"class", "figures"}});
    out_.element("summary", content_.say("card.figures"));
    losses();
    const std::string device = html::name(entry_.device->name);
    const std::string station = content_.hub_text(link().heard_by());
    budget(device, station, link().uplink);
    if (link().downlink) budget(station, device, *link().downlink);
    out_.close();
  }

  void value_row(const std::string& name, std::initializer_list<std::string> values) {
    out_.open("tr");
    out_.element("th", {{"scope", "row"}}, name);
    for (const std::string& value : values) out_.element("td", {{"class", "figure"}}, value);
    out_.close();
  }

  void losses() {
    const Language& language = content_.language();
    open_table(out_, content_.say("card.path"),
               {content_.say("fall.what"), content_.say("explain.column.loss"),
                content_.say("explain.column.spread"), content_.say("explain.column.angle")});
    for (const LossItem& item : link().loss.items) {
      value_row(thing_words(content_.wording(), item),
                {language.number(item.loss_db, 2), language.number(item.sigma_db, 1),
                 item.incidence_deg > 0 ? language.number(item.incidence_deg, 0) + "\u00B0" : std::string()});
    }
    value_row(content_.say("explain.column.path_loss"),
              {language.number(link().loss.path_loss_db, 2), language.number(link().loss.sigma_db, 1), ""});
    close_table(out_);
  }

  void budget(const std::string& from, const std::string& to, const LinkBudget& way) {
    const Language& language = content_.language();
    open_table(out_, content_.say("card.budget", {{"from", from}, {"to", to}}),
               {content_.say("fall.what"), "dB"});
    bool first = true;
    for (const BudgetItem& item : way.items) {
      value_row(term_word(content_.wording(), item.term),
                {language.number(item.value_db, 2) + (first ? "\u00A0dBm" : "")});
      first = false;
    }
    value_row(content_.say("explain.budget.level"), {language.number(way.level.value, 2) + "\u00A0dBm"});
    value_row(content_.say("explain.budget.sensitivity"),
              {language.number(way.sensitivity.value, 2) + "\u00A0dBm"});
    if (way.noise_rise != Db{0})
      value_row(content_.say("explain.budget.noise"), {language.number(way.noise_rise.value, 2)});
    value_row(content_.say("explain.budget.margin"), {language.number(way.margin.value, 2)});
    value_row(content_.say("explain.budget.reading"), {language.number(way.reading_percent, 1) + "\u00A0%"});
    close_table(out_);
  }

  html::Writer& out_;
  const PageModel& content_;
  const DevicePage& entry_;
  std::vector<FallStep> steps_;
};

}  // namespace

void write_card(html::Writer& out, const PageModel& content, const DevicePage& entry) {
  Card(out, content, entry).write();
}

}  // namespace linkmargin::page
