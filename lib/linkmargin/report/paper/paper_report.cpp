#include "linkmargin/report/paper/paper_report.hpp"

#include "linkmargin/report/page/gauge.hpp"
#include "linkmargin/report/page/notes.hpp"
#include "linkmargin/report/page/plan.hpp"
#include "linkmargin/report/page/runs.hpp"
#include "linkmargin/report/page/tables.hpp"
#include "linkmargin/report/page/words.hpp"
#include "linkmargin/report/paper/page_flow.hpp"
#include "linkmargin/report/paper/paper_card.hpp"
#include "linkmargin/report/paper/paper_table.hpp"
#include "linkmargin/report/paper/signs.hpp"
#include "linkmargin/report/visit/visit_words.hpp"
#include "linkmargin/report/what_if/what_if_charts.hpp"
#include "linkmargin/report/what_if/what_if_words.hpp"
#include "linkmargin/report/words/cautions.hpp"
#include "linkmargin/report/words/failure_words.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/text/display_text.hpp"

#include <algorithm>

namespace linkmargin {
namespace paper {
namespace {

constexpr int kNameColumns = 60;

std::string short_name(std::string_view chosen) {
  return shortened(printable(chosen), kNameColumns);
}

constexpr Typesetting kPaperText{short_name, "\u00A0"};

constexpr Lettering kKind{11, kFaintInk, false};
constexpr Lettering kSite{24, kInk, true};
constexpr Lettering kVerdict{14, kInk, true};
constexpr Lettering kSection{16, kInk, true};
constexpr Lettering kSubsection{12, kInk, true};
constexpr Lettering kText{11, kInk, false};
constexpr Lettering kStrong{11, kInk, true};
constexpr Lettering kAside{10, kFaintInk, false};
constexpr Lettering kPrint{9, kInk, false};
constexpr double kListPx = 16;  // how far the text of a list stands in
constexpr Point2 kScalePx{320, 36};
constexpr double kLeastMapPx = 240;
constexpr double kMostMapPx = 560;
constexpr double kMostOtherMapPx = 300;
constexpr std::size_t kFirstSteps = 2;

class Paper {
 public:
  explicit Paper(const page::PageModel& content) : content_(content) {}

  std::vector<std::string> write() {
    title();
    first();
    maps();
    todo();
    cards();
    devices();
    cases();
    runs();
    list(page::areas_and_hubs_title(content_), page::areas_and_hubs(content_));
    const auto& failures = content_.review().states.front().table.failures;
    list(say("check.title.failures"), failure_list(content_.wording(), failures));
    notes();
    const std::string footer = say("paper.footer", {{"site", name(content_.site().name)},
                                                    {"date", content_.options().date},
                                                    {"version", content_.options().version}});
    return flow_.take(definitions(content_), footer, [&](std::size_t number, std::size_t all) {
      return say("paper.page", {{"number", std::to_string(number)}, {"count", std::to_string(all)}});
    });
  }

 private:
  std::string say(std::string_view key, Language::Places places = {}) const {
    return content_.say(key, places);
  }
  std::string name(const std::string& chosen) const { return content_.wording().name(chosen); }

  /// @param intro  stays with the title and what follows
  void section(const std::string& words, const std::string& intro = {}) {
    flow_.gap(17);
    Block block(kTextWidthPx);
    block.write(words, kSection);
    if (!intro.empty()) block.skip(4);
    block.write(intro, kAside);
    flow_.heading(std::move(block));
  }

  void subsection(const std::string& words) {
    flow_.gap(11);
    Block block(kTextWidthPx);
    block.write(words, kSubsection);
    flow_.heading(std::move(block));
  }

  void bullets(const std::vector<std::string>& texts, const Lettering& lettering) {
    for (const std::string& text : texts) {
      flow_.gap(2);
      flow_.write(text, lettering, kListPx, "\u2022");
    }
  }

  void title() {
    Block head(kTextWidthPx);
    head.write(say(content_.for_file() ? "page.kind_file" : "page.kind_customer"), kKind);
    head.skip(3);
    head.write(name(content_.site().name), kSite);
    flow_.add(head);
    flow_.gap(10);
    verdict();
    flow_.gap(9);
    flow_.write(say("page.intro", {{"threshold", content_.threshold_text()}}) + " " +
                    say("caution.short.reading_decides"),
                kAside);
    flow_.write(content_.site().note, kAside);
  }

