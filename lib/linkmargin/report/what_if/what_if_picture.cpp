#include "linkmargin/report/what_if/what_if_picture.hpp"

#include "linkmargin/report/drawing/sheet.hpp"
#include "linkmargin/report/what_if/what_if_charts.hpp"
#include "linkmargin/report/what_if/what_if_words.hpp"

namespace linkmargin {
namespace {

constexpr double kSheetPx = 900;

class WhatIfSheet {
 public:
  WhatIfSheet(const Language& language, const WhatIfSummary& summary)
      : wording_(language), summary_(summary), sheet_(kSheetPx) {}

  std::string draw() {
    sheet_.write(wording_.say("what_if.title"), kTitle);
    sheet_.write(runs_words(wording_, summary_), kLead);
    for (const SiteSummary& site : summary_.of_sites) dependence(site);
    const std::size_t others = summary_.sites - summary_.of_sites.size();
    if (others > 0) sheet_.write(wording_.counted("what_if.more_sites", others), kNote);
    spread();
    sheet_.skip(8);
    sheet_.write(wording_.say("caution.short.reading_decides"), kSmallPrint);
    return sheet_.svg();
  }

 private:
  void heading(const std::string& title, const std::string& lead) {
    sheet_.skip(12);
    sheet_.write(title, {15, kInk, true});
    sheet_.write(lead, kSmallPrint);
    sheet_.skip(8);
  }

  void put_drawn(svg::Writer& drawn, double height_px) {
    svg::Writer& out = sheet_.body();
    out.open("g",
             {{"transform", "translate(" + svg::px(Sheet::kMarginPx) + " " + svg::px(sheet_.y()) + ")"}});
    out.append(drawn);
    out.close("g");
    sheet_.skip(height_px);
  }

  void dependence(const SiteSummary& site) {
    svg::Writer drawn;
    const double height = draw_dependence(drawn, wording_, site, sheet_.text_width_px());
    if (height == 0) return;
    const std::string title = wording_.say("what_if.sensitivity.title");
    heading(summary_.sites > 1 ? title + ": " + site.file : title, dependence_words(wording_, summary_));
    put_drawn(drawn, height);
  }

  /// Of several sites without runs each has its own rows.
  void spread() {
    const std::vector<CaseSpread> cases = case_spreads(wording_, summary_);
    if (cases.empty() || summary_.of_sites.empty()) return;
    svg::Writer drawn;
    const double threshold = summary_.of_sites.front().reading.weak_below_percent;
    const double height = draw_spread(drawn, wording_, cases, threshold, sheet_.text_width_px());
    heading(wording_.say("what_if.picture.spread"), spread_words(wording_, cases));
    put_drawn(drawn, height);
    if (cases.size() > kMostCaseRows)
      sheet_.write(wording_.counted("what_if.picture.more", cases.size() - kMostCaseRows), kNote);
  }

  Wording wording_;
  const WhatIfSummary& summary_;
  Sheet sheet_;
};

}  // namespace

std::string what_if_svg(const Language& language, const WhatIfSummary& summary) {
  return WhatIfSheet(language, summary).draw();
}

}  // namespace linkmargin
