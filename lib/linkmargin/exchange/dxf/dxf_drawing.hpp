#pragma once

#include "linkmargin/base/result.hpp"
#include "linkmargin/exchange/drawing.hpp"

#include <string>
#include <string_view>

namespace linkmargin::exchange {

/// Reads a drawing in DXF, text form, of any version from R12: lines, polylines, arcs, texts and the blocks
/// put in, by layer, in the drawing's unit. What is not read is counted by kind and layer.
/// @param bytes      with any line ends
/// @param file_name  as the person named it, for the faults
/// @return the drawing; or the faults of the file by line: a binary file, one that is not whole, a number
/// that
///         is none, blocks nested deeper than 16 or put in too often (kMostDrawn)
Result<Drawing> parse_dxf(std::string_view bytes, const std::string& file_name);

}  // namespace linkmargin::exchange
