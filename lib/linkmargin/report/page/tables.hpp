#pragma once

#include "linkmargin/report/document/document.hpp"
#include "linkmargin/report/page/html.hpp"
#include "linkmargin/report/page/page_model.hpp"

#include <string>
#include <string_view>
#include <vector>

// Inside report/ only: the parts of a page that set many devices or cases beside each other.
namespace linkmargin::page {

/// What was read of a device, in the place of what is expected: "38 % read".
std::string read_figure(const PageModel& content, double percent);

/// One with its title, to be closed.
void open_section(html::Writer& out, const std::string& id, const std::string& title);

/// A figure in a row.
void write_figure(html::Writer& out, const std::string& text);

/// A table whose rows follow; where it is wider than the page it scrolls in a frame that keys reach.
/// @param figures  all columns but the first are figures
void open_table(html::Writer& out, const std::string& caption, const std::vector<std::string>& titles,
                const std::string& css_class = "lines", bool figures = true);
void close_table(html::Writer& out);

/// Every device in a line; what to tap for its card.
void write_overview(html::Writer& out, const PageModel& content);

/// How far remotes work in areas, and how many slots of hubs and repeaters are used, what is not enough
/// marked as weak.
BulletList areas_and_hubs(const PageModel& content);
std::string areas_and_hubs_title(const PageModel& content);

/// Areas from which remotes are pressed, hubs and repeaters with their slots; nothing where there are
/// neither.
void write_areas_and_hubs(html::Writer& out, const PageModel& content);

/// What is lost if one hub or repeater fails; nothing where the review did not look.
void write_failures(html::Writer& out, const PageModel& content);

/// Before and after; nothing where no site before was given.
void write_before(html::Writer& out, const PageModel& content);

/// Readings against what is predicted; nothing where none was given.
void write_readings(html::Writer& out, const PageModel& content);

}  // namespace linkmargin::page
