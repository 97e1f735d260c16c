#pragma once

#include "linkmargin/report/page/content.hpp"
#include "linkmargin/report/page/html.hpp"

#include <optional>
#include <string>

// Inside report/ only: the parts of a page that tell of one device.
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

/// What is expected of a device, and was read; without a label.
Gauge gauge_of(const Entry& entry);

/// A bar from 0 to 100 % with the line of the threshold, as an `svg` element.
std::string gauge_drawing(const Content& content, const Gauge& gauge);

/// Everything about one device.
void write_card(html::Writer& out, const Content& content, const Entry& entry);

}  // namespace linkmargin::page
