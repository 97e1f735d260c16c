#include "linkmargin/report/what_if/what_if_charts.hpp"

#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/report/drawing/palette.hpp"
#include "linkmargin/report/drawing/sheet.hpp"
#include "linkmargin/report/drawing/text_lines.hpp"
#include "linkmargin/report/what_if/what_if_words.hpp"
#include "linkmargin/text/display_text.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

constexpr Lettering kRowName{12, kInk, false};
constexpr Lettering kFigure{11, kInk, false};
constexpr Lettering kAxis{11, kFaintInk, false};
constexpr double kNameShare = 0.34;  // of the width
constexpr double kNoteShare = 0.17;
constexpr double kAxisPx = 40;  // over the rows
constexpr double kChartFootPx = 12;
constexpr double kBarPx = 14;
constexpr double kHillPx = 30;
constexpr std::size_t kHillParts = 50;  // of 2 % each
constexpr double kRowLine = 1.2;        // in sizes of letters
constexpr std::size_t kMostNameLines = 3;
constexpr const char* kGridLine = "#e3e6ea";

std::string colour(double percent, double threshold) {
  return hex_text(map_colour(percent / 100, threshold / 100));
}

void put(svg::Writer& out, Point2 at, const std::string& text, const Lettering& lettering,
         const char* align = "start") {
  out.text(at, text,
           {{"fill", lettering.colour},
            {"font-size", svg::px(lettering.font_px)},
            {"font-weight", lettering.bold ? "bold" : "normal"},
            {"text-anchor", align}});
}

/// Rows on one scale of readings, with their names on the left.
class ReadingRows {
 public:
  ReadingRows(svg::Writer& out, const Wording& wording, double threshold, double least, double most,
              double width_px, double note_px)
      : out_(out),
        wording_(wording),
        threshold_(threshold),
        least_(std::max(0.0, 10 * std::floor(std::min(least, threshold) / 10 - 0.3))),
        most_(std::min(100.0, 10 * std::ceil(std::max(most, threshold) / 10 + 0.3))),
        left_px_(kNameShare * width_px),
        right_px_(width_px - note_px - 14) {}

  double x(double percent) const {
    return left_px_ +
           (right_px_ - left_px_) * (std::clamp(percent, least_, most_) - least_) / (most_ - least_);
  }

  std::vector<std::string> name_lines(const std::string& name) const {
    std::vector<std::string> lines = lines_within(printable(name), kRowName, left_px_ - 16);
    if (lines.size() > kMostNameLines) {
      lines.resize(kMostNameLines);
      lines.back() = fitted(lines.back() + " \u2026", kRowName, left_px_ - 16);
    }
    return lines;
  }

  /// How high a row is whose own drawing is so high.
  double row_px(const std::vector<std::string>& lines, double own_px) const {
    return std::max(own_px, static_cast<double>(lines.size()) * kRowLine * kRowName.font_px) + 10;
  }

  void name(const std::vector<std::string>& lines, double middle_y) {
    double y = middle_y - 0.5 * static_cast<double>(lines.size()) * kRowLine * kRowName.font_px;
    for (const std::string& line : lines) {
      put(out_, {left_px_ - 12, y + kRowName.font_px}, line, kRowName, "end");
      y += kRowLine * kRowName.font_px;
    }
  }

  /// Under the rows: lines at each tenth, and the threshold.
  void grid(double bottom) {
    put(out_, {left_px_, 12}, wording_.say("what_if.picture.axis"), kAxis);
    for (double percent = least_; percent <= most_ + 1e-9; percent += 10) {
      draw_line(out_, {x(percent), kAxisPx - 6}, {x(percent), bottom}, kGridLine, "1");
      // The threshold's own figure has the room.
      if (std::abs(x(percent) - x(threshold_)) > 26 || percent == threshold_)
        put(out_, {x(percent), kAxisPx - 11}, wording_.number(percent, 0),
            percent == threshold_ ? Lettering{11, kInk, true} : kAxis, "middle");
    }
  }

  void threshold(double bottom) {
    out_.element("line", {{"x1", svg::px(x(threshold_))},
                          {"y1", svg::px(kAxisPx - 6)},
                          {"x2", svg::px(x(threshold_))},
                          {"y2", svg::px(bottom)},
                          {"stroke", kInk},
                          {"stroke-width", "2"},
                          {"stroke-dasharray", "5 4"}});
    const double floor_percent = 10 * std::floor(threshold_ / 10);
    if (threshold_ != floor_percent)
      put(out_, {x(threshold_), kAxisPx - 11}, wording_.number(threshold_), {11, kInk, true}, "middle");
  }

