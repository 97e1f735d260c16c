#pragma once

#include "linkmargin/report/plan/floor_plan.hpp"

#include "support/arguments.hpp"

#include <optional>

namespace linkmargin::cli {

/// The picture of --under, where --scale and --origin put it; nothing without --under.
/// @throws Failure where the picture cannot be read, is too large or neither PNG nor JPEG, and where an
/// option is wrong or missing
std::optional<PlanPicture> plan_under(const Arguments& arguments);

}  // namespace linkmargin::cli
