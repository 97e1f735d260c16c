#pragma once

#include "linkmargin/base/diagnostic.hpp"
#include "linkmargin/messages/language.hpp"
#include "linkmargin/site/site.hpp"

#include <string>

namespace linkmargin {

/// A sheet, as an SVG, that says the faults of a site file with line and column, and shows the rooms that
/// could be read: those that a fault is about in red, an opening that a fault is about where it was typed.
/// @param file  as the person named it
/// @param site  as far as it could be read, see attempt_site()
std::string fault_plan_svg(const Language& language, const std::string& file, const Diagnostics& faults,
                           const Site& site);

/// A page, as HTML, that shows a picture and fetches it anew again and again, from the same folder, without
/// any network.
/// @param picture  its path, as seen from the page
std::string reload_page(const Language& language, const std::string& file, const std::string& picture);

}  // namespace linkmargin