  /// A bar in the colours of maps: what is under the threshold dark.
  void bar(double from, double to, double y, double high_px) {
    const auto part = [&](double a, double b, const std::string& fill) {
      if (!(b > a)) return;
      out_.element("rect", {{"x", svg::px(x(a))},
                            {"y", svg::px(y)},
                            {"width", svg::px(x(b) - x(a))},
                            {"height", svg::px(high_px)},
                            {"fill", fill}});
    };
    part(from, std::min(to, threshold_), weak_fill());
    part(std::max(from, threshold_), to, strong_fill());
    out_.element("rect", {{"x", svg::px(x(from))},
                          {"y", svg::px(y)},
                          {"width", svg::px(std::max(1.0, x(to) - x(from)))},
                          {"height", svg::px(high_px)},
                          {"fill", "none"},
                          {"stroke", kInk},
                          {"stroke-width", "0.8"}});
  }

  /// The shares of runs as columns that stand on a line.
  void hill(const std::vector<double>& shares, double highest, double base_y) {
    const double wide = 100.0 / static_cast<double>(shares.size());
    for (std::size_t i = 0; i < shares.size(); ++i) {
      if (shares[i] <= 0) continue;
      const double from = wide * static_cast<double>(i);
      const double high_px = std::max(0.6, kHillPx * shares[i] / highest);
      out_.element("rect", {{"x", svg::px(x(from))},
                            {"y", svg::px(base_y - high_px)},
                            {"width", svg::px(x(from + wide) - x(from))},
                            {"height", svg::px(high_px)},
                            {"fill", from + wide <= threshold_ + 1e-9 ? weak_fill() : strong_fill()},
                            {"stroke", kInk},
                            {"stroke-width", "0.4"}});
    }
    draw_line(out_, {x(least_), base_y}, {x(most_), base_y}, kFaintInk, "1");
  }

  void dot(double percent, double y) {
    out_.element("circle", {{"cx", svg::px(x(percent))},
                            {"cy", svg::px(y)},
                            {"r", "5.5"},
                            {"fill", "#ffffff"},
                            {"stroke", kInk},
                            {"stroke-width", "2"}});
  }

  /// What a bar ends at, on paper of its own, so that lines do not cross it.
  void end(Point2 at, double percent, const std::string& value, const char* align) {
    std::string text = wording_.percent(percent, threshold_) + "\u00A0%";
    if (!value.empty())
      text = wording_.say("what_if.picture.at", {{"percent", text}, {"value", printable(value)}});
    const bool to_left = std::string_view(align) == "end";
    const double width = text_width_px(text, kFigure);
    out_.element("rect", {{"x", svg::px(to_left ? at.x - width : at.x - 1)},
                          {"y", svg::px(at.y - kFigure.font_px)},
                          {"width", svg::px(width + 1)},
                          {"height", svg::px(kFigure.font_px + 3)},
                          {"fill", "#ffffff"},
                          {"fill-opacity", "0.85"}});
    put(out_, at, text, kFigure, align);
  }

  double right_px() const { return right_px_; }

 private:
  std::string weak_fill() const { return colour(threshold_ / 2, threshold_); }
  std::string strong_fill() const { return colour((100 + threshold_) / 2, threshold_); }

  svg::Writer& out_;
  const Wording& wording_;
  double threshold_;
  double least_, most_;
  double left_px_, right_px_;
};

double highest_share(const std::vector<CaseSpread>& cases) {
  double highest = 0;
  for (const CaseSpread& of : cases) {
    if (of.runs != nullptr) highest = std::max(highest, std::ranges::max(of.runs->shares(kHillParts)));
  }
  return highest;
}

}  // namespace

double draw_dependence(svg::Writer& out, const Wording& wording, const SiteSummary& site, double width_px) {
  const std::span<const Sensitivity> swings = worth_swings(site);
  if (swings.empty()) return 0;
  double least = 100, most = 0;
  for (const Sensitivity& of : swings) {
    least = std::min(least, of.low_percent);
    most = std::max(most, of.high_percent);
  }
  ReadingRows rows(out, wording, site.reading.weak_below_percent, least, most, width_px,
                   kNoteShare * width_px);
  double bottom = kAxisPx;
  for (const Sensitivity& of : swings)
    bottom += rows.row_px(rows.name_lines(swing_words(wording, of)), kBarPx);
  rows.grid(bottom);
  double y = kAxisPx;
  for (const Sensitivity& of : swings) {
    const std::vector<std::string> lines = rows.name_lines(swing_words(wording, of));
    const double high = rows.row_px(lines, kBarPx);
    const double middle = y + high / 2;
    rows.name(lines, middle);
    rows.bar(of.low_percent, of.high_percent, middle - kBarPx / 2, kBarPx);
    y += high;
  }
  rows.threshold(bottom);
  const CaseChange& now = site.cases.front();
  if (!now.worst_device.empty())
    draw_line(out, {rows.x(now.worst_reading_percent), kAxisPx - 6},
              {rows.x(now.worst_reading_percent), bottom}, kInk, "1.6");
  y = kAxisPx;
  for (const Sensitivity& of : swings) {
    const double high = rows.row_px(rows.name_lines(swing_words(wording, of)), kBarPx);
    rows.end({rows.x(of.low_percent) - 5, y + high / 2 + 4}, of.low_percent, of.low_at, "end");
    rows.end({rows.x(of.high_percent) + 5, y + high / 2 + 4}, of.high_percent, of.high_at, "start");
    y += high;
  }
  return bottom + kChartFootPx;
}

