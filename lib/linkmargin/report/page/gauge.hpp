#pragma once

#include "linkmargin/report/page/page_model.hpp"

#include <optional>
#include <string>
#include <utility>
#include <vector>

// Inside report/ only: the bar on which a reading is shown, and what the colours and signs of maps mean.
namespace linkmargin::page {

/// What a bar on the scale of readings shows.
struct Gauge {
  double percent = 0;           ///< expected
  std::optional<double> low{};  ///< where the reading on site lies, nine times in ten
  std::optional<double> high{};
  std::optional<double> read_percent{};  ///< on site
  std::optional<double> before{};        ///< expected before something was moved
  std::string label{};                   ///< for who does not see it
};

/// A place along the bar, as SVG takes it: "41.50%".
std::string bar_at(double percent);

/// An upright line there.
std::string bar_line(const std::string& css_class, double percent, const char* from, const char* to);

/// What is expected of a device, and was read; without a label.
Gauge gauge_of(const DevicePage& entry);

/// A bar from 0 to 100 % with the line of the threshold, as an `svg` element.
std::string gauge_drawing(const PageModel& content, const Gauge& gauge);

/// What the colours of a map mean, with a line at what is needed.
std::string scale_drawing(const PageModel& content, CoverageValue value);

/// The signs of all maps of a page, as `svg` elements, each with what it means.
std::vector<std::pair<std::string, std::string>> plan_key(const PageModel& content);

}  // namespace linkmargin::page
