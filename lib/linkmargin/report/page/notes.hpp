#pragma once

#include "linkmargin/report/page/html.hpp"
#include "linkmargin/report/page/page_model.hpp"

// Inside report/ only: the last part of a page, what its figures rest on.
namespace linkmargin::page {

/// Method, assumptions, tables with their sources, cautions, date and program.
void write_notes(html::Writer& out, const PageModel& content);

}  // namespace linkmargin::page
