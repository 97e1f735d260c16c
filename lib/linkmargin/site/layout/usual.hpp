#pragma once

#include "linkmargin/site/material.hpp"

#include <map>
#include <optional>
#include <string>

/// What is usual, and need not be typed. Not installed.
namespace linkmargin::layout {

/// A kind of opening: what it has where a site says nothing else.
struct OpeningKind {
  double width_m = 0;
  double sill_m = 0;
  double height_m = 0;
  Construction leaf;
  bool opens = true;
  double contact_m = 0;  ///< where a contact hangs on its frame, above the floor
  std::string source;    ///< a publication, or "assumption"
};

/// How houses of a sort are built.
struct HouseConstruction {
  Construction outer_wall;
  Construction inner_wall;
  Construction ground_floor;  ///< the slab under the lowest storey
  Construction floor;         ///< the slab under any other
  Construction roof;
  std::string source;
};

using OpeningKinds = std::map<std::string, OpeningKind>;
using HouseConstructions = std::map<std::string, HouseConstruction>;

/// Between two storeys where the upper one states no floor or no thickness: common practice.
inline constexpr double kUsualSlabM = 0.25;

}  // namespace linkmargin::layout
