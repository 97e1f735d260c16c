#pragma once

#include "linkmargin/report/document/document.hpp"
#include "linkmargin/site/site.hpp"

namespace linkmargin {

/// The sheet to be filled in on site: a row for each device and then for each repeater, in the order of the
/// site, with what tells where it is, and empty columns for what is read. parse_readings() reads it back
/// (docs/site-file/readings.md): `room` and `height_m` are for the reader of the sheet and say nothing
/// there.
Table readings_sheet(const Site& site);

}  // namespace linkmargin