  void verdict() {
    constexpr double pad = 12, sign = 24;
    const page::Standing standing = page::standing(content_);
    Block words(kTextWidthPx - 3 * pad - sign);
    words.write(page::verdict(content_), {kVerdict.font_px, standing_colour(standing), true});
    Block box(kTextWidthPx);
    const double height = std::max(words.height_px(), sign) + 2 * pad;
    box.out().element("rect", {{"width", svg::px(kTextWidthPx)},
                               {"height", svg::px(height)},
                               {"rx", "6"},
                               {"fill", standing_tint(standing)}});
    draw_standing(box.out(), content_, standing, {pad, (height - sign) / 2}, sign);
    box.put(words, {2 * pad + sign, (height - words.height_px()) / 2});
    box.reach(height);
    flow_.add(box);
  }

  /// The first stop of the plan, for whoever reads no further.
  void first() {
    const VisitPlan& plan = content_.review().visit;
    Block block(kTextWidthPx);
    if (plan.stops.empty()) {
      block.write(say("todo.nothing"), kText);
    } else {
      const StopWords stop = stop_words(content_.wording(), content_.site(), plan, plan.stops.front());
      block.write(say("paper.first", {{"name", stop.name}}), kStrong);
      block.write(stop.where, kText);
      for (std::size_t i = 0; i < std::min(kFirstSteps, stop.steps.size()); ++i)
        block.write(stop.steps[i], kText, kListPx, "\u2022");
      if (plan.stops.size() > 1 || stop.steps.size() > kFirstSteps)
        block.write(say("paper.more_to_do", {{"title", say("todo.title")}}), kAside);
    }
    flow_.gap(11);
    flow_.add(block);
  }

  std::size_t weak_on(const std::string& storey) const {
    return static_cast<std::size_t>(
        std::ranges::count_if(content_.entries(), [&](const page::DevicePage& entry) {
          return entry.standing == page::Standing::weak &&
                 content_.site().storeys[entry.device->place.storey].name == storey;
        }));
  }

  /// The map with most that is weak first; it takes what the page has left.
  void maps() {
    const std::vector<CoverageMap>& maps = content_.review().states.front().maps;
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < maps.size(); ++i) order.push_back(i);
    std::ranges::stable_sort(order, [&](std::size_t a, std::size_t b) {
      return weak_on(maps[a].storey) > weak_on(maps[b].storey);
    });
    for (const std::size_t map : order) {
      flow_.gap(12);
      const bool is_first = map == order.front();
      const double most = is_first ? kMostMapPx : kMostOtherMapPx;
      const double room = flow_.room_px() - (is_first ? kScalePx.y + 8 : 0);
      flow_.add(map_block(map, room < kLeastMapPx ? most : std::min(room, most), is_first));
    }
  }

  Block map_block(std::size_t map, double most_height_px, bool with_scale) const {
    const DoorsReview& review = content_.review().states.front();
    const CoverageMap& shown = review.maps[map];
    Block block(kTextWidthPx);
    block.write(say("plan.reading", {{"storey", name(shown.storey)},
                                     {"height", content_.language().length(shown.height_m)},
                                     {"doors", doors_phrase(content_.wording(), review.table.doors)},
                                     {"threshold", content_.threshold_text()}}),
                kStrong);
    block.skip(3);
    svg::Writer drawing(svg::Writer::Tooltips::none);
    const Point2 size =
        page::draw_map(drawing, content_, map, {kTextWidthPx, most_height_px - block.height_px()});
    draw_moved(block.out(), drawing, {(kTextWidthPx - size.x) / 2, block.height_px()});
    block.skip(size.y);
    if (!with_scale) return block;
    block.skip(6);
    svg::Writer scale;
    scale.markup(page::scale_drawing(content_, CoverageValue::reading));
    draw_moved(block.out(), scale, {8, block.height_px()}, 0.75);
    Block legend(kTextWidthPx - 0.75 * kScalePx.x - 30);
    legend.write(say("plan.legend"), {9, kFaintInk, false});
    const bool plans_station = std::ranges::any_of(content_.review().visit.stops, [](const VisitStop& stop) {
      return std::holds_alternative<SharedWork>(stop.work);
    });
    if (plans_station) legend.write(say("plan.legend_planned"), {9, kFaintInk, false});
    block.put(legend, {0.75 * kScalePx.x + 30, block.height_px()});
    return block;
  }

