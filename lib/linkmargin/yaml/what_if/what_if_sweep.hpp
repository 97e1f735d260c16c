#pragma once

#include "linkmargin/site/edit/what_if.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

#include <span>
#include <vector>

/// The swept values of a what-if file. Not installed.
namespace linkmargin::yaml {

/// Axes in the order of the file: a list of values, or `{from, to, step}` for numbers, both ends included.
/// Every value is tried on the site on top of every case.
/// @param cases  sound ones; the site as it is among them, as a case without edits
std::vector<SweepAxis> read_sweep(const Cursor& sweep, const Site& site, std::span<const WhatIfCase> cases,
                                  Faults& faults);

}  // namespace linkmargin::yaml
