#include "linkmargin/report/page/runs.hpp"

#include "linkmargin/analysis/what_if/what_if_changes.hpp"
#include "linkmargin/report/page/tables.hpp"
#include "linkmargin/report/what_if/what_if_words.hpp"

namespace linkmargin::page {
namespace {

void case_row(html::Writer& out, const PageModel& content, const std::string& name, const LinkTable& table) {
  const Link* lowest = lowest_link(table);
  out.open("tr");
  out.element("th", {{"scope", "row"}}, name);
  write_figure(out, std::to_string(table.weak_devices.size()));
  write_figure(out, lowest == nullptr ? std::string() : html::name(lowest->device));
  write_figure(out,
               lowest == nullptr ? std::string() : content.percent_figure(lowest->told().reading_percent));
  out.close();
}

/// A change of a reading worth a line.
constexpr double kWorthLinePercent = 2;

/// Which devices a case changes, in a list.
void case_changes(html::Writer& out, const PageModel& content, const CaseReview& one) {
  out.element("h3", html::name(one.name));
  out.open("ul", {{"class", "changes"}});
  std::size_t changed = 0;
  for (const DevicePage& entry : content.entries()) {
    const Link* then = serving_link(one.table, entry.device->name);
    if (then == nullptr) continue;
    const double now = entry.as_planned->told().reading_percent;
    if (std::abs(then->told().reading_percent - now) < kWorthLinePercent &&
        then->weak == entry.as_planned->weak)
      continue;
    ++changed;
    out.element("li", content.say(then->weak == entry.as_planned->weak ? "cases.change"
                                  : then->weak                         ? "cases.gets_weak"
                                                                       : "cases.gets_well",
                                  {{"device", html::name(entry.device->name)},
                                   {"from", content.percent_text(now)},
                                   {"to", content.percent_text(then->told().reading_percent)}}));
  }
  const bool same = same_figures(content.review().as_planned, one.table);
  if (changed == 0) out.element("li", content.say(same ? "cases.same" : "cases.no_change"));
  out.close();
}

class Runs {
 public:
  Runs(html::Writer& out, const PageModel& content)
      : out_(out),
        content_(content),
        summary_(*content.options().what_if),
        site_(summary_.of_sites.front()) {}

  void write() {
    open_section(out_, "runs", content_.say("what_if.picture.title"));
    const Wording& wording = content_.wording();
    for (const std::string& text : {runs_words(wording, summary_), best_words(wording, site_),
                                    worst_words(wording, site_), no_difference_words(wording, site_)}) {
      if (!text.empty()) out_.element("p", text);
    }
    dependence();
    spread();
    out_.close();
  }

 private:
  void dependence() {
    svg::Writer drawn;
    const double height = draw_dependence(drawn, content_.wording(), site_, kChartPx);
    if (height == 0) return;
    out_.element("h3", content_.say("what_if.sensitivity.title"));
    out_.element("p", {{"class", "aside"}}, dependence_words(content_.wording(), summary_));
    write_chart(out_, drawn, {kChartPx, height}, content_.say("what_if.picture.label_depends"));
    open_table(out_, content_.say("what_if.sensitivity.title"),
               {content_.say("what_if.sensitivity.input"), content_.say("what_if.sensitivity.low"),
                content_.say("what_if.sensitivity.high")});
    for (const Sensitivity& of : worth_swings(site_))
      row(swing_words(content_.wording(), of),
          {content_.percent_figure(of.low_percent), content_.percent_figure(of.high_percent)});
    close_table(out_);
  }

