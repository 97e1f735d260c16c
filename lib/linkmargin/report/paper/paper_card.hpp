#pragma once

#include "linkmargin/report/page/page_model.hpp"
#include "linkmargin/report/paper/block.hpp"

// Inside report/ only: what paper tells of one device.
namespace linkmargin::paper {

/// Reading, cause and what to try on the left; the signal path and its losses on the right.
Block device_card(const page::PageModel& content, const page::DevicePage& entry);

}  // namespace linkmargin::paper
