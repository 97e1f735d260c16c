#include "linkmargin/site/building.hpp"
#include "linkmargin/site/edit/edit_keys.hpp"
#include "linkmargin/site/limits.hpp"

namespace linkmargin::edits {
namespace {

/// The keys of a noun that has a construction.
template <typename Noun>
EditKey<Noun> material_key() {
  return {"material",
          NameKey<Noun>{[](Noun& noun, const std::string& name) { noun.construction.material = name; }}};
}

template <typename Noun>
EditKey<Noun> thickness_key() {
  return {"thickness_m", NumberKey<Noun>{&limits::kThicknessM,
                                         [](Noun& noun, double m) { noun.construction.thickness_m = m; }}};
}

}  // namespace

template <>
std::span<const EditKey<Storey>> edit_keys() {
  static const EditKey<Storey> keys[] = {
      {"level_m",
       NumberKey<Storey>{&limits::kLevelM, [](Storey& s, double level_m) { s.level_m = level_m; }}},
      {"height_m", NumberKey<Storey>{&limits::kStoreyHeightM, [](Storey& s, double m) { s.height_m = m; }}}};
  return keys;
}

template <>
std::span<const EditKey<Construction>> edit_keys() {
  static const EditKey<Construction> keys[] = {
      {"material",
       NameKey<Construction>{[](Construction& c, const std::string& name) { c.material = name; }}},
      {"thickness_m",
       NumberKey<Construction>{&limits::kThicknessM, [](Construction& c, double m) { c.thickness_m = m; }}}};
  return keys;
}

template <>
std::span<const EditKey<Boundary>> edit_keys() {
  static const EditKey<Boundary> keys[] = {material_key<Boundary>(), thickness_key<Boundary>()};
  return keys;
}

template <>
std::span<const EditKey<TracedWall>> edit_keys() {
  using Wall = TracedWall;
  static const EditKey<Wall> keys[] = {
      {"from_m", PointKey<Wall>{[](Wall& wall, Point2 at) { wall.line.a = at; }}},
      {"to_m", PointKey<Wall>{[](Wall& wall, Point2 at) { wall.line.b = at; }}},
      material_key<Wall>(),
      thickness_key<Wall>(),
      {"height_m", NumberKey<Wall>{&limits::kHeightM, [](Wall& wall, double m) { wall.height_m = m; }}}};
  return keys;
}

template <>
std::span<const EditKey<Opening>> edit_keys() {
  static const EditKey<Opening> keys[] = {
      {"at_m", PointKey<Opening>{[](Opening& o, Point2 at) { o.at = at; }}},
      {"width_m", NumberKey<Opening>{&limits::kOpeningWidthM, [](Opening& o, double m) { o.width_m = m; }}},
      {"sill_m", NumberKey<Opening>{&limits::kSillM, [](Opening& o, double m) { o.sill_m = m; }}},
      {"height_m", NumberKey<Opening>{&limits::kHeightM, [](Opening& o, double m) { o.height_m = m; }}},
      {"leaf", NameKey<Opening>{[](Opening& o, const std::string& name) { o.leaf.material = name; }}},
      {"leaf_thickness_m",
       NumberKey<Opening>{&limits::kThicknessM, [](Opening& o, double m) { o.leaf.thickness_m = m; }}},
      {"opens", FlagKey<Opening>{[](Opening& o, bool opens) { o.opens = opens; }}}};
  return keys;
}

template <>
std::span<const EditKey<Obstacle>> edit_keys() {
  static const EditKey<Obstacle> keys[] = {
      {"base_m", NumberKey<Obstacle>{&limits::kSillM, [](Obstacle& o, double m) { o.base_m = m; }}},
      {"height_m", NumberKey<Obstacle>{&limits::kHeightM, [](Obstacle& o, double m) { o.height_m = m; }}},
      material_key<Obstacle>(),
      thickness_key<Obstacle>()};
  return keys;
}

}  // namespace linkmargin::edits
