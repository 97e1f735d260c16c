#pragma once

#include "linkmargin/site/edit/edit_value.hpp"

namespace linkmargin {

/// The site with all edits made, in their order. What may be set, and what each value must be, is a table of
/// patterns (edit_target.cpp) and the tables of keys (site/schema); docs/site-file/changes.md lists them.
/// @return the new site, sound by validate(), or every fault of the edits: a path that leads nowhere, with
/// the
///         nearest name; a value of another kind, or outside its range of site/limits.hpp; a name taken.
///         Where no single edit is at fault but the new site is, the faults of validate(). The path of a
///         fault is the edit's.
Result<Site> edited_site(const Site& site, std::span<const Edit> edits);

/// Every pattern and key that an edit may set, as JSON Pointers with '*' for a name.
std::vector<std::string> editable_paths();

/// The shortest decimal text of a plan coordinate that snaps to the same place of the grid: "0.1" for
/// 0.0999755859375, at most four decimals.
/// @param coordinate_m  within kCoordinateM
std::string coordinate_text(double coordinate_m);

}  // namespace linkmargin