  void todo() {
    const VisitPlan& plan = content_.review().visit;
    if (plan.stops.empty()) return;
    section(say("todo.title"));
    for (const std::string& text : visit_verdict(content_.wording(), plan)) flow_.write(text, kText);
    const std::vector<std::string> parts = visit_part_words(content_.wording(), plan);
    if (!parts.empty()) {
      flow_.gap(4);
      flow_.write(say("visit.take") + ": " + content_.wording().listed(parts, parts.size()) + ".", kText);
    }
    std::size_t number = 0;
    for (const VisitStop& of : plan.stops) {
      const StopWords stop = stop_words(content_.wording(), content_.site(), plan, of);
      subsection(std::to_string(++number) + ". " + stop.name);
      flow_.write(stop.where, kAside);
      bullets(stop.steps, kText);
    }
    const std::vector<std::string> left = visit_left(content_.wording(), plan);
    if (!left.empty()) {
      subsection(say("visit.after"));
      bullets(left, kText);
    }
    flow_.gap(6);
    flow_.write(say("caution.short.detectors_stay") + " " + say("caution.short.local_rules"), kAside);
  }

  void cards() {
    std::vector<const page::DevicePage*> shown;
    for (const page::DevicePage& entry : content_.entries()) {
      if (entry.standing != page::Standing::fine) shown.push_back(&entry);
    }
    if (shown.empty()) return;
    section(say("paper.cards"), say("devices.intro", {{"threshold", content_.threshold_text()}}));
    for (const page::DevicePage* entry : shown) {
      if (entry != shown.front()) flow_.gap(10);
      flow_.add(device_card(content_, *entry));
    }
  }

  void devices() {
    if (content_.entries().empty()) return;
    const SiteReview& review = content_.review();
    const bool two = review.states.size() > 1;
    const bool armed_first = review.states.front().table.doors == Doors::armed;
    const std::string closed = say("overview.closed"), open = say("overview.open");
    section(say("paper.devices"), say("overview.caption", {{"threshold", content_.threshold_text()}}));
    std::vector<PaperColumn> columns{{say("overview.device"), 2.6},
                                     {say("paper.room"), 2},
                                     {say("paper.heard_by"), 1.9},
                                     {two ? armed_first ? closed : open : say("overview.reading"), 1.5, true},
                                     {say("paper.range"), 1.4, true},
                                     {say("paper.chance"), 1.2, true}};
    if (two) columns.push_back({armed_first ? open : closed, 1.5, true});
    if (review.before) columns.push_back({say("before.before"), 1.1, true});
    if (content_.for_file()) columns.push_back({say("paper.margin"), 1.1, true});
    std::vector<PaperRow> rows;
    for (const page::DevicePage& entry : content_.entries()) {
      const Link& link = *entry.link;
      PaperRow row{{name(entry.device->name), content_.place_text(entry.device->place),
                    content_.hub_text(link.heard_by())},
                   entry.standing};
      if (entry.read_percent) {
        row.cells.insert(row.cells.end(), {page::read_figure(content_, *entry.read_percent), "", ""});
      } else {
        row.cells.push_back(content_.percent_figure(link.told().reading_percent));
        row.cells.push_back(page::has_range(link) ? content_.percent_text(link.low_percent) + "\u2013" +
                                                        content_.percent_figure(link.high_percent)
                                                  : std::string());
        row.cells.push_back(content_.wording().chance_figure(link.pass_probability));
      }
      if (two)
        row.cells.push_back(entry.other_doors == nullptr
                                ? std::string()
                                : content_.percent_figure(entry.other_doors->told().reading_percent));
      if (review.before)
        row.cells.push_back(entry.before == nullptr
                                ? say("before.new")
                                : content_.percent_figure(entry.before->told().reading_percent));
      if (content_.for_file()) row.cells.push_back(content_.wording().decibels(link.weaker().margin.value));
      rows.push_back(std::move(row));
    }
    add_table(flow_, content_, columns, rows);
  }

