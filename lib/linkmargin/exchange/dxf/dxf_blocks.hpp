#pragma once

#include "linkmargin/exchange/drawing.hpp"
#include "linkmargin/exchange/dxf/dxf_entity.hpp"

#include <functional>
#include <map>
#include <set>
#include <string>
#include <vector>

/// Not installed.
namespace linkmargin::exchange::dxf {

struct Block {
  Point2 base;
  std::vector<Entity> entities;
};

/// Blocks within blocks.
inline constexpr int kMostNesting = 16;

/// What a DXF file holds, its blocks apart.
struct Contents {
  std::vector<Entity> model;
  std::map<std::string, Block, std::less<>> blocks;
  std::set<std::string, std::less<>> hidden_layers;
  TextSettings text;
};

/// The model with its blocks put in where it refers to them. Nesting deeper than kMostNesting, and more than
/// kMostDrawn things, are faults.
Drawing expanded(const Contents& contents, Faults& faults);

}  // namespace linkmargin::exchange::dxf
