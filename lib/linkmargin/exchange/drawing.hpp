#pragma once

#include "linkmargin/geometry/point.hpp"

#include <compare>
#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin::exchange {

/// A line of straight pieces; arcs in it are flattened.
struct DrawnLine {
  std::vector<Point2> points;  ///< at least two, the first of a closed one not repeated
  bool closed = false;
  double width = 0;  ///< as drawn; 0: a hairline
  std::uint32_t layer = 0;
  std::string name{};  ///< of a room that it goes round; empty: none
};

/// An arc of a circle: most often the swing of a door, its hinge in the middle.
struct DrawnArc {
  Point2 centre;
  Point2 start;
  Point2 end;
  std::uint32_t layer = 0;
};

/// Words on a drawing.
struct DrawnText {
  Point2 at;
  double height = 0;
  std::string text;
  std::uint32_t layer = 0;
};

/// Why something of a drawing is not in the plan.
enum class DropReason {
  kind,           ///< a kind of thing that is not read
  hidden_layer,   ///< its layer is switched off or frozen
  paper_space,    ///< it stands on the sheet, not in the plan
  missing_block,  ///< it refers to a block that is not there
  no_role,        ///< its layer is neither of walls, doors, windows, rooms nor names
  no_wall,        ///< a door or window near no wall
};

/// What was left out of a drawing, by kind and layer.
struct Dropped {
  DropReason reason{};
  std::string kind;  ///< in the words of the file: "HATCH"
  std::string layer;
  auto operator<=>(const Dropped&) const = default;
};
using DroppedCounts = std::map<Dropped, std::size_t>;

/// One level of a building as it is drawn, in the drawing's own unit.
struct Drawing {
  std::string level{};  ///< its name; empty: the drawing does not say
  std::optional<double> level_m{};
  std::optional<double> height_m{};
  std::vector<std::string> layers{};
  std::vector<DrawnLine> lines{};
  std::vector<DrawnArc> arcs{};
  std::vector<DrawnText> texts{};
  std::optional<double> unit_m{};  ///< metres of the drawing's unit; absent: the drawing does not say
  DroppedCounts dropped{};
  std::vector<int> undecoded_lines{};  ///< lines of the file with text in a code page that is not read

  /// The position of a layer, which is added where it is new.
  std::uint32_t layer(std::string_view name);
};

/// No file of a drawing is longer.
inline constexpr std::size_t kMaxDrawingBytes = std::size_t{128} << 20U;

/// Lines, arcs and texts of a drawing with its blocks put in.
inline constexpr std::size_t kMostDrawn = 1'000'000;

/// Coordinates of a drawing, in whatever unit: the circumference of the earth in tenths of a millimetre.
inline constexpr double kMostCoordinate = 4e11;

}  // namespace linkmargin::exchange