  void spread() {
    const std::vector<CaseSpread> cases = linkmargin::case_spreads(content_.wording(), summary_);
    if (cases.empty()) return;
    svg::Writer drawn;
    const double height =
        draw_spread(drawn, content_.wording(), cases, content_.threshold_percent(), kChartPx);
    out_.element("h3", content_.say("what_if.picture.spread"));
    out_.element("p", {{"class", "aside"}}, spread_words(content_.wording(), cases));
    write_chart(out_, drawn, {kChartPx, height}, content_.say("what_if.picture.label_spread"));
    open_table(out_, content_.say("what_if.changes.title"),
               {content_.say("what_if.changes.change"), content_.say("what_if.changes.weakest"),
                content_.say("what_if.changes.reading"), content_.say("what_if.changes.weak")});
    for (const CaseChange& of : site_.cases)
      row(case_name(content_.wording(), of.name),
          {content_.wording().name(of.worst_device), content_.percent_figure(of.worst_reading_percent),
           std::to_string(of.weak_count)});
    close_table(out_);
  }

  void row(const std::string& name, std::initializer_list<std::string> figures) {
    out_.open("tr");
    out_.element("th", {{"scope", "row"}}, name);
    for (const std::string& figure : figures) write_figure(out_, figure);
    out_.close();
  }

  html::Writer& out_;
  const PageModel& content_;
  const WhatIfSummary& summary_;
  const SiteSummary& site_;
};

}  // namespace

std::vector<CaseSpread> case_spreads(const PageModel& content) {
  const SiteReview& review = content.review();
  std::vector<CaseSpread> spreads;
  if (review.cases.empty()) return spreads;
  const auto add = [&](const std::string& name, const LinkTable& table) {
    const Link* lowest = lowest_link(table);
    if (lowest == nullptr) return;
    CaseSpread of{
        .name = name, .predicted = lowest->told().reading_percent, .note = html::plain(lowest->device)};
    if (has_range(*lowest)) {
      of.low = lowest->low_percent;
      of.high = lowest->high_percent;
    }
    spreads.push_back(std::move(of));
  };
  add(content.say("cases.as_it_is"), review.as_planned);
  for (const CaseReview& one : review.cases) add(html::plain(one.name), one.table);
  return spreads;
}

void write_cases(html::Writer& out, const PageModel& content) {
  const SiteReview& review = content.review();
  if (review.cases.empty()) return;
  open_section(out, "cases", content.say("what_if.title"));
  out.element("p", content.say("cases.intro"));
  if (!review.readings.empty()) out.element("p", {{"class", "aside"}}, content.say("cases.without_readings"));
  open_table(out, content.say("cases.caption"),
             {content.say("cases.case"), content.say("cases.weak"), content.say("cases.weakest"),
              content.say("cases.reading")});
  case_row(out, content, content.say("cases.as_it_is"), review.as_planned);
  for (const CaseReview& one : review.cases) case_row(out, content, html::name(one.name), one.table);
  close_table(out);
  const std::vector<CaseSpread> spreads = case_spreads(content);
  svg::Writer drawn;
  const double height = draw_spread(drawn, content.wording(), spreads, content.threshold_percent(), kChartPx);
  out.element("p", {{"class", "aside"}}, spread_words(content.wording(), spreads));
  write_chart(out, drawn, {kChartPx, height}, content.say("what_if.picture.label_spread"));
  for (const CaseReview& one : review.cases) case_changes(out, content, one);
  out.close();
}

void write_chart(html::Writer& out, svg::Writer& drawn, Point2 size_px, const std::string& label) {
  const std::string width = svg::px(size_px.x), height = svg::px(size_px.y);
  out.open("div",
           {{"class", "table-frame chart"}, {"tabindex", "0"}, {"role", "group"}, {"aria-label", label}});
  out.markup("<svg viewBox=\"0 0 " + width + " " + height + "\" width=\"" + width + "\" height=\"" + height +
             "\" role=\"img\" aria-label=\"" + svg::escaped(html::plain(label)) + "\">\n<rect width=\"" +
             width + "\" height=\"" + height + "\" fill=\"#ffffff\"/>\n" + drawn.take() + "</svg>\n");
  out.close();
}

void write_runs(html::Writer& out, const PageModel& content) {
  const WhatIfSummary* summary = content.options().what_if;
  if (summary != nullptr && !summary->of_sites.empty()) Runs(out, content).write();
}

}  // namespace linkmargin::page