  void cases() {
    const SiteReview& review = content_.review();
    if (review.cases.empty()) return;
    section(say("what_if.title"), say("cases.intro"));
    std::vector<PaperRow> rows{case_row(say("cases.as_it_is"), review.as_planned)};
    for (const CaseReview& one : review.cases) rows.push_back(case_row(name(one.name), one.table));
    add_table(flow_, content_,
              {{say("cases.case"), 3},
               {say("cases.weak"), 1, true},
               {say("cases.weakest"), 2},
               {say("cases.reading"), 1, true}},
              rows);
    flow_.gap(8);
    spread_chart(page::case_spreads(content_));
  }

  void chart(const std::string& lead, const svg::Writer& drawn, double height_px) {
    Block block(kTextWidthPx);
    block.write(lead, kAside);
    block.skip(6);
    draw_moved(block.out(), drawn, {0, block.height_px()});
    block.skip(height_px);
    flow_.add(block);
  }

  void spread_chart(const std::vector<CaseSpread>& cases) {
    svg::Writer drawn;
    const double height =
        draw_spread(drawn, content_.wording(), cases, content_.threshold_percent(), kTextWidthPx);
    chart(spread_words(content_.wording(), cases), drawn, height);
  }

  void runs() {
    const WhatIfSummary* summary = content_.options().what_if;
    if (summary == nullptr || summary->of_sites.empty()) return;
    const SiteSummary& site = summary->of_sites.front();
    const Wording& wording = content_.wording();
    section(say("what_if.picture.title"));
    for (const std::string& text : {runs_words(wording, *summary), best_words(wording, site),
                                    worst_words(wording, site), no_difference_words(wording, site)})
      if (!text.empty()) flow_.write(text, kText);
    svg::Writer drawn;
    const double height = draw_dependence(drawn, wording, site, kTextWidthPx);
    if (height > 0) {
      subsection(say("what_if.sensitivity.title"));
      chart(dependence_words(wording, *summary), drawn, height);
    }
    subsection(say("what_if.picture.spread"));
    spread_chart(linkmargin::case_spreads(wording, *summary));
  }

  PaperRow case_row(const std::string& words, const LinkTable& table) const {
    const Link* lowest = page::lowest_link(table);
    return {{words, std::to_string(table.weak_devices.size()),
             lowest == nullptr ? std::string() : name(lowest->device),
             lowest == nullptr ? std::string() : content_.percent_figure(lowest->told().reading_percent)},
            {}};
  }

  void list(const std::string& words, const BulletList& items) {
    if (items.items.empty()) return;
    section(words);
    for (const BulletList::Item& item : items.items) {
      Block block(kTextWidthPx);
      const bool weak = item.tone == Tone::weak;
      draw_standing(block.out(), content_, weak ? page::Standing::weak : page::Standing::fine, {0, 0.5}, 12);
      block.write(item.text, kText, kListPx + 2);
      flow_.gap(3);
      flow_.add(block);
    }
  }

  void notes() {
    section(say("notes.title"));
    flow_.write(say("notes.cautions"), kStrong);
    bullets(standing_cautions(content_.wording()), kPrint);
    const std::vector<std::string> own = page::site_notes(content_);
    if (!own.empty()) {
      subsection(say("notes.site_cautions"));
      bullets(own, kPrint);
    }
    subsection(say("notes.method"));
    for (const std::string& text : page::method_notes(content_)) flow_.write(text, kPrint);
    subsection(say("notes.assumptions"));
    std::string facts;
    for (const auto& [fact, value] : page::assumptions(content_))
      facts += (facts.empty() ? "" : " ") + fact + ": " + value + ".";
    flow_.write(facts, kPrint);
  }

  const page::PageModel& content_;
  PageFlow flow_;
};

}  // namespace
}  // namespace paper

std::vector<std::string> paper_pages(const Site& site, const SiteReview& review, const Language& language,
                                     const PageOptions& options) {
  const page::PageModel content(site, review, language, options, paper::kPaperText);
  return paper::Paper(content).write();
}

}  // namespace linkmargin
