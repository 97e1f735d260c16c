#include "linkmargin/report/page/gauge.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/drawing/svg.hpp"
#include "linkmargin/report/page/html.hpp"
#include "linkmargin/report/page/words.hpp"

#include <algorithm>

namespace linkmargin::page {
namespace {

/// A shape about a place along the bar.
std::string mark(const std::string& css_class, double percent, const char* path) {
  return "<svg x=\"" + bar_at(percent) +
         "\" y=\"17\" overflow=\"visible\" width=\"1\" height=\"1\"><path class=\"" + css_class + "\" d=\"" +
         path + "\"/></svg>";
}

}  // namespace

std::string bar_at(double percent) {
  return fixed_text(std::clamp(percent, 0.0, 100.0), 2) + "%";
}

std::string bar_line(const std::string& css_class, double percent, const char* from, const char* to) {
  return "<line class=\"" + css_class + "\" x1=\"" + bar_at(percent) + "\" x2=\"" + bar_at(percent) +
         "\" y1=\"" + from + "\" y2=\"" + to + "\"/>";
}

Gauge gauge_of(const DevicePage& entry) {
  const Link& link = *entry.link;
  Gauge gauge{.percent = link.told().reading_percent, .read_percent = entry.read_percent};
  if (has_range(link)) {
    gauge.low = link.low_percent;
    gauge.high = link.high_percent;
  }
  return gauge;
}

std::string gauge_drawing(const PageModel& content, const Gauge& gauge) {
  std::string text = "<svg class=\"gauge\" width=\"100%\" height=\"46\" role=\"img\" aria-label=\"" +
                     svg::escaped(html::plain(gauge.label)) + "\"><rect class=\"track\" x=\"0\" y=\"12\" " +
                     "width=\"100%\" height=\"10\" rx=\"5\"/>";
  if (gauge.low && gauge.high) {
    text += "<rect class=\"range\" x=\"" + bar_at(*gauge.low) + "\" y=\"12\" width=\"" +
            bar_at(*gauge.high - *gauge.low) + "\" height=\"10\"/>";
  }
  text += bar_line("limit", content.threshold_percent(), "4", "30");
  if (gauge.before) text += mark("was", *gauge.before, "M0 -7 A7 7 0 1 0 0.01 -7 Z");
  text += mark("dot", gauge.percent, "M0 -7 A7 7 0 1 0 0.01 -7 Z");
  if (gauge.read_percent) text += mark("measured", *gauge.read_percent, "M0 -10 L8 0 L0 10 L-8 0 Z");
  const auto figure = [](double percent, const char* align, const std::string& words) {
    return "<text x=\"" + bar_at(percent) + "\" y=\"43\" text-anchor=\"" + align + "\">" + words + "</text>";
  };
  // The ends' figures stand where that of the threshold leaves them room.
  const double threshold = content.threshold_percent();
  if (threshold >= 10) text += figure(0, "start", "0");
  text += figure(threshold, "middle", content.threshold_text() + "\u00A0%");
  if (threshold <= 80) text += figure(100, "end", "100\u00A0%");
  return text + "</svg>\n";
}

}  // namespace linkmargin::page
