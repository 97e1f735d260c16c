#pragma once

#include "linkmargin/report/plan/plan_framing.hpp"

#include "support/arguments.hpp"

#include <span>
#include <string>

namespace linkmargin::cli {

/// Whether a format is a drawing: svg, png or pdf.
bool is_picture(const std::string& format);

/// Whether a format is a drawing that the module draws: png or pdf.
bool is_rendered(const std::string& format);

/// Once the faults of the file are told, and before any work, so that nobody waits for what cannot be
/// written. Does nothing for other formats than png and pdf. @throws Failure where the module that draws them
/// is not there
void require_picture(const std::string& format);

/// A drawing as the format wants it: svg as it is. @throws Failure as above, and where it cannot be drawn
std::string picture(std::string svg, const std::string& format);

/// What --frame says.
PlanFraming plan_framing(const Arguments& arguments);

/// Pages, each an SVG, as one PDF. @param title  of the document. @throws Failure as above
std::string paged_pdf(std::span<const std::string> pages, const std::string& title);

}  // namespace linkmargin::cli
