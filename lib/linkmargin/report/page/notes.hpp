#pragma once

#include "linkmargin/report/page/html.hpp"
#include "linkmargin/report/page/page_model.hpp"

#include <string>
#include <utility>
#include <vector>

// Inside report/ only: the last part of a page, what its figures rest on.
namespace linkmargin::page {

/// Cautions of this site, each once; for the file those of the maps too.
std::vector<std::string> site_notes(const PageModel& content);

/// How the figures were calculated, a paragraph each.
std::vector<std::string> method_notes(const PageModel& content);

/// What was assumed: names and values.
std::vector<std::pair<std::string, std::string>> assumptions(const PageModel& content);

/// Method, assumptions, tables with their sources, cautions, date and program.
void write_notes(html::Writer& out, const PageModel& content);

}  // namespace linkmargin::page
