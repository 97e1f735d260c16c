#pragma once

#include "linkmargin/report/page/gauge.hpp"
#include "linkmargin/report/page/page_model.hpp"
#include "linkmargin/report/paper/block.hpp"

// Inside report/ only: the drawings of a page as they stand on paper.
namespace linkmargin::paper {

/// Ink of a standing, and a tint of it to lie under texts.
const char* standing_colour(page::Standing standing);
const char* standing_tint(page::Standing standing);

/// What the drawings refer to, once a page.
std::string definitions(const page::PageModel& content);

/// The sign of a standing with a side of `size_px`.
void draw_standing(svg::Writer& out, const page::PageModel& content, page::Standing standing, Point2 at,
                   double size_px);

/// A bar from 0 to 100 % as page::gauge_drawing() has it, with its figures; adds to the block's height.
void add_gauge(Block& block, const page::PageModel& content, const page::Gauge& gauge);

}  // namespace linkmargin::paper
