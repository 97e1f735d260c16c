#pragma once

#include "linkmargin/site/edit/what_if.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

#include <optional>

/// One case of a file of cases or of a what-if file. Not installed.
namespace linkmargin::yaml {

/// A value by how it is written: a number, a switch, [x, y], else a text. Maps and the like become a fault.
std::optional<EditValue> read_plain_value(const Cursor& cursor, Faults& faults);

/// A case: `name`, and one or more of `set`, `move`, `remove`, `add`, `doors`; tried on the site. Faults of
/// the edits stand where they are written.
WhatIfCase read_case(const Cursor& cursor, const Site& site, Faults& faults);

/// Tells of every case whose name one before it has.
void report_repeated_cases(const Cursor& list, Faults& faults);

inline constexpr EnumName<bool> kDoorsWords[] = {{"armed", false}, {"open", true}};

}  // namespace linkmargin::yaml
