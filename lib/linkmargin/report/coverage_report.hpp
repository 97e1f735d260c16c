#pragma once

#include "linkmargin/analysis/coverage/coverage.hpp"
#include "linkmargin/messages/language.hpp"
#include "linkmargin/report/document/document.hpp"
#include "linkmargin/report/document/write_csv.hpp"

#include <string>

namespace linkmargin {

/// For people: what share of the rooms is weak, and each room's lowest and median value, the worst room
/// first.
Document coverage_document(const Language& language, const Site& site, const CoverageMap& map,
                           CoverageValue value);

/// One row a cell, all its values, cells in rows from the lower left. What is not finite is empty.
std::string coverage_csv(const CoverageMap& map, const CsvStyle& style = {});

/// The frame of the grid, what the map is of, and one value a cell, in rows from the lower left: decibels
/// with 2 decimals, percentages with 1, chances with 3; with several hubs the position of each cell's hub
/// too.
std::string coverage_json(const Language& language, const Site& site, const CoverageMap& map,
                          CoverageValue value);

}  // namespace linkmargin