double draw_spread(svg::Writer& out, const Wording& wording, const std::vector<CaseSpread>& cases,
                   double threshold_percent, double width_px) {
  ReadingRows rows(out, wording, threshold_percent, 0, 100, width_px, kNoteShare * width_px);
  const double highest = highest_share(cases);
  const std::size_t count = std::min(kMostCaseRows, cases.size());
  const auto own_px = [](const CaseSpread& of) { return of.runs != nullptr ? kHillPx + 4 : kBarPx; };
  double bottom = kAxisPx;
  for (std::size_t i = 0; i < count; ++i)
    bottom += rows.row_px(rows.name_lines(cases[i].name), own_px(cases[i]));
  rows.grid(bottom);
  double y = kAxisPx;
  for (std::size_t i = 0; i < count; ++i) {
    const CaseSpread& of = cases[i];
    const std::vector<std::string> lines = rows.name_lines(of.name);
    const double high = rows.row_px(lines, own_px(of));
    const double middle = y + high / 2;
    rows.name(lines, middle);
    if (of.runs != nullptr) rows.hill(of.runs->shares(kHillParts), highest, y + high - 5);
    if (of.low && of.high) rows.bar(*of.low, *of.high, middle - kBarPx / 2, kBarPx);
    if (of.predicted) rows.dot(*of.predicted, of.runs != nullptr ? y + high - 5 : middle);
    double note_y = middle + 4 - 0.5 * kRowLine * kFigure.font_px;
    const double room = width_px - rows.right_px() - 10;
    const std::vector<std::string> note = lines_within(of.note, kFigure, room);
    note_y -= 0.5 * kRowLine * kFigure.font_px * (static_cast<double>(note.size()) - 2);
    for (const std::string& line : note) {
      put(out, {rows.right_px() + 10, note_y}, line, kFigure);
      note_y += kRowLine * kFigure.font_px;
    }
    y += high;
  }
  rows.threshold(bottom);
  return bottom + kChartFootPx;
}

std::vector<CaseSpread> case_spreads(const Wording& wording, const WhatIfSummary& summary) {
  std::vector<CaseSpread> spreads;
  for (std::size_t i = 0; i < summary.cases.size(); ++i) {
    CaseSpread of{.name = case_name(wording, summary.cases[i])};
    if (summary.sites == 1 && !summary.of_sites.front().cases[i].worst_device.empty())
      of.predicted = summary.of_sites.front().cases[i].worst_reading_percent;
    if (!summary.statistics.empty()) {
      const CaseStatistics& statistics = summary.statistics[i];
      of.runs = summary.draws ? &statistics.draws : &statistics.predictions;
      const double runs = static_cast<double>(of.runs->count());
      const std::uint64_t passed = summary.draws ? statistics.drawn_pass : statistics.predicted_pass;
      if (runs > 0)
        of.note = wording.say("what_if.picture.passed",
                              {{"count", wording.number(100 * static_cast<double>(passed) / runs, 0)}});
    }
    if (of.predicted || of.runs != nullptr) spreads.push_back(std::move(of));
  }
  return spreads;
}

std::string dependence_words(const Wording& wording, const WhatIfSummary& summary) {
  return wording.say(summary.draws ? "what_if.sensitivity.intro_draws" : "what_if.sensitivity.intro") + " " +
         wording.say("what_if.picture.as_it_is");
}

std::string spread_words(const Wording& wording, const std::vector<CaseSpread>& cases) {
  const auto any = [&](auto has) { return std::ranges::any_of(cases, has); };
  if (any([](const CaseSpread& of) { return of.runs != nullptr; }))
    return wording.say("what_if.picture.spread_runs");
  return wording.say(any([](const CaseSpread& of) { return of.low.has_value(); })
                         ? "what_if.picture.spread_dots"
                         : "what_if.picture.spread_predicted");
}

}  // namespace linkmargin
