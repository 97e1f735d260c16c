#pragma once

#include "linkmargin/report/page/html.hpp"
#include "linkmargin/report/page/page_model.hpp"

#include <optional>
#include <string>

// Inside report/ only: the parts of a page that tell of one device.
namespace linkmargin::page {

/// Everything about one device.
void write_card(html::Writer& out, const PageModel& content, const DevicePage& entry);

}  // namespace linkmargin::page
