#pragma once

#include "linkmargin/report/page/html.hpp"
#include "linkmargin/report/page/page_options.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <string>

// Inside report/ only: what stands about the content of every page.
namespace linkmargin::page {

/// From the document's type to the body's begin, with the style within.
/// @param site  that the window's title names
void open_page(html::Writer& out, const Wording& wording, const std::string& site, Reader reader);

/// The kind of the page and its heading.
void write_heading(html::Writer& out, const Wording& wording, const std::string& heading, Reader reader);

/// @param words  of when and by what it was made
void write_footer(html::Writer& out, const std::string& words);

/// The ends of what open_page() opened.
void close_page(html::Writer& out);

}  // namespace linkmargin::page
