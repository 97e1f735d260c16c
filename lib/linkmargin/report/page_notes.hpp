#pragma once

#include "linkmargin/report/html.hpp"
#include "linkmargin/report/page_content.hpp"

// Inside report/ only: the last part of a page, what its figures rest on.
namespace linkmargin::page {

/// Method, assumptions, tables with their sources, cautions, date and program.
void write_notes(html::Writer& out, const Content& content);

}  // namespace linkmargin::page
