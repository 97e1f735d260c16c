#include "line_chart.hpp"

#include "linkmargin/base/number_text.hpp"

#include <array>
#include <cmath>
#include <stdexcept>

namespace linkmargin::validation {
namespace {

constexpr double kWidth = 760;
constexpr double kPlotLeft = 64;
constexpr double kPlotRight = 540;
constexpr double kPlotTop = 46;
constexpr double kPlotBottom = 386;
constexpr double kLineHeight = 17;

struct Style {
  const char* colour;
  const char* dashes;
};

/// Okabe and Ito's colours, which people with any usual colour vision tell apart (from memory); dashes for
/// print in grey.
constexpr std::array<Style, kMostSeries> kStyles{{{"#0072b2", ""},
                                                  {"#d55e00", "9 4"},
                                                  {"#009e73", "2 3"},
                                                  {"#cc79a7", "12 3 2 3"},
                                                  {"#000000", "5 3"},
                                                  {"#e69f00", "16 4"}}};

std::string px(double value) {
  return fixed_text(value, 1);
}

std::string escaped(const std::string& text) {
  std::string result;
  for (const char letter : text) {
    if (letter == '<') {
      result += "&lt;";
    } else if (letter == '>') {
      result += "&gt;";
    } else if (letter == '&') {
      result += "&amp;";
    } else {
      result += letter;
    }
  }
  return result;
}

std::string words(double x, double y, const std::string& text, const std::string& more = "") {
  return "<text x=\"" + px(x) + "\" y=\"" + px(y) + "\"" + more + ">" + escaped(text) + "</text>\n";
}

std::string stroke(double x1, double y1, double x2, double y2, const std::string& more) {
  return "<line x1=\"" + px(x1) + "\" y1=\"" + px(y1) + "\" x2=\"" + px(x2) + "\" y2=\"" + px(y2) + "\" " +
         more + "/>\n";
}

double placed(const Axis& axis, double value, double at_from, double at_to) {
  return at_from + (value - axis.from) / (axis.to - axis.from) * (at_to - at_from);
}

int ticks(const Axis& axis) {
  return static_cast<int>(std::floor((axis.to - axis.from) / axis.step + 1e-9));
}

std::string axes(const LineChart& chart) {
  std::string text;
  for (int i = 0; i <= ticks(chart.x); ++i) {
    const double value = chart.x.from + i * chart.x.step;
    const double x = placed(chart.x, value, kPlotLeft, kPlotRight);
    text += stroke(x, kPlotTop, x, kPlotBottom, "stroke=\"#dddddd\"");
    text += words(x, kPlotBottom + 18, fixed_text(value, chart.x.decimals), " text-anchor=\"middle\"");
  }
  for (int i = 0; i <= ticks(chart.y); ++i) {
    const double value = chart.y.from + i * chart.y.step;
    const double y = placed(chart.y, value, kPlotBottom, kPlotTop);
    text += stroke(kPlotLeft, y, kPlotRight, y, "stroke=\"#dddddd\"");
    text += words(kPlotLeft - 8, y + 4, fixed_text(value, chart.y.decimals), " text-anchor=\"end\"");
  }
  text += "<rect x=\"" + px(kPlotLeft) + "\" y=\"" + px(kPlotTop) + "\" width=\"" +
          px(kPlotRight - kPlotLeft) + "\" height=\"" + px(kPlotBottom - kPlotTop) +
          "\" fill=\"none\" stroke=\"#444444\"/>\n";
  text += words((kPlotLeft + kPlotRight) / 2, kPlotBottom + 40, chart.x.label, " text-anchor=\"middle\"");
  const double middle = (kPlotTop + kPlotBottom) / 2;
  text += words(18, middle, chart.y.label,
                " text-anchor=\"middle\" transform=\"rotate(-90 18 " + px(middle) + ")\"");
  return text;
}

std::string look(const Style& style) {
  std::string text = std::string("stroke=\"") + style.colour + "\" stroke-width=\"2\" fill=\"none\"";
  if (*style.dashes != '\0') text += std::string(" stroke-dasharray=\"") + style.dashes + "\"";
  return text;
}

std::string curve(const LineChart& chart, const Series& series, const Style& style) {
  std::string text = "<polyline points=\"";
  for (const Point2& point : series.points) {
    text += px(placed(chart.x, point.x, kPlotLeft, kPlotRight)) + "," +
            px(placed(chart.y, point.y, kPlotBottom, kPlotTop)) + " ";
  }
  if (!series.points.empty()) text.pop_back();
  return text + "\" clip-path=\"url(#plot)\" " + look(style) + "/>\n";
}

void check(const LineChart& chart) {
  if (chart.series.size() > kMostSeries)
    throw std::invalid_argument("more lines than a chart can tell apart");
  for (const Axis& axis : {chart.x, chart.y}) {
    if (!(axis.to > axis.from) || !(axis.step > 0)) throw std::invalid_argument("an axis has no extent");
  }
}

}  // namespace

std::string line_chart_svg(const LineChart& chart) {
  check(chart);
  const double height = kPlotBottom + 58 + kLineHeight * static_cast<double>(chart.caption.size());
  std::string text = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"" + px(kWidth) + "\" height=\"" +
                     px(height) + "\" viewBox=\"0 0 " + px(kWidth) + " " + px(height) +
                     "\" font-family=\"sans-serif\" font-size=\"12\" fill=\"#222222\">\n";
  text += "<rect width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>\n";
  text += "<clipPath id=\"plot\"><rect x=\"" + px(kPlotLeft) + "\" y=\"" + px(kPlotTop) + "\" width=\"" +
          px(kPlotRight - kPlotLeft) + "\" height=\"" + px(kPlotBottom - kPlotTop) + "\"/></clipPath>\n";
  text += words(kPlotLeft, 26, chart.title, " font-size=\"15\" font-weight=\"bold\"");
  text += axes(chart);
  double y = kPlotTop + 12;
  for (std::size_t i = 0; i < chart.series.size(); ++i) {
    text += curve(chart, chart.series[i], kStyles[i]);
    text += stroke(kPlotRight + 14, y - 4, kPlotRight + 50, y - 4, look(kStyles[i]));
    text += words(kPlotRight + 58, y, chart.series[i].name);
    y += 22;
  }
  y = kPlotBottom + 66;
  for (const std::string& line : chart.caption) {
    text += words(kPlotLeft, y - 2, line, " font-size=\"11\" fill=\"#555555\"");
    y += kLineHeight;
  }
  return text + "</svg>\n";
}

}  // namespace linkmargin::validation
