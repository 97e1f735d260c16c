#pragma once

#include "linkmargin/base/result.hpp"
#include "linkmargin/exchange/drawing.hpp"

#include <array>
#include <optional>
#include <string>
#include <string_view>

namespace linkmargin::exchange {

/// A unit that a drawing may be in.
struct DrawingUnit {
  std::string_view word;  ///< as it is typed: "mm"
  double metres = 1;
  int dxf_code = 0;  ///< value of the header variable $INSUNITS
};

/// The units that a plan may be drawn in.
inline constexpr std::array<DrawingUnit, 6> kDrawingUnits{
    {{"mm", 0.001, 4}, {"cm", 0.01, 5}, {"dm", 0.1, 14}, {"m", 1, 6}, {"in", 0.0254, 1}, {"ft", 0.3048, 2}}};

/// Brings a drawing to metres.
/// @param unit_m  instead of the drawing's own unit; absent: that one
/// @param file_name  as the person named it, for the fault
/// @return a fault that asks for the unit, where neither is known
Result<Drawing> in_metres(Drawing drawing, std::optional<double> unit_m, const std::string& file_name);

}  // namespace linkmargin::exchange
