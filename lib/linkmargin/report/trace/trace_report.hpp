#pragma once

#include "linkmargin/exchange/tracing/traced_plan.hpp"
#include "linkmargin/messages/language.hpp"
#include "linkmargin/report/document/document.hpp"

#include <string>

namespace linkmargin {

/// What was traced from a drawing, what to check of it, and what of the drawing was left out.
/// @param source  the file of the drawing
Document trace_document(const Language& language, const exchange::TracedPlan& plan,
                        const std::string& source);

}  // namespace linkmargin
