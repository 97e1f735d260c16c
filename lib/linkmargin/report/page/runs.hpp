#pragma once

#include "linkmargin/report/page/html.hpp"
#include "linkmargin/report/page/page_model.hpp"
#include "linkmargin/report/what_if/what_if_charts.hpp"

#include <string>
#include <vector>

// Inside report/ only: pictures of cases and of the runs of a what-if file.
namespace linkmargin::page {

/// The lowest reading of the site as it is and of each case of the review; empty where none was given.
std::vector<CaseSpread> case_spreads(const PageModel& content);

/// A drawing of so many pixels, which scrolls where the page is narrower.
void write_chart(html::Writer& out, svg::Writer& drawn, Point2 size_px, const std::string& label);

/// What-if cases side by side; nothing where none was given.
void write_cases(html::Writer& out, const PageModel& content);

/// What the runs come to: in words, what the lowest reading depends on, and how it lies in each case; nothing
/// where the page was given none.
void write_runs(html::Writer& out, const PageModel& content);

inline constexpr double kChartPx = 760;

}  // namespace linkmargin::page
